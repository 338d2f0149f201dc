"""What may take a material's place: used alike, bending as far as the wall asks there, priced by the materials."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from html import unescape

import pytest
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Material, MaterialFact, Price
from catalog.services.catalog_file import store_book
from jobs.walls.models import TrimRun
from quoting.changes.models import ChangeDraft
from quoting.changes.services.change_drafts import draft_from_walls, save_draft
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.changes.services.draft_cautions import cautions_of
from quoting.changes.services.stand_ins import choices_of
from quoting.changes.services.substitutions import substitute
from quoting.platform import clock
from quoting.quotes.services.given_answers import Given
from tests.documents import starter
from tests.support.answered import accept, with_note_paper, with_paper
from tests.support.asking import reasons
from tests.support.worked import NOW, TODAY, estimator, issued, small_book, small_document, small_job

pytestmark = pytest.mark.django_db
PROFILES = ("BASE-514-FLEX", "BASE-THIN-MDF", "BASE-700-FLEX", "QUARTER-34-FLEX", "BASE-OAK-PRE")


def agreed(**run):
    """Six feet of a polymer base on a wall of 120 in, its materials entered as one sum."""
    profiles = {code: starter().materials[code] for code in PROFILES}
    book = replace(small_book(), suppliers=starter().suppliers, materials={**small_book().materials, **profiles})
    store_book(book, on_known="keep")
    document = small_document()
    (wall,) = document["walls"]
    base = {"name": "Base", "face": "right", "position": "base", "form": "bendable"}
    wall["trims"] = [base | {"material": "BASE-514-FLEX"} | run]
    job = small_job(walls=[wall])
    accept(with_paper(issued(job)))
    return job


def asked(job, instead, **more):
    document = {"material": "BASE-514-FLEX", "instead": instead, "reason": "The mill is out."} | more
    return substitute(job, document, by=estimator(), now=NOW, today=TODAY)[0]


def test_what_is_offered_is_used_alike_and_bends_there_with_price_radius_and_days():
    """A 16 ft stick of MDF at 22.40 is 1.40 a foot, there in 1 + 1 working days. Quarter round is used as shoe."""
    choices = choices_of(agreed(), "BASE-514-FLEX", TODAY)
    assert [offered.material.code for offered in choices.offered] == ["BASE-700-FLEX", "BASE-OAK-PRE", "BASE-THIN-MDF"]
    mdf = choices.offered[2]
    assert (mdf.price, mdf.lead_workdays, mdf.stand_in.least_radius_mm) == (Decimal("1.40"), 2, 46.875 * 25.4)
    assert [(entry.material.code, entry.why) for entry in choices.left_out] == [("QUARTER-34-FLEX", "other_use")]


def test_what_does_not_bend_to_the_radius_there_is_neither_offered_nor_taken():
    """The base lies at R 120.25 in, 1/4 in of board outside the framing; this MDF ends at 121 in."""
    job = agreed()
    limit = MaterialFact.objects.filter(material__code="BASE-THIN-MDF", name="least_radius_mm")
    limit.update(value=Decimal("3073.4"))
    choices = choices_of(job, "BASE-514-FLEX", TODAY)
    assert [offered.material.code for offered in choices.offered] == ["BASE-700-FLEX", "BASE-OAK-PRE"]
    with pytest.raises(DocumentError, match="instead: cannot take its place.*tighter than the least radius of 121.00"):
        asked(job, "BASE-THIN-MDF")
    assert not ChangeDraft.objects.exists()


def test_a_profile_that_states_no_use_or_no_limit_is_not_offered():
    job = agreed()
    Material.objects.filter(code="BASE-700-FLEX").update(profile=None)
    limit = MaterialFact.objects.filter(
        material__code="BASE-OAK-PRE", name__in=["least_radius_mm", "greatest_piece_mm"]
    )
    limit.filter(name="greatest_piece_mm").delete()
    assert [offered.material.code for offered in choices_of(job, "BASE-514-FLEX", TODAY).offered] == ["BASE-THIN-MDF"]
    limit.delete()
    choices = choices_of(job, "BASE-514-FLEX", TODAY)
    assert [offered.material.code for offered in choices.offered] == ["BASE-THIN-MDF"]
    assert choices.sentence == "Not offered: 1 for another use, 2 not known to fit."


def test_what_is_no_longer_used_or_not_had_in_the_grade_is_not_offered():
    job = agreed(grade="stain")
    Material.objects.filter(code="BASE-OAK-PRE").update(active=False)
    Material.objects.filter(code="BASE-700-FLEX").update(profile={"positions": ["base"], "grades": ["paint"]})
    assert [offered.material.code for offered in choices_of(job, "BASE-514-FLEX", TODAY).offered] == ["BASE-THIN-MDF"]


def test_materials_entered_as_one_sum_are_priced_by_what_the_takeoff_differs():
    """7 ft at 24.60 become a stick at 22.40: 149.80 less. (8,582.00 - 149.80) / 0.62 = 13,600.32, which is 241.62 under
    the 13,841.94 agreed. The client reads the reason and what takes whose place, and no remark of ours."""
    draft = asked(agreed(), "BASE-THIN-MDF").draft
    (line,) = draft.lines.all()
    assert (line.what, line.price, line.cost) == ("Screen, changed", Decimal("-241.62"), Decimal("-149.80"))
    mdf, polymer = (starter().materials[code].name for code in ("BASE-THIN-MDF", "BASE-514-FLEX"))
    assert draft.reason == f"The mill is out.\nScreen, Base: {mdf} in place of {polymer}."


def test_a_substitution_without_a_price_is_refused_by_name():
    job = agreed()
    Price.objects.filter(pack__material__code="BASE-THIN-MDF").delete()
    with pytest.raises(Refused, match="BASE-THIN-MDF.*has no price"):
        asked(job, "BASE-THIN-MDF")


def test_once_signed_and_built_a_substitution_of_one_sum_is_not_counted_again():
    job = agreed()
    draft = asked(job, "BASE-THIN-MDF").draft
    note = issue_change(draft, request_key="n", seen_version=1, by=estimator(), now=NOW, today=TODAY)
    answer_change(with_note_paper(note), Given("signed", "Ada Client"), now=NOW, today=TODAY)
    TrimRun.objects.update(material_id="BASE-THIN-MDF", form="stock")
    with pytest.raises(Refused, match="as agreed: there is nothing"):
        draft_from_walls(job, by=estimator(), now=NOW, today=TODAY)


def test_the_office_starts_a_substitution_and_sees_no_margin(client, make_person):
    job = agreed()
    client.force_login(make_person("office"))
    there = reverse("substitutions", args=[job.pk]) + "?material=BASE-514-FLEX"
    with clock.use(clock.FrozenClock(NOW + timedelta(hours=1))):
        offered = client.get(there).content.decode()
        assert "1.40 a ft, bends to 46.88 in, 2 working days" in unescape(offered)
        answer = client.post(there, {"instead": "BASE-THIN-MDF", "reason": "The mill is out."})
        draft = client.get(answer["Location"]).content.decode()
    assert "241.62" in draft and "149.80" not in draft and "Issue the change note" not in draft


def test_stand_ins_and_a_substitution_through_the_api(office):
    agreed()
    there = office.get("/api/jobs/J-0100/stand-ins/BASE-514-FLEX").json()
    assert [(entry["material"], entry["price"], entry["lead_workdays"]) for entry in there["offered"]] == [
        ("BASE-700-FLEX", "33.8", 18),
        ("BASE-OAK-PRE", "58", 34),
        ("BASE-THIN-MDF", "1.4", 2),
    ]
    assert set(reasons(office.get("/api/jobs/J-0100/stand-ins/NONE"))) == {"material"}
    given = {"material": "BASE-514-FLEX", "instead": "QUARTER-34-FLEX", "reason": "The mill is out."}
    assert set(reasons(office.post("/api/jobs/J-0100/substitutions", given))) == {"instead"}
    assert office.post("/api/jobs/J-0100/substitutions", given | {"instead": "BASE-THIN-MDF"}).status_code == 201


def test_a_substitution_typed_in_other_words_says_plainly_what_is_not_checked():
    change = {"kind": "substitution", "title": "Other base", "reason": "Asked for.", "original": "Polymer base"}
    draft = save_draft(agreed(), change | {"replacement": "Some base from the attic"}, by=estimator(), now=NOW)
    assert cautions_of(draft) == (
        "“Some base from the attic” is not in the catalog, so nobody has checked whether it bends here, what it costs "
        "and when it comes. Choose it under Substitutions instead, or check it yourself.",
    )
