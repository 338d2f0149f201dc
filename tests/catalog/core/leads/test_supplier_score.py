"""A supplier's score counted by hand, and its counts adding up."""

from datetime import date, timedelta

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.workdays import WorkCalendar
from catalog.core.leads.supplier_score import ScoredReceipt, supplier_score

MILL = WorkCalendar("mill", frozenset({date(2027, 1, 18)}))
MONDAY = date(2027, 1, 11)
days = st.integers(-20, 20).map(lambda apart: MONDAY + timedelta(days=apart))
receipts = st.lists(st.builds(ScoredReceipt, days, st.none() | days, st.booleans(), st.booleans()), max_size=20)


def test_a_score_is_counted_in_the_suppliers_working_days() -> None:
    # By hand, the mill being closed on Mon 18 Jan: Tue 19 is 5 of its days after Mon 11, Fri 8 one before.
    came = [
        ScoredReceipt(date(2027, 1, 19), MONDAY, damaged=True),
        ScoredReceipt(date(2027, 1, 12), MONDAY),
        ScoredReceipt(date(2027, 1, 8), MONDAY),
        ScoredReceipt(MONDAY, MONDAY, wrong=True),
        ScoredReceipt(MONDAY),
    ]
    score = supplier_score(came, MILL)
    assert (score.receipts, score.promised, score.kept) == (5, 4, 2)
    assert (score.early, score.on_the_day, score.late) == (1, 1, 2)
    assert (score.median_early_workdays, score.median_late_workdays) == (1, 3)
    assert (score.damaged, score.wrong) == (1, 1)


def test_what_comes_on_the_saturday_after_is_a_day_late() -> None:
    assert supplier_score([ScoredReceipt(date(2027, 1, 9), date(2027, 1, 8))], MILL).median_late_workdays == 1


def test_with_nothing_come_there_is_no_median() -> None:
    score = supplier_score([], MILL)
    assert (score.receipts, score.median_early_workdays, score.median_late_workdays) == (0, None, None)


@settings(max_examples=60, deadline=None)
@given(receipts)
def test_counts_match_the_receipts_and_medians_those_of_numpy(came: list[ScoredReceipt]) -> None:
    score = supplier_score(came, MILL)
    assert score.receipts == len(came)
    assert score.early + score.on_the_day + score.late == score.promised <= score.receipts
    closed = np.array(["2027-01-18"], dtype="datetime64[D]")
    late = [
        # busday_count counts from the first day on and leaves out the last; ours leaves out the first.
        max(
            1,
            int(
                np.busday_count(receipt.promised_on + timedelta(1), receipt.received_on + timedelta(1), holidays=closed)
            ),
        )
        for receipt in came
        if receipt.promised_on is not None and receipt.received_on > receipt.promised_on
    ]
    assert score.median_late_workdays == (float(np.median(late)) if late else None)
