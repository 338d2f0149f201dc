import re
from pathlib import Path

import pytest

from quoting.platform import failpoints
from quoting.platform.failpoints import NAMES, FailpointError, hit, ordered, parse_orders

ROOT = Path(__file__).resolve().parents[3]


def test_unset_a_failpoint_does_nothing():
    for name in NAMES:
        hit(name)


def test_an_order_to_raise_raises_there_and_nowhere_else():
    with ordered(before_commit="raise"):
        hit("after_claim")
        with pytest.raises(FailpointError, match="before_commit"):
            hit("before_commit")
    hit("before_commit")


def test_an_undeclared_failpoint_is_an_error_once_any_is_ordered():
    with ordered(after_claim="sleep:0"), pytest.raises(FailpointError, match="not declared"):
        hit("somewhere")


def test_orders_are_read():
    assert parse_orders("after_claim=kill, during_render=sleep:0.5,") == {
        "after_claim": "kill",
        "during_render": "sleep:0.5",
    }


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("somewhere=kill", "There is no failpoint 'somewhere'"),
        ("after_claim=explode", "write kill, raise or sleep"),
        ("after_claim", "write kill, raise or sleep"),
        ("after_claim=sleep", "write sleep:2"),
        ("after_claim=sleep:-1", "write sleep:2"),
    ],
)
def test_a_wrong_order_is_refused(text, message):
    with pytest.raises(FailpointError, match=message):
        parse_orders(text)


def test_an_unknown_name_in_the_environment_stops_the_start(own_service):
    result = own_service.crew("drain", CURVEWRIGHT_FAILPOINTS="somewhere=kill")
    assert result.returncode != 0
    assert "There is no failpoint 'somewhere'" in result.stderr


def test_every_failpoint_in_the_code_is_declared():
    used = set()
    for app in ("catalog", "jobs", "quoting"):
        for file in (ROOT / app).rglob("*.py"):
            if file != Path(failpoints.__file__):
                used |= set(re.findall(r"\bhit\(\"(\w+)\"\)", file.read_text()))
    assert {"after_claim", "during_work", "before_commit", "before_ring"} <= used <= NAMES
