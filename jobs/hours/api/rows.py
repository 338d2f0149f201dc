"""Workers and hours as documents; the rate and cost of an hour are for whoever prices."""

from typing import Any

from rest_framework.request import Request

from catalog.core.ground.plain_text import money
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.job_hours import NamedStepHours
from quoting.platform.api.base import Document, day, sees_margins, without
from quoting.platform.people import access

MONEY_PARTS = ("rate", "rate_name", "cost")


def of_entry(request: Request, row: TimeEntry) -> Document:
    document = {
        "id": row.pk,
        "worker": row.worker_id,
        "worker_name": row.worker.name,
        "day": day(row.day),
        "counts_in": f"{row.posted_month:%Y-%m}",
        "job": row.job.key if row.job else None,
        **{name: getattr(row, name) for name in ("step", "elsewhere", "typed_minutes", "minutes", "tag", "note")},
        "rate": None if row.rate is None else money(row.rate),
        "rate_name": row.rate_name,
        "cost": None if row.rate is None else money(row.to_core("").cost),
        "entered_by": row.entered_by_name,
        "voided_by": row.voided_by_name,
        "void_reason": row.void_reason,
        "reverses": row.reverses_id,
        "corrects": row.corrects_id,
    }
    return document if sees_margins(request) else without(document, *MONEY_PARTS)


def of_worker(request: Request, row: Worker) -> Document:
    document = {
        "id": row.pk,
        "name": row.name,
        "rate_name": row.rate_name,
        "first_day": day(row.first_day),
        "last_day": day(row.last_day),
        "login_name": row.person.login_name if row.person else "",
    }
    is_owner = access.role_of(request.user) in access.OWNER
    return document if is_owner else without(document, "rate_name", "login_name")


def of_steps(steps: list[NamedStepHours]) -> list[dict[str, Any]]:
    return [
        {
            "step": step.hours.step,
            "name": step.name,
            "planned": step.hours.planned,
            "spent": step.hours.spent,
            "left": step.hours.left_minutes,
            "percent_done": step.hours.left.percent if step.hours.left else None,
            "at_this_pace": step.hours.at_this_pace,
            "is_done": bool(step.hours.left and step.hours.left.is_done),
            "said_by": step.hours.left.by if step.hours.left else "",
            "said_on": day(step.hours.left.day) if step.hours.left else None,
        }
        for step in steps
    ]
