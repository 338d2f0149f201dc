"""A hall screened bay by bay, each bay a job of its own: what the demonstration ordered before."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from quoting.service.demo.demo_jobs import TEAM

BASE, MILL, COUNTER = "BASE-514-FLEX", "HENNOCK", "TOLLARD"
KEYS = {"north": "J-0005", "middle": "J-0006", "south": "J-0007"}


@dataclass(frozen=True)
class Bay:
    """after: the mill's working days from the first order to this one. ratio: what it took of what it had quoted.

    slower, dearer: its hours and its goods of the counter, of what was quoted. waited: hours lost to what came late.
    freight: what the mill asked for a rush.
    """

    name: str
    after: int
    ratio: Decimal
    damaged: int = 0
    slower: Decimal = Decimal(1)
    dearer: Decimal = Decimal(1)
    waited: int = 0
    freight: str = "0.00"


BAYS = (
    Bay("north", 0, Decimal("1.00"), slower=Decimal("1.06")),
    Bay("middle", 12, Decimal("1.10"), slower=Decimal("1.14"), dearer=Decimal("1.05"), waited=6, freight="185.00"),
    Bay("south", 24, Decimal("1.30"), damaged=2),
)
MILL_TERMS = {
    "minimum_order": "150.00",
    "freight": "65.00",
    "freight_free_from": "900.00",
    "claim_days": 5,
    "claim_counts": "workdays",
    "rush_production_workdays": 8,
    "rush_transit_workdays": 2,
    "rush_fee": "185.00",
    "source": "Invented terms of trade, 2026",
    "stated_by": "sales desk",
}


def bay_key(bay: str) -> str:
    return KEYS[bay]


def bay_document(bay: str, *, starts_on: date, trim_on: date, pricing: dict[str, Any]) -> dict[str, Any]:
    """A job file of one bay: one arc with two doorways, base on both faces, 9 pieces in all."""
    return {
        "format": "curved-wall-job/1",
        "units": "in",
        "client": {"name": "Sedgeholt Weavers' Hall", "address": "3 Shuttle Row, Sallow Reach"},
        "job": {
            "key": bay_key(bay),
            "people": TEAM,
            "title": f"Gallery screen, {bay} bay",
            "site_address": f"3 Shuttle Row, Sallow Reach, {bay} bay",
            "start_on": starts_on.isoformat(),
            "crew": 2,
            "activities": [{"key": "trim", "not_before": trim_on.isoformat()}],
        },
        "walls": [_wall(bay)],
        "pricing": pricing,
    }


def _wall(bay: str) -> dict[str, Any]:
    face = {"layers": [{"board": "GB-14"}, {"board": "GB-14"}], "level": 4}
    doors = (("Door to the looms", "13' 6\""), ("Door to the store", "29' 6\""))
    return {
        "key": f"{bay}-screen",
        "name": f"Screen, {bay} bay",
        "measured_on": "convex_framing",
        "pieces": [{"shape": "arc", "turn": "left", "radius": "30' 0\"", "arc": "43' 2\""}],
        "height": "9' 0\"",
        "track": "TRACK-358",
        "stud": "STUD-358",
        "stud_spacing": 8,
        "left": face,
        "right": face,
        "openings": [
            {"name": name, "centre_at": at, "width": "38-1/2", "height": 83, "frame": "flat"} for name, at in doors
        ],
        "trims": [_base("left", "Base, gallery side"), _base("right", "Base, hall side")],
    }


def _base(face: str, name: str) -> dict[str, Any]:
    return {
        "name": name,
        "face": face,
        "position": "base",
        "material": BASE,
        "form": "bendable",
        "grade": "paint",
        "application": f"{name} of the screen",
        "splices_allowed": True,
    }
