import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.drawings.svg import DrawingInputError
from jobs.drawings.job_chain import Station, job_chain_short_svg, job_chain_svg
from tests.jobs.drawings.screens import is_clear, said, strokes, title

NAMES = ("Enquiry", "Measured", "Priced", "Sent", "Signed", "Ordered", "On site", "Done", "Paid")
DAYS = ("Tue 3 Nov", "Fri 13 Nov", "Fri 20 Nov", "Tue 24 Nov", "by Thu 3 Dec", "by Thu 10 Dec", "Mon 4 Jan", "", "")


def chain(at: int, state: str = "current", note: str = "") -> list[Station]:
    rows = []
    for index, (name, day) in enumerate(zip(NAMES, DAYS, strict=True)):
        held = "passed" if index < at else state if index == at else "ahead"
        rows.append(Station(name, day, held, note if index == at else ""))
    return rows


def test_a_sent_job_says_since_when_it_waits_for_whom_and_what_follows():
    svg = job_chain_svg(chain(3, note="4 days with the client"))
    assert {"Sent", "Tue 24 Nov", "4 days with the client", "by Thu 3 Dec", "Paid"} <= set(said(svg))
    assert title(svg).startswith("Sent Tue 24 Nov, 4 days with the client. Before: Enquiry Tue 3 Nov")


def test_the_line_is_bold_as_far_as_the_job_has_come():
    svg = job_chain_svg(chain(3))
    bold, thin = strokes(svg, "done")[0], strokes(svg, "ahead")[0]
    assert bold[2] == thin[0] and thin[2] == 1224


def test_a_phone_shows_four_stations_from_where_the_job_stands():
    assert [s for s in said(job_chain_svg(chain(3), "phone")) if s in NAMES] == ["Sent", "Signed", "Ordered", "On site"]
    assert [s for s in said(job_chain_svg(chain(8), "phone")) if s in NAMES] == ["Ordered", "On site", "Done", "Paid"]


def test_the_chain_of_a_declined_job_stops_with_a_stroke_and_nothing_follows():
    svg = job_chain_svg(chain(3, "stopped", "Declined Mon 30 Nov"))
    assert said(svg)[-1] == "Declined Mon 30 Nov" and "Signed" not in said(svg)
    x0, y0, x1, y1 = strokes(svg, "done")[-1]
    assert x0 == x1 and abs(y1 - y0) == 24
    assert strokes(svg, "ahead") == []


def test_what_an_earlier_station_lacks_is_a_red_tick():
    rows = chain(3)
    rows[1] = Station("Measured", "Fri 13 Nov", "lacks", "6 dimensions")
    assert len(strokes(job_chain_svg(rows), "lacking")) == len(strokes(job_chain_short_svg(rows), "lacking")) == 1
    assert "Measured Fri 13 Nov, 6 dimensions" in title(job_chain_svg(rows))


def test_the_short_chain_has_a_tick_a_station_and_no_words():
    svg = job_chain_short_svg(chain(3))
    assert said(svg) == [] and 'width="160" height="24"' in svg
    # Four passed with the line under them, five ahead with theirs.
    assert len(strokes(svg, "done")) == 1 + 4 and len(strokes(svg, "ahead")) == 1 + 5


def test_a_job_stands_at_one_station():
    with pytest.raises(DrawingInputError, match="a job is at one"):
        job_chain_svg([Station("Sent", "", "passed")])


@given(
    st.integers(0, 8),
    st.sampled_from(["current", "stopped"]),
    st.sampled_from(["desk", "phone"]),
    st.sampled_from(["", "2 days with us", "11 of 13 ordered, 2 late", "14 days with the client since the reminder"]),
)
def test_words_of_a_chain_never_meet(at, state, width, note):
    rows = [Station(s.name, s.day and f"{s.day} 2027", s.state, s.note) for s in chain(at, state, note)]
    assert is_clear(job_chain_svg(rows, width))
