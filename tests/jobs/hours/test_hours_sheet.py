"""Hours from a sheet: looked at first, wrong lines named, all or nothing, once a file."""

from datetime import date

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from jobs.hours.models import TimeEntry, Worker
from tests.support.desk import as_
from tests.support.hours import crew, entry_of

__all__ = ["as_"]
HEAD = "day,worker,hours,job,step,elsewhere,tag,note,sure\r\n"
GOOD = "2026-10-01,sam orrin,7.5,J-0100,framing,,,,\r\n2026-10-02,Sam Orrin,8,,,Yard,,Cleared,\r\n"


@pytest.fixture
def office(as_, job):
    crew("Sam Orrin")
    return as_("office")


def looked_at(office, rows, head=HEAD):
    answer = office.post("/hours/file/", {"sheet": SimpleUploadedFile("hours.csv", (head + rows).encode())})
    return answer, [str(error) for error in answer.context["found"].errors]


def bring_in(office, answer):
    carried = answer.context["apply"].initial
    return office.post("/hours/file/apply/", carried, follow=True)


def test_a_sheet_is_looked_at_and_then_brought_in_once(office):
    answer, errors = looked_at(office, GOOD)
    assert (errors, answer.context["sums"], TimeEntry.objects.count()) == ([], [("Sam Orrin", "15.5 h")], 0)
    texts = [str(entry) for entry in bring_in(office, answer).context["messages"]]
    assert (texts, TimeEntry.objects.count()) == (["Imported: 15.5 h on 2 lines."], 2)
    assert looked_at(office, GOOD)[0].context["found"].is_there
    bring_in(office, answer)
    assert TimeEntry.objects.count() == 2


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("2026-10-01,Nobody,8,J-0100,framing,,,,", "line 2, worker: is not a worker"),
        ("2026-10-01,Sam Orrin,0,J-0100,framing,,,,", 'line 2, hours: "0" must be over 0 and at most 24 hours'),
        ("2026-10-01,Sam Orrin,8,J-9999,framing,,,,", 'line 2, job: "J-9999" is not a job'),
        ("2026-10-01,Sam Orrin,8,J-0100,roofing,,,,", 'line 2, step: "roofing" is not a step of J-0100'),
        ("2026-10-06,Sam Orrin,8,J-0100,framing,,,,", "line 2, day: Tue 6 Oct 2026 has not come yet"),
        ("1.10.2026,Sam Orrin,8,J-0100,framing,,,,", "line 2, day"),
        ("2026-10-01,Sam Orrin,13,J-0100,framing,,,,", "line 2, sure: Sam Orrin has 13 h on Thu 1 Oct 2026"),
        ("2026-10-01,Sam Orrin,8,J-0100,framing,,,,perhaps", 'line 2, sure: "perhaps" is not yes or empty'),
        ("2026-10-01,Sam Orrin,8,J-0100,framing,,paid,,", "line 2, tag"),
        ("2026-10-01,Sam Orrin,8", "line 2: has 3 cells and the headings are 9"),
    ],
)
def test_a_wrong_line_is_named_and_nothing_comes_in(office, row, says):
    answer, errors = looked_at(office, f"{row}\r\n{GOOD.splitlines()[1]}\r\n")
    assert (answer.status_code, len(errors), TimeEntry.objects.exists()) == (422, 1, False)
    assert errors[0].startswith(says), errors


def test_the_same_work_comes_twice_only_where_the_sheet_is_sure(office, job):
    entry_of(job, Worker.objects.get(), 60, day=date(2026, 10, 1))
    row = "2026-10-01,Sam Orrin,7,J-0100,framing,,,,"
    assert "has 1 h of this on Thu 1 Oct 2026 already" in looked_at(office, f"{row}\r\n")[1][0]
    assert looked_at(office, f"{row}yes\r\n")[1] == []
    twice = looked_at(office, f"{row}yes\r\n{row}yes\r\n")[1]
    assert twice == ["line 2, hours: is here twice for Sam Orrin and the same work; enter the sum once"]


def test_a_lead_brings_in_no_sheet(as_, db):
    assert as_("lead").get("/hours/file/").status_code == 403
