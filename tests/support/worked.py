"""A small job with everything a quote needs, on the part of the starter catalog it uses."""

from copy import deepcopy
from datetime import UTC, date, datetime
from typing import Any

from catalog.core.materials.catalog_data import Catalog
from catalog.services.catalog_file import store_book
from jobs.jobs.models import Job
from quoting.core.prices.checklist import USUAL_ITEMS
from quoting.job_files.services.job_files import import_job_file
from quoting.platform.people.models import Person
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.quotes import issue_quote
from tests.documents import starter
from tests.stored import lay

NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
TODAY = date(2026, 11, 25)
USED = ("TRACK-358", "STUD-358", "GB-14")

ANSWERED = [{"item": item, "answer": "included", "where": "All work"} for item in USUAL_ITEMS]
PRICING: dict[str, Any] = {
    "policy": {"mode": "margin", "target_margin": "0.38"},
    "materials": {"amount": "3180.00", "note": "as entered"},
    "labour": [{"what": "All work", "hours": "96", "rate": "47.00"}],
    "subcontract": [{"what": "Painting", "amount": "650.00"}],
    "other": [{"what": "Delivery", "amount": "240.00"}],
    "tax": {"name": "Sales tax", "rate": "0.13"},
    "instalments": [{"event": event, "share": "1/3"} for event in ("On acceptance", "Boards up", "At the end")],
    "inclusions": ["The screen"],
    "checklist": ANSWERED,
    "cautions": ["Sanding makes silica dust (29 CFR 1926.1153)."],
}


def small_book() -> Catalog:
    whole = starter()
    codes = {*USED, *(code for kit in whole.firm.kit.values() for code in kit)}
    materials = {code: whole.materials[code] for code in codes}
    suppliers = {
        material.supplier: whole.suppliers[material.supplier] for material in materials.values() if material.supplier
    }
    return Catalog(whole.firm, whole.standards, suppliers, materials)


def small_document(key: str = "J-0100", **more: Any) -> dict[str, Any]:
    wall = {
        "key": "screen",
        "name": "Screen",
        "measured_on": "convex_framing",
        "pieces": [{"shape": "arc", "turn": "left", "radius": 120, "arc": 72}],
        "height": 96,
        "track": "TRACK-358",
        "stud": "STUD-358",
        "stud_spacing": 8,
        "left": {"layers": [{"board": "GB-14"}], "level": 4},
        "right": {"layers": [{"board": "GB-14"}], "level": 4},
    }
    return {
        "format": "curved-wall-job/1",
        "units": "in",
        "client": {"name": "Tern Street Clinic"},
        "job": {"key": key, "title": "Corridor screen", "start_on": "2027-01-18"},
        "walls": [wall],
        "pricing": deepcopy(PRICING),
        **more,
    }


def small_job(key: str = "J-0100", **more: Any) -> Job:
    if more:
        return _imported(key, **more)
    lay(f"small job {key}", lambda: _imported(key))
    return Job.objects.get(key=key)


def _imported(key: str, **more: Any) -> Job:
    lay("small book", lambda: store_book(small_book(), on_known="keep"))
    return import_job_file(small_document(key, **more), now=NOW)


def estimator(login_name: str = "sallow") -> Person:
    result = Person.objects.filter(login_name=login_name).first()
    return result or Person.objects.create_user(
        login_name, "a long enough phrase", role="estimator", full_name="R. Sallow"
    )


def issued(job: Job, request_key: str = "first", **more: Any) -> QuoteRevision:
    wanted = {"request_key": request_key, "seen_mark": None, "by": estimator(), "now": NOW, "today": TODAY}
    return issue_quote(job, **(wanted | more))
