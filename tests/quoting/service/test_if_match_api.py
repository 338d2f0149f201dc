"""What counts no versions of its own is changed by API from what was read, as jobs and walls are."""

import pytest

from tests.support.asking import reasons

MATERIAL, SUPPLIER = "/api/catalog/materials/GB-14", "/api/catalog/suppliers/HENNOCK"
TERMS = {"claim_days": 5, "source": "telephone", "stated_on": "2026-10-01"}
SENTENCE = {"block": "cautions", "text": "Dust.", "starts_on": "2026-11-01"}
NOTICE = {"place": "Reach", "language": "en", "version": "1", "title": "N", "text": "T", "starts_on": "2026-11-01"}
# Where it is read, how it is changed by the first, and what the second sends.
CHANGES = {
    "client": ("/api/clients/{client}", "PUT", "", {"name": "A"}, {"name": "B"}),
    "client deleted": ("/api/clients/{client}", "PUT", "", {"name": "A"}, None),
    "material": (MATERIAL, "PATCH", "", {"waste": "0.2"}, {"note": "Dry."}),
    "order terms": (SUPPLIER, "PUT", "/order-terms", TERMS, TERMS | {"claim_days": 7}),
    "order terms removed": (SUPPLIER, "PUT", "/order-terms", TERMS, None),
    "sentence": ("/api/texts", "PUT", "/sentences/dust", SENTENCE, SENTENCE | {"text": "No dust."}),
}


@pytest.mark.parametrize("noun", CHANGES)
def test_a_change_names_what_it_was_made_from(noun, estimator, dental):
    read, method, at, first, second = CHANGES[noun]
    read = read.format(client=dental.client_id)
    mark = estimator.get(read)["ETag"]
    assert estimator(method, read + at, first).status_code == 428
    assert estimator(method, read + at, first, If_Match=mark).status_code == 200
    stands = estimator.get(read)
    late = estimator(method if second else "DELETE", read + at, second, If_Match=mark)
    assert (late.status_code, set(reasons(late))) == (412, {"If-Match"})
    assert estimator.get(read).json() == stands.json()
    again = estimator(method if second else "DELETE", read + at, second, If_Match=stands["ETag"])
    assert again.status_code in (200, 204, 400)
    assert again.status_code != 400 or "client" in reasons(again)


def test_an_answer_carries_the_mark_the_next_change_is_made_from(estimator, dental):
    first = estimator.as_read("PUT", "/api/texts/sentences/dust", SENTENCE, of="/api/texts")
    later = estimator("PUT", "/api/texts/sentences/dust", SENTENCE | {"text": "D."}, If_Match=first["ETag"])
    notice = estimator.post("/api/texts/notices", NOTICE, If_Match=later["ETag"])
    assert (later.status_code, notice.status_code) == (200, 201)
    gone = f"/api/texts/notices/{notice.json()['id']}"
    assert estimator("DELETE", gone, If_Match=later["ETag"]).status_code == 412
    assert estimator("DELETE", gone, If_Match=notice["ETag"]).status_code == 204


def test_a_price_entered_meanwhile_makes_a_change_of_its_material_late(estimator, dental):
    mark, packs = (lambda read: (read["ETag"], read.json()["packs"]))(estimator.get(MATERIAL))
    packs[0]["prices"] = [{"amount": "99.00", "starts_on": "2026-01-01"}]
    estimator("PATCH", MATERIAL, {"packs": packs}, If_Match=mark)
    assert estimator("PATCH", MATERIAL, {"waste": "0.3"}, If_Match=mark).status_code == 412
