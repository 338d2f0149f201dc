"""Orrinsby Hall as rows: quoted and accepted, a note signed and one waiting, ordered, received, worked and billed."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from django.db import connection

from catalog.core.ground.declared import write
from catalog.models import Supplier
from jobs.jobs.models import Job
from jobs.needs.models import StoredNeed
from quoting.changes.services.change_drafts import save_draft
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.job_money.models import QuotedSide
from quoting.platform.immutable_tables import freeze, thaw
from quoting.pricing.services.taxes import set_labour_rate
from quoting.quotes.services.given_answers import Given
from tests.factories.bills import bill_line, bill_row
from tests.factories.catalog import MaterialFactory, SupplierFactory
from tests.factories.hours import hours_left, time_entry, worker
from tests.factories.jobs import JobFactory
from tests.support import orrinsby as plain
from tests.support.answered import accept, with_note_paper, with_paper
from tests.support.hall import a_line, an_order, came
from tests.support.worked import NOW, TODAY, estimator, issued, small_job

D = Decimal
LAST_OF_MAY = datetime(2027, 5, 31, 16, 0, tzinfo=UTC)
CODES = {"track": "TRACK", "studs": "STUD", "board": "BOARD", "base": "BASE", "sundries": "SUNDRIES"}
NICHE = [
    {"category": "labour", "item": "niche", "quantity": "10", "unit_cost": "48.00"},
    {"category": "materials", "item": "NICHE", "quantity": "1", "unit_cost": "340.00"},
]


def orrinsby_hall() -> Job:
    """As on 31 May 2027."""
    job = _agreed()
    set_labour_rate({"name": "Carpenter", "rate": "49.50", "starts_on": "2026-05-17"})
    lines = _ordered(job)
    _worked(job)
    _billed(job, lines)
    return job


def late_bill(job: Job) -> None:
    """A-779 of 28 May, that comes after May is closed."""
    line = job.order_lines.get(material="BOARD")
    bill = bill_row("A-779", shop="Tollard", day=date(2027, 5, 28), posted_month=date(2027, 6, 1))
    bill_line(bill, job, "464.40", "24", order_line=line, item="BOARD", what="Board")


def _agreed() -> Job:
    """The quoted side is laid down as rows: no wall takes just these goods."""
    job = small_job("J-0300")
    for code in (*CODES.values(), "NICHE", "PAINTER"):
        kind = "subcontract" if code == "PAINTER" else "Goods"
        MaterialFactory(code=code, name=code.title(), kind="own", own_kind=kind, unit_used="each", unit_bought="each")
    accept(with_paper(issued(job)))
    thaw(connection)
    lines = [replace(cost, item=CODES.get(cost.item, cost.item)) for cost in plain.quoted()]
    QuotedSide.objects.update(price=D("24600.00"), lines=json.dumps([write(line) for line in lines]))
    freeze(connection)
    _note(job, {"title": "Niche", "lines": [{"what": "Niche", "price": "1240.00"}], "costs": NICHE}, is_signed=True)
    _note(job, {"title": "Door", "lines": [{"what": "Door", "price": "690.00"}]}, is_signed=False)
    return job


def _note(job: Job, change: dict[str, Any], *, is_signed: bool) -> None:
    draft = save_draft(job, {"reason": "Asked for.", **change}, by=estimator(), now=NOW)
    key = change["title"]
    note = with_note_paper(issue_change(draft, request_key=key, seen_version=1, by=estimator(), now=NOW, today=TODAY))
    if is_signed:
        answer_change(note, Given("signed", "Ada Client"), now=NOW, today=TODAY)


def _ordered(job: Job) -> dict[str, Any]:
    yard, mill = SupplierFactory(code="YARD", name="The yard"), Supplier.objects.filter(code="MILL").first()
    mill = mill or SupplierFactory(code="MILL", name="Mill")
    other = JobFactory(key="J-0301")
    first, second, third = (
        an_order("P-1", yard, "96.00"),
        an_order("P-2", mill, "85.00"),
        an_order("P-3", mill, "35.00"),
    )
    lines = {
        "TRACK": a_line(first, job, "TRACK", 12, "46.50"),
        "STUD": a_line(first, job, "STUD", 66, "11.25"),
        "BOARD": a_line(first, job, "BOARD", 40, "19.10"),
        "PANEL": a_line(first, other, "PANEL", 1, "640.00"),
        "BASE": a_line(second, job, "BASE", 9, "218.00"),
    }
    for code, count in (("TRACK", 12), ("STUD", 66), ("BOARD", 24), ("PANEL", 1)):
        came(lines[code], count)
    came(lines["BASE"], 8, damaged=1)
    a_line(third, job, "BASE", 1, "0.00", replaces=lines["BASE"])
    a_line(an_order("P-5", yard), job, "NICHE", 1, "352.00")
    a_line(an_order("P-6", yard), job, "PAINTER", 1, "1900.00")
    StoredNeed.objects.filter(job=job).delete()
    for code, step in (("TRACK", "framing"), ("STUD", "framing"), ("BOARD", "boards"), ("BASE", "trim")):
        StoredNeed.objects.create(
            job=job,
            material=code,
            name=code,
            supply="stocked",
            unit="each",
            driven_by="length",
            stage=step,
            cushion_workdays=0,
            sign_off_workdays=0,
        )
    return lines


def _worked(job: Job) -> None:
    crew = [worker("Ines Quarrell"), worker("Sam Orrin"), worker("Ola Finch")]
    for row in plain.HOURS:
        # 42 and 30 h are the crew's.
        people = crew if row.minutes > 1200 else crew[:1]
        for person in people:
            minutes = row.minutes // len(people)
            time_entry(person, job, minutes, row.day, step=row.step or "", tag=row.tag, rate=row.rate)
    for person in plain.LEFT:
        hours_left(job, person.step, person.minutes, person.day, is_done=person.is_done)


def _billed(job: Job, lines: dict[str, Any]) -> None:
    first, second, slip, scaffold = (
        bill_row(number, shop=shop, day=date(2027, 5, 20), posted_month=date(2027, 5, 1))
        for number, shop in (("A-771", "Tollard"), ("B-2041", "Mill"), ("card", "Corner shop"), ("S-88", "Scaffold Co"))
    )
    other = lines["PANEL"].job
    bill_line(first, job, "558.00", "12", order_line=lines["TRACK"], item="TRACK", what="Track")
    bill_line(first, job, "742.50", "66", order_line=lines["STUD"], item="STUD", what="Studs")
    bill_line(first, other, "640.00", "1", order_line=lines["PANEL"], item="PANEL", what="Panel")
    for where, amount in ((job, "73.28"), (other, "22.72")):
        bill_line(first, where, amount, category="freight", order=lines["TRACK"].order, what="Freight")
    bill_line(second, job, "1962.00", "9", order_line=lines["BASE"], item="BASE", what="Base")
    bill_line(second, job, "85.00", category="freight", order=lines["BASE"].order, what="Freight")
    bill_line(slip, job, "118.40", item="SUNDRIES", what="Sundries")
    bill_line(scaffold, job, "165.00", category="other", item="scaffold", what="Scaffold")
