"""Requests of a job by API; every answer is held against the API's own description."""

import pytest

from quoting.payment_requests.models import PaymentReceived, PaymentRequest
from tests.support.asked import TERMS, asked, hall, marked
from tests.support.worked import NOW

KEY = "/api/jobs/J-0100"


@pytest.fixture(autouse=True)
def job(frozen_clock, db):
    frozen_clock.move_to(NOW)
    return hall()


def test_a_request_is_issued_once_by_its_key(office, job):
    texts = {"request_key": "r1", "part": "deposit"}
    first, again = (office.post(f"{KEY}/requests", texts) for _ in range(2))
    assert (first.status_code, again.status_code, again.json()) == (201, 200, first.json())
    assert first.json()["to_pay"] == {"price": "4920.00", "tax": "405.90", "total": "5325.90"}
    other = office.post(f"{KEY}/requests", texts | {"part": "instalment 0"})
    assert other.status_code == 409 and other.json()["errors"][0]["path"] == "request_key"


def test_what_can_be_asked_for_and_what_was_stand_in_one_answer(office, job):
    asked(job, "deposit")
    result = office.get(f"{KEY}/requests").json()
    assert [entry["part"] for entry in result["parts"]] == [
        "deposit",
        *(f"instalment {n}" for n in range(4)),
        "release",
    ]
    assert result["parts"][1]["to_pay"]["total"] == "2263.51" and result["parts"][1]["event_on"] is None
    assert (result["open"], result["billed"], result["ahead"]) == ("5325.90", "4920.00", "0.00")


def test_an_event_is_marked_and_taken_back(office, job):
    texts = {"request_key": "e1", "part": "instalment 0", "happened_on": "2026-11-24"}
    mark = office.post(f"{KEY}/events", texts).json()
    assert mark["event"] == "Framing up"
    back = office.post(f"{KEY}/events/{mark['id']}/undo", {"reason": "The other site"}).json()
    assert back["taken_back_by"] and office.post(f"{KEY}/requests", texts | {"request_key": "r"}).status_code == 400


def test_a_request_is_credited_read_and_not_sent_without_its_paper(office, job):
    asked(job, "deposit")
    mail = office.post(f"{KEY}/requests/1/mails", {"request_key": "m", "to_address": "ada@client.invalid"})
    assert mail.status_code == 409 and "is not made yet" in mail.json()["detail"]
    credit = office.post(f"{KEY}/requests/1/credit", {"request_key": "c", "reason": "Wrong sum"}).json()
    assert (credit["credits"], credit["to_pay"]["total"]) == (1, "-5325.90")
    assert office.get(f"{KEY}/requests/1").json()["state"] == "credited"
    assert office.get(f"{KEY}/requests/1/paper").json()["state"] == "waiting"


def test_the_owner_alone_sets_terms_and_what_is_held_back(asker, office, job):
    owner = asker("owner")
    held = {"share": "0.1", "event": "Two years"}
    assert office.as_read("PUT", f"{KEY}/retention", held).status_code == 403
    assert owner.as_read("PUT", f"{KEY}/retention", held).json()["share"] == "0.1"
    assert owner.as_read("PUT", "/api/request-terms", TERMS | {"days_to_pay": 30}).json()["days_to_pay"] == 30
    assert owner("PUT", "/api/request-terms", TERMS).status_code == 428


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ({"part": "deposit"}, "request_key"),
        ({"request_key": "k"}, "part"),
        ({"request_key": "k", "part": "deposit", "due": "2026-11-24"}, "due"),
        ({"request_key": "k", "part": "deposit", "due": "2027-11-30"}, "due"),
        ({"request_key": "k", "part": "deposit", "shown": "NaN"}, "shown"),
        ({"request_key": "k", "part": "deposit", "shown": "1.001"}, "shown"),
        ({"request_key": "k", "part": "deposit", "amount": "1.00"}, "amount"),
    ],
)
def test_a_wrong_entry_is_named(text, path, office, job):
    refused = office.post(f"{KEY}/requests", text)
    assert refused.status_code == 400 and refused.json()["errors"][0]["path"] == path


def test_a_statement_has_every_entry_with_its_balance(office, job):
    asked(job, "deposit")
    office.post(f"{KEY}/payments", {"request_key": "p", "amount": "5000.00"})
    result = office.get(f"/api/clients/{job.client_id}/statement").json()
    assert [(entry["asked"], entry["paid"], entry["balance"]) for entry in result["jobs"][0]["entries"]] == [
        ("5325.90", None, "5325.90"),
        (None, "5000.00", "325.90"),
    ]


def test_money_asked_for_reaches_neither_lead_nor_estimator(lead, estimator, job):
    asked(job, "deposit")
    for path in ("requests", "requests/1", "requests/1/paper", "requests/1/mails", "retention", "payments"):
        for person in (lead, estimator):
            assert person.get(f"{KEY}/{path}").status_code == 403, path
    assert lead.get(f"/api/clients/{job.client_id}/statement").status_code == 403


def test_no_event_no_request_by_api_either(office, job):
    refused = office.post(f"{KEY}/requests", {"request_key": "r", "part": "instalment 0"})
    assert refused.status_code == 409 and "has not been marked" in refused.json()["detail"]
    marked(job, "instalment 0")
    assert office.post(f"{KEY}/requests", {"request_key": "r", "part": "instalment 0"}).status_code == 201


WRONG = [
    "x" * 5000,
    "\x00",
    "\u202e5",
    "9" * 400,
    "1e400",
    "-1",
    "NaN",
    "٣",
    10**30,
    -1,
    True,
    [],
    {},
    "instalment 9999",
]


@pytest.mark.parametrize("value", WRONG, ids=lambda value: ascii(value)[:12])
def test_whatever_is_sent_the_answer_is_a_sentence_and_nothing_is_kept(value, office, asker, job):
    owner, key = asker("owner"), {"request_key": "k"}
    calls = [
        (office, "POST", f"{KEY}/requests", key | {"part": "deposit", name: value}) for name in ("part", "due", "shown")
    ]
    calls += [
        (office, "POST", f"{KEY}/events", key | {"part": "instalment 0", name: value})
        for name in ("part", "happened_on")
    ]
    calls += [(office, "POST", f"{KEY}/payments", key | {"amount": value})]
    calls += [
        (owner, "PUT", f"{KEY}/retention", {"share": "0.1", "event": "Later", name: value})
        for name in ("share", "event")
    ]
    calls += [(owner, "PUT", "/api/request-terms", TERMS | {name: value}) for name in ("days_to_pay", "how_to_pay")]
    for asking, method, path, text in calls:
        answer = asking.as_read(method, path, text) if method == "PUT" else asking(method, path, text)
        assert answer.status_code in (400, 409) or (path.endswith(("retention", "terms")) and answer.status_code == 200)
    assert not PaymentRequest.objects.exists() and not PaymentReceived.objects.exists()
