"""Days accepted for planning, as they stand in the document of a material, read and written."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from catalog.core.ground.document_reader import Reader
from catalog.core.leads.lead_times import LeadTerm, LeadTermError, parse_duration
from catalog.core.leads.planned_leads import MAX_EVIDENCE, MAX_PLAN_WORKDAYS, PlannedLead, PlannedLeadError

MAX_RATIOS = 50


def read_planned_lead(reader: Reader) -> PlannedLead:
    """Read days accepted for planning and the quoted term they were accepted against.

    Args:
        reader: at the object.

    Returns:
        The planned days.

    Raises:
        DocumentError: an entry that is missing or cannot be right, by its path.

    Source: own format, ``fixtures/schema``.

    >>> read_planned_lead(Reader({"plan_workdays": 0}))
    Traceback (most recent call last):
    ...
    catalog.core.ground.document_reader.DocumentError: quoted: is missing
    """
    quoted, confidence = reader.object("quoted"), reader.decimal("confidence", "0.5", "0.995")
    try:
        production = parse_duration(quoted.text("production"), what="production")
    except LeadTermError as error:
        raise quoted.error("production", str(error)) from error
    transit = quoted.whole("transit_workdays", 0, 250)
    quoted.finish()
    ratios = tuple(_ratio(reader, place, value) for place, value in enumerate(reader.values("ratios", MAX_RATIOS)))
    days, supplier = reader.whole("plan_workdays", 1, MAX_PLAN_WORKDAYS), reader.text("supplier", longest=60)
    evidence, by = reader.text("evidence", longest=MAX_EVIDENCE), reader.text("accepted_by", longest=200)
    accepted_on, ended_on = reader.day("accepted_on"), reader.optional_day("ended_on")
    term = (production.days, production.counts, transit)
    try:
        return PlannedLead(days, *term, supplier, confidence, evidence, ratios, by, accepted_on, ended_on)
    except PlannedLeadError as error:
        raise reader.error("", str(error)) from error


def _ratio(reader: Reader, place: int, value: Any) -> Decimal:
    name = f"ratios[{place}]"
    return Reader({name: value}, reader.path).decimal(name, "0.000001", "5000")


def write_planned_lead(planned: PlannedLead) -> dict[str, Any]:
    """Write planned days as ``read_planned_lead`` reads them back.

    Args:
        planned: the planned days.

    Returns:
        A document of text, numbers and lists only.

    Source: own format, ``fixtures/schema``.

    >>> from datetime import date
    >>> plan = PlannedLead(9, 5, "workdays", 2, "MILL", Decimal("0.90"), "none", (), "A. Tester", date(2027, 1, 4))
    >>> write_planned_lead(plan)["quoted"]
    {'production': '5 workdays', 'transit_workdays': 2}
    """
    return {
        "plan_workdays": planned.plan_workdays,
        "quoted": {"production": write_production(planned), "transit_workdays": planned.transit_workdays},
        "supplier": planned.supplier,
        "confidence": format(planned.confidence.normalize(), "f"),
        "evidence": planned.evidence,
        "ratios": [format(ratio.normalize(), "f") for ratio in planned.ratios],
        "accepted_by": planned.accepted_by,
        "accepted_on": planned.accepted_on.isoformat(),
        "ended_on": planned.ended_on.isoformat() if planned.ended_on else None,
    }


def write_production(text: LeadTerm | PlannedLead) -> str:
    """Write a production time so that it reads back the same.

    Args:
        text: a lead term, or planned days with the term they were accepted against.

    Returns:
        Such as ``15 workdays`` or ``10 calendar days``.

    Source: own wording.

    >>> from datetime import date
    >>> write_production(LeadTerm(10, "calendar_days", 2, "telephone", date(2026, 11, 2)))
    '10 calendar days'
    """
    return f"{text.production_days} {text.production_counts.replace('_', ' ')}"
