from datetime import timedelta

import pytest
from django.core.management import call_command

from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import claim_errand, queue_errand, run_errand
from quoting.service.audit.services.audit import audit
from tests.quoting.platform.errands import kinds  # noqa: F401 - registers the kinds queued here
from tests.service import STARTS_AT

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


def found():
    return audit(clock.now())["errands"]


def test_a_service_in_order_passes(capsys):
    run_errand(queue_errand("careful", "a", {}, clock.now()).pk, "w")
    call_command("audit")
    assert "errands: in order" in capsys.readouterr().out


def test_a_lease_nobody_looks_at_is_found(frozen_clock):
    errand = queue_errand("careful", "a", {}, clock.now())
    claim_errand(errand.pk, "dead", clock.now())
    assert found() == []
    frozen_clock.move_on(minutes=6)
    assert "ran out long ago" in found()[0]


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"tries": 9}, "was tried 9 times; 5 are allowed"),
        ({"kind": "polish the moon"}, "nothing here knows how"),
        (
            {"state": "done", "finished_at": STARTS_AT, "progress_percent": 40},
            "done but stands at 40 %",
        ),
    ],
)
def test_an_errand_in_disorder_is_found(wrong, message):
    errand = queue_errand("careful", "a", {}, clock.now() - timedelta(seconds=1))
    Errand.objects.filter(pk=errand.pk).update(**wrong)
    assert message in found()[0]


def test_the_command_ends_with_one_when_something_is_wrong(capsys):
    queue_errand("polish the moon", "a", {}, clock.now())
    with pytest.raises(SystemExit) as end:
        call_command("audit")
    assert end.value.code == 1
    assert "polish the moon" in capsys.readouterr().out
