"""Two owners who accept what they both saw: one takes it, the other is told; without holding the firm both would."""

import threading
from unittest import mock

import pytest

from catalog.core.ground.refusal import Refused
from catalog.models import Firm
from quoting.platform.people.signatures import Signature
from quoting.record.models import LearntStandard
from quoting.record.services import accepting
from quoting.record.services.suggesting import suggestion_of
from tests.quoting.record.test_learnt import CURVE, three
from tests.support.racing import at_once
from tests.support.racing import emptied as emptied
from tests.support.worked import NOW, TODAY

__all__ = ["three"]
pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]


def both_accept(value):
    """What each gave; both have looked at the suggestion before either writes, where nothing holds them apart."""
    met = threading.Barrier(2)

    def looked(standard):
        suggestion = suggestion_of(standard)
        try:
            met.wait(timeout=1)
        except threading.BrokenBarrierError:
            pass  # the other waits for the first to end
        return suggestion

    def accept(name):
        document = {"request_key": name, "standard": CURVE, "value": value}
        return accepting.accept_standard(document, Signature(name, TODAY), now=NOW)[1]

    with mock.patch.object(accepting, "suggestion_of", looked):
        return at_once(lambda: accept("ann"), lambda: accept("ben"))


def test_of_two_who_accept_at_once_the_second_is_told(emptied, three):
    given = both_accept(format(suggestion_of(CURVE).value, "f"))
    assert sorted(isinstance(entry, Refused) for entry in given) == [False, True]
    assert LearntStandard.objects.count() == 1


def test_without_holding_the_firm_both_would_take_it(emptied, three):
    """The control."""
    with mock.patch.object(Firm.objects, "select_for_update", Firm.objects.all):
        both_accept(format(suggestion_of(CURVE).value, "f"))
    assert LearntStandard.objects.count() == 2
