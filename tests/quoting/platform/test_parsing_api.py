import io
from decimal import Decimal

import pytest

from catalog.core.ground.document_reader import DocumentError
from quoting.platform.api.parsing import DocumentParser


def parse(body):
    return DocumentParser().parse(io.BytesIO(body))


def test_numbers_are_exact():
    assert parse(b'{"length": 168.10, "count": 3}') == {"length": Decimal("168.10"), "count": 3}


def test_a_mark_of_byte_order_is_passed_over():
    assert parse(b'\xef\xbb\xbf{"a": 1}') == {"a": 1}


@pytest.mark.parametrize(
    ("body", "message"),
    [
        (b'{"a": NaN}', "NaN is not a number"),
        (b'{"a": Infinity}', "Infinity is not a number"),
        (b'{"a": -Infinity}', "-Infinity is not a number"),
        (b'{"a": 1e9999999999999999999}', "out of range"),
        (b'{"a": 1e-99999}', "out of range"),
        (b'{"a": ' + b"9" * 5000 + b"}", "too many digits"),
        (b'{"a": 1, "a": 2}', "'a' is given twice"),
        (b'{"a": {"b": 1, "b": 2}}', "'b' is given twice"),
        (b"[" * 200_000, "nested more than 40 levels"),
        (b'{"a": ' * 41 + b"1" + b"}" * 41, "nested more than 40 levels"),
        (rb'{"a": ["\ud800"]}', r"a\[0\]: holds half of a surrogate pair"),
        (rb'{"\udc00": 1}', "half of a surrogate pair"),
        (rb'{"a": {"b": "\u0000"}}', r"a\.b: holds the character U\+0000"),
        (b"[1]", "must be a JSON object"),
        (b"\xff\xfe", "not UTF-8 text"),
        (b"", "not JSON"),
    ],
)
def test_what_no_document_may_hold_is_refused_with_the_reason(body, message):
    with pytest.raises(DocumentError, match=message):
        parse(body)


def test_a_character_beyond_the_basic_plane_is_no_half_pair():
    assert parse(rb'{"a": "\ud83d\ude00"}') == {"a": "\U0001f600"}
