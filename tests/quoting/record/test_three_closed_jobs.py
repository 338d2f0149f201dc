"""Three closed jobs through rows, services, page and API: trim by the foot, boards on a curve, waste of board.

What was agreed is laid down, since no wall takes just these quantities; hours, orders, receipts and what was left over
are rows. Expected figures were worked out apart from the program.
"""

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from catalog.core.ground.units import convert
from catalog.models import Material, Standard
from jobs.core.schedule.hours import StepQuantities
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import QuoteRevision
from quoting.record.services import records
from quoting.record.services.agreed import Agreed
from quoting.record.services.leaving_out import count_left_over
from quoting.record.services.suggesting import suggestion_of
from tests.support.closed import BOARD, boards_came, closed_job, spend
from tests.support.worked import NOW, TODAY

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
D = Decimal
TOLERANCE = D("0.0001")
FOOT = D("0.3048")
TRIM, CURVE, WASTE = "trim_hours_per_m", "curve_factor", f"waste {BOARD}"
# ft of trim and its hours, sq ft of board with its hours, sheets of 32 sq ft: 1,216, 928 and 1,568 sq ft came.
JOBS = {
    "K-1": ("62", "26", "1040", "55", 38),
    "K-2": ("48.5", "18.5", "820", "41", 29),
    "K-3": ("80", "33.5", "1400", "70.5", 49),
}
SHORT_TRIM = {"K-4": ("30", "27", None, None, 0)}


@pytest.fixture
def lay_down(monkeypatch, frozen_clock):
    frozen_clock.move_to(NOW)
    agreed = {}
    monkeypatch.setattr(records, "agreed_of", lambda pk, mark: agreed[QuoteRevision.objects.get(pk=pk).quote.job.key])

    def lay(jobs):
        for place, (key, (feet, trim, area, boards, sheets)) in enumerate(jobs.items()):
            job = closed_job(key, date(2026, 11, 20 + place))
            agreed[key] = _agreed(feet, area)
            spend(job, "trim", D(trim))
            if area is not None:
                spend(job, "boards", D(boards))
                boards_came(job, sheets)
                count_left_over(job, {"left_over": {BOARD: "0"}}, Signature("O. Owner", TODAY), now=NOW)
        # 0.35 h a foot, 33 h a thousand square feet on a flat wall, 1.40 times that on a curve, a tenth of waste.
        for name, value in ((TRIM, D("0.35") / FOOT), (CURVE, D("1.40")), ("board_hours_per_1000sqft", D(33))):
            Standard.objects.filter(name=name).update(value=value)
        Material.objects.filter(code=BOARD).update(waste=D("0.10"))

    return lay


def _agreed(feet, area):
    steps = [StepQuantities("trim", {TRIM: float(D(feet) * FOOT)}, False)]
    if area is None:
        return Agreed(tuple(steps), {}, 0)
    steps.append(StepQuantities("boards", {"board_hours_per_1000sqft": float(D(area) / 1000)}, True))
    return Agreed(tuple(steps), {BOARD: float(convert(D(area), "sqft", "sqm"))}, 0)


# Standard, what a foot or 1 is in its unit, suggested, typical, errors of the standard and of the suggestion.
WORKED = [
    (TRIM, FOOT, "0.3827", "0.4061", "11.33", "6.45"),
    (CURVE, D(1), "1.4867", "1.5474", "15.89", "8.15"),
    (WASTE, D(1), "0.1239", "0.1401", "126.00", "73.47"),
]


@pytest.mark.parametrize(("standard", "unit", "value", "typical", "was_off", "off"), WORKED)
def test_three_jobs_suggest_the_worked_standards(lay_down, standard, unit, value, typical, was_off, off):
    lay_down(JOBS)
    suggestion = suggestion_of(standard)
    assert suggestion.is_offered and [entry.job for entry in suggestion.lesson.used] == ["K-1", "K-2", "K-3"]
    assert abs(suggestion.value * unit - D(value)) <= TOLERANCE
    assert abs(suggestion.typical * unit - D(typical)) <= TOLERANCE
    assert abs(suggestion.lesson.error_was - D(was_off)) <= D("0.005") + TOLERANCE
    assert abs(suggestion.lesson.error - D(off)) <= D("0.005") + TOLERANCE


def test_trim_that_took_27_hours_for_30_feet_is_left_out_and_says_why(lay_down):
    lay_down(JOBS | SHORT_TRIM)
    suggestion = suggestion_of(TRIM)
    # 27 / (30 x 0.35) = 2.571
    ((entry, why),) = suggestion.lesson.left_out
    assert (entry.job, why) == ("K-4", "more than twice the standard")
    assert abs(entry.ratio - D("2.571")) < D("0.001") and abs(suggestion.value * FOOT - D("0.3827")) <= TOLERANCE


def test_two_jobs_alone_suggest_nothing(lay_down):
    lay_down({key: JOBS[key] for key in ("K-1", "K-2")})
    for standard in (TRIM, CURVE, WASTE):
        suggestion = suggestion_of(standard)
        assert (suggestion.is_offered, suggestion.lesson.why_not) == (False, "2 of 3 jobs")


def test_the_api_says_the_same(lay_down, asker):
    lay_down(JOBS | SHORT_TRIM)
    text = {entry["standard"]: entry for entry in asker("owner").get("/api/standards/suggested").json()["suggested"]}
    for standard, unit, value, typical, was_off, off in WORKED:
        each = text[standard]
        assert each["offered"] and [job["job"] for job in each["jobs"]] == ["K-1", "K-2", "K-3"]
        assert abs(D(each["value"]) * unit - D(value)) <= TOLERANCE
        assert abs(D(each["typical"]) * unit - D(typical)) <= TOLERANCE
        assert abs(D(each["error_was"]) - D(was_off)) <= D("0.006") and abs(D(each["error"]) - D(off)) <= D("0.006")
    assert text[TRIM]["left_out"] == [{"job": "K-4", "reason": "more than twice the standard"}]


def test_the_page_of_the_own_record_says_the_same(lay_down, asker):
    lay_down(JOBS | SHORT_TRIM)
    owner = asker("owner")
    owner.client.force_login(owner.person)
    page = owner.client.get(reverse("learnt")).content.decode()
    # The page shows errors to a tenth; trim by the metre: 0.3827 / 0.3048 = 1.2556.
    for figure in ("1.255", "1.4867", "12.39 %", "14.01 %", "11.3", "15.9", "126.0", "73.5", "K-4"):
        assert figure in page
    assert "more than twice the standard" in page.lower()


def test_the_page_and_the_api_offer_nothing_of_two_jobs(lay_down, asker):
    lay_down({key: JOBS[key] for key in ("K-1", "K-2")})
    owner = asker("owner")
    owner.client.force_login(owner.person)
    page = owner.client.get(reverse("learnt")).content.decode()
    text = owner.get("/api/standards/suggested").json()["suggested"]
    assert "2 of 3 jobs" in page and not any(entry["offered"] for entry in text)
