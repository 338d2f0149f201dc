"""Holds on releasing an order line. Which facts hold a line is the firm's own rule; the sentence of an order that is
not ready while a statement is missing stands in the trade rules on trim."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from jobs.core.measure.dimension_holds import Hold
from jobs.core.measure.findings import Finding
from jobs.core.ordering.release import JobStanding, LineStanding, ReleaseHold, open_after, release_holds

TODAY = date(2027, 6, 1)
READY = JobStanding(accepted=True, field_checked_on=date(2027, 5, 28))
CUSTOM = LineStanding("custom_made", "radius")


def keys(line: LineStanding, job: JobStanding, today: date = TODAY) -> list[str]:
    return [hold.key for hold in release_holds(line, job, today)]


def dimension(weight: str, place: str = "pieces[0].rise") -> Hold:
    finding = Finding(f"nook/trim-1/release/{place}", weight, "The rise is only assumed.")  # type: ignore[arg-type]
    return Hold("nook/trim-1", "Base", "BASE", place, "rise", finding)


def test_a_line_with_everything_in_order_has_no_hold() -> None:
    assert keys(CUSTOM, READY) == []


def test_without_an_accepted_quote_nothing_else_of_the_job_is_asked() -> None:
    owed = JobStanding(accepted=False, deposit_due=Decimal(100), field_checked_on=TODAY)
    assert keys(CUSTOM, owed) == ["quote"]


def test_the_window_holds_through_its_last_day() -> None:
    # Signed Fri 28 May 2027, three business days with Saturdays: until Wed 2 June (worked examples, childcare).
    job = JobStanding(accepted=True, window_until=date(2027, 6, 2), field_checked_on=TODAY)
    assert keys(CUSTOM, job, date(2027, 6, 2)) == ["window"]
    assert keys(CUSTOM, job, date(2027, 6, 3)) == []


def test_a_deposit_holds_until_its_last_cent_is_in() -> None:
    due = Decimal("9864.58")
    short = JobStanding(True, None, due, Decimal("9864.57"), TODAY)
    assert "0.01 is not in" in release_holds(CUSTOM, short, TODAY)[0].sentence
    assert keys(CUSTOM, JobStanding(True, None, due, due, TODAY)) == []


def test_only_a_piece_made_to_a_radius_waits_for_the_field_check() -> None:
    unchecked = JobStanding(accepted=True)
    assert keys(CUSTOM, unchecked) == ["field_check"]
    assert keys(LineStanding("custom_made", "profile"), unchecked) == []
    assert keys(LineStanding("stocked", "radius"), unchecked) == []


def test_a_hold_that_was_decided_does_not_hold_again() -> None:
    line = LineStanding("custom_made", "radius", holds=(dimension("caution"), dimension("decide", "pieces[1].rise")))
    assert keys(line, READY) == ["dimension/nook/trim-1/release/pieces[1].rise"]


def test_neither_a_missing_statement_nor_a_missing_template_can_be_set_aside() -> None:
    line = LineStanding(
        "custom_made", "template", missing=("The size is not known.",), holds=(dimension("gap", "template"),)
    )
    holds = release_holds(line, JobStanding(accepted=False), TODAY)
    assert [hold.kind for hold in holds] == ["quote", "data", "template"]
    assert [hold.kind for hold in open_after(holds, "The mill shuts on Friday.")] == ["data", "template"]
    assert open_after(holds, "   ") == holds


def test_a_sample_waits_for_one_person_before_and_another_after_it_is_shown() -> None:
    steps = [
        release_holds(LineStanding("custom_made", "profile", sample=state), READY, TODAY)[0].step  # type: ignore[arg-type]
        for state in ("to_ask", "asked")
    ]
    assert steps == ["estimator", "office"]
    assert keys(LineStanding("custom_made", "profile", sample="approved"), READY) == []


def test_a_hold_of_no_known_kind_or_without_a_sentence_is_refused() -> None:
    with pytest.raises(ValueError, match="keyed by one of"):
        ReleaseHold("weather", "It rains.", "office", True)
    with pytest.raises(ValueError, match="what it waits for"):
        ReleaseHold("deposit", " ", "office", True)
