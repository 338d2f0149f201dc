"""Documents are read strictly: every complaint names the path, the value and what would be right."""

import contextlib
import json
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.document_reader import DocumentError, Reader, parse_document, read_all


def complaint(action: object, *args: object) -> str:
    with pytest.raises(DocumentError) as caught:
        action(*args)  # type: ignore[operator]
    return str(caught.value)


def test_numbers_stay_exact() -> None:
    assert parse_document('{"amount": 0.1}')["amount"] == Decimal("0.1")


@pytest.mark.parametrize("text", ['{"x": NaN}', '{"x": Infinity}', '{"x": -Infinity}'])
def test_what_is_no_number_is_refused(text: str) -> None:
    assert "not a number" in complaint(parse_document, text)


def test_what_is_no_number_is_told_with_its_place() -> None:
    assert complaint(parse_document, '{"walls": [{"rise": NaN}]}').startswith("walls[0].rise: NaN is not a number")


def test_an_empty_document_is_said_to_be_empty() -> None:
    assert "the document is empty" in complaint(parse_document, " \n")


def test_a_name_is_not_told_twice() -> None:
    assert complaint(Reader({"chord": "14 furlongs"}, "walls[0]").length, "chord").startswith(
        "walls[0].chord: '14 furlongs' is not a length"
    )


def test_a_doubled_name_is_refused() -> None:
    assert "'height' is given twice" in complaint(parse_document, '{"height": 1, "height": 2}')


def test_deep_nesting_is_refused_without_a_crash() -> None:
    assert "levels deep" in complaint(parse_document, '{"a":' * 50_000 + "1" + "}" * 50_000)


def test_brackets_inside_text_are_not_nesting() -> None:
    assert parse_document(json.dumps({"note": '[{"' * 100}))["note"].startswith("[{")


def test_five_thousand_digits_are_refused() -> None:
    assert "too many digits" in complaint(parse_document, '{"x": ' + "9" * 5000 + "}")


def test_bad_json_says_where() -> None:
    assert "line 2, column 3" in complaint(parse_document, '{"a": 1,\n  }')


@pytest.mark.parametrize("value", [1e308, 1e-300, True, "1_000", "１２", "", [], "nan", "1e5", float("inf")])
def test_hostile_numbers_are_refused_by_name(value: object) -> None:
    message = complaint(lambda: Reader({"height": value}, "walls[0]").decimal("height", "-1e15", "1e15"))
    assert message.startswith("walls[0].height: ")


def test_minus_zero_is_zero() -> None:
    assert str(Reader({"x": Decimal("-0.0")}).decimal("x", "0", "1")) == "0.0"


def test_a_misspelt_name_is_not_taken_for_an_absent_one() -> None:
    reader = Reader({"lenght": 3})
    assert complaint(reader.finish) == "lenght: is not a name known here"


def test_complaints_of_all_items_come_together() -> None:
    reader = Reader({"walls": [{"a": "x"}, {"a": 1}, {}]})
    with pytest.raises(DocumentError) as caught:
        reader.items("walls", lambda entry: entry.whole("a", 0, 9))
    assert [problem.path for problem in caught.value.complaints] == ["walls[0].a", "walls[2].a"]


def test_lengths_follow_the_documents_unit_unless_they_say_their_own() -> None:
    reader = Reader({"a": 168, "b": "4267.2mm", "c": "14' 0\"", "d": "14'"}, bare_unit="in")
    assert {reader.length(name) for name in "abcd"} == {4267.2}


@pytest.mark.parametrize("day", ["2027-13-01", "27-01-01", 20270101, "2027-01-01T00:00", "1999-12-31", "2027-W01-1"])
def test_a_wrong_day_is_refused(day: object) -> None:
    assert complaint(lambda: Reader({"need_by": day}).day("need_by")).startswith("need_by: ")


def test_a_day_is_read() -> None:
    assert Reader({"need_by": "2028-02-29"}).day("need_by") == date(2028, 2, 29)


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_but_never_crashes(text: str) -> None:
    with contextlib.suppress(DocumentError):
        assert isinstance(parse_document(text), dict)


@pytest.mark.parametrize("typed", ["3 Kiln Yard\r\nSallow Reach", "3 Kiln Yard\rSallow Reach"])
def test_a_line_break_is_kept_as_one_character_whoever_wrote_it(typed: str) -> None:
    # HTML Standard, "constructing the entry list": a text area sends CR LF for every line break.
    assert Reader({"address": typed}).text("address") == "3 Kiln Yard\nSallow Reach"


def test_other_control_characters_are_refused() -> None:
    assert "control character" in complaint(Reader({"address": "3 Kiln\x07Yard"}).text, "address")


def test_complaints_of_all_entries_of_an_object_come_together() -> None:
    reader = Reader({"crew": "two"})
    with pytest.raises(DocumentError) as caught:
        read_all(title=lambda: reader.text("title"), crew=lambda: reader.whole("crew", 1, 50), key=lambda: "J-1")
    assert [problem.path for problem in caught.value.complaints] == ["title", "crew"]


@pytest.mark.parametrize(
    "written", ["pell", "pell@", "@firm.example", "a@b@c.example", "pell@firm", "p ell@firm.example"]
)
def test_a_mail_address_that_is_none_is_named(written):
    # RFC 5321, 4.1.2: local-part @ domain; a domain of one label reaches nobody outside.
    with pytest.raises(DocumentError) as refused:
        Reader({"email": written}).email("email")
    assert refused.value.complaints[0].path == "email"
    assert Reader({"email": "pell@firm.example"}).email("email") == "pell@firm.example"
