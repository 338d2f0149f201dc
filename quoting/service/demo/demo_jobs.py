"""The demonstration's own copies of the example jobs, priced from their takeoff and their hours."""

from datetime import date
from pathlib import Path
from typing import Any

from django.conf import settings

from catalog.core.ground.document_reader import parse_document

FIXTURES = Path(settings.BASE_DIR) / "fixtures"
MAIN_JOB = "larkmoor-dental"
LEAD = "Teodor Finnmark"
TEAM = [{"name": LEAD, "part": "lead"}, {"name": "Wilm Ostrey", "part": "crew"}]
VALID_DAYS = 240
HOUR_COST = "47.00"
FROM_THE_WALLS = {
    "materials": "takeoff",
    "labour": [],
    "labour_from_hours": {"rate": HOUR_COST},
    "special_order_cost": None,
}
OFFERED = {
    "merrow-finch-boutique": {
        "overhead": {"share_of_cost": "0.08"},
        "allowances": [{"what": "Light line in the shadow reveal", "amount": "500.00", "over_markup": "0.15"}],
        "options": [
            {
                "title": "A second coat of satin on both faces",
                "text": "Two more days; the lobby stays open.",
                "price": "640.00",
                "cost": "380.00",
            },
            {
                "title": "Base sprayed in the works before it is fitted",
                "price": "285.00",
                "cost": "170.00",
            },
        ],
        "notice": {"place": "Port Saffron", "language": "en"},
    },
}
CANCELLATION = {
    "starts_on": "2026-01-01",
    "days": 3,
    "counting": "business_and_saturday",
    "source": "Made up for the demonstration: ask your own lawyer.",
    "notice": "In writing to the office",
}


def read_fixture(name: str) -> dict[str, Any]:
    return parse_document((FIXTURES / name).read_text(encoding="utf-8"))


def pricing_on(name: str, day: date) -> dict[str, Any]:
    """As that job is priced, answered on another day."""
    priced = job_document(name)["pricing"]
    answers = [answer | ({"on": day.isoformat()} if "on" in answer else {}) for answer in priced["checklist"]]
    return priced | {"checklist": answers}


def pricing_signed(day: date, title: str) -> dict[str, Any]:
    """As the main job is priced; long valid, for it is signed as soon as its paper is made."""
    scope = [f"{title}: curved screen, framed, boarded both faces in two layers and finished to level 4"]
    return pricing_on(MAIN_JOB, day) | {"valid_days": VALID_DAYS, "inclusions": scope}


def job_document(name: str) -> dict[str, Any]:
    document = read_fixture(f"jobs/{name}.json")
    priced = document["pricing"] | FROM_THE_WALLS | OFFERED.get(name, {})
    return document | {"job": document["job"] | {"people": TEAM}, "pricing": priced}
