import io

import pytest
from rest_framework.exceptions import ParseError

from quoting.api.parsing import StrictJSONParser


def parse(body):
    return StrictJSONParser().parse(io.BytesIO(body))


def test_plain_json_is_read():
    assert parse(b'{"walls": [1, 2.5, null, "a"]}') == {"walls": [1, 2.5, None, "a"]}


@pytest.mark.parametrize(
    ("body", "told"),
    [
        (b'{"a": NaN}', "NaN is not a JSON number"),
        (b"[Infinity]", "Infinity is not"),
        (b"[-Infinity]", "-Infinity is not"),
        (b'{"a": 1, "a": 2}', "'a' is given twice"),
        (b"[" * 200_000, "nested too deeply"),
        (b"\xff\xfe", "not valid JSON"),
        (b"", "not valid JSON"),
        (b"[" + b"9" * 5000 + b"]", "not valid JSON"),
    ],
)
def test_what_json_does_not_have_is_a_400_that_says_so(body, told):
    with pytest.raises(ParseError, match=told):
        parse(body)
