"""Small documents that name everything a store has to keep."""

from copy import deepcopy
from typing import Any

Document = dict[str, Any]

FACT = {"source": "invented maker's sheet", "sure": "maker", "stated_on": "2026-02-01"}


def material(code: str, kind: str, **more: Any) -> Document:
    units = {"board": "sqft", "fastener": "each", "compound": "gal", "tape": "ft"}
    return {
        "code": code,
        "name": f"{kind} {code}",
        "kind": kind,
        "unit_used": units.get(kind, "ft"),
        "unit_bought": "piece",
        **more,
    }


def catalog() -> Document:
    return {
        "format": "curved-wall-catalog/1",
        "units": "in",
        "firm": {
            "name": "Bowsprit Walls",
            "time_zone": "America/Toronto",
            "currency": "CAD",
            "cushion_workdays": 3,
            "sign_off_workdays": 5,
            "closed": [{"day": "2026-12-25", "reason": "holiday"}],
            "kit": {"tape": "TAPE", "board_screw": ["SCREW-1", "SCREW-2"]},
        },
        "suppliers": [
            {
                "code": "MILL",
                "name": "The trim mill",
                "closed": [{"first": "2026-12-21", "last": "2027-01-01", "reason": "shutdown"}],
                "order_cut_off": "14:30",
                "email": "orders@mill.invalid",
            }
        ],
        "materials": [
            material("TRACK", "track", facts={"link_pitch_mm": {"value": "2 in", **FACT}}),
            material("STUD", "stud", facts={"depth_mm": {"value": "3-5/8 in", **FACT}}),
            material(
                "BOARD",
                "board",
                waste="0.15",
                packs=[
                    {
                        "code": "BOARD-8",
                        "label": "8 ft sheet",
                        "quantity": 32,
                        "length": 96,
                        "width": 48,
                        "prices": [
                            {"amount": "14.50", "starts_on": "2026-01-01", "source": "price list"},
                            {"amount": "15.25", "starts_on": "2026-07-01", "held_until": "2026-12-31"},
                        ],
                    },
                    {"code": "BOARD-12", "label": "12 ft sheet", "quantity": 48, "length": 144, "width": 48},
                ],
                facts={"thickness_mm": {"value": "1/4 in", **FACT}},
            ),
            material("SCREW-1", "fastener"),
            material("SCREW-2", "fastener"),
            material("TAPE", "tape", waste="0.1"),
            material("HIRE", "own", own_kind="Hire"),
            material(
                "BASE",
                "trim",
                supply="custom_made",
                supplier="MILL",
                cushion_workdays=4,
                sign_off_workdays=2,
                lead_terms=[
                    {
                        "production": "3 weeks",
                        "transit_workdays": 2,
                        "source": "telephone",
                        "stated_on": "2026-03-02",
                        "stated_by": "the order desk",
                    },
                    {
                        "production": "30 calendar days",
                        "transit_workdays": 2,
                        "source": "price list",
                        "stated_on": "2026-09-01",
                    },
                ],
            ),
        ],
    }


PIECES: list[Document] = [
    {"shape": "straight", "length": 36, "kink": 1.5},
    {"shape": "arc", "turn": "left", "radius": 120, "angle": "25.123456789", "measured_on": "convex_framing"},
    {"shape": "arc", "turn": "right", "radius": 120, "arc": 40},
    {"shape": "arc", "turn": "left", "chord": 168, "rise": 30, "kink": -2},
    {"shape": "arc", "turn": "left", "radius": 60, "chord": 100, "major": True},
    {"shape": "arc", "turn": "left", "arc": 50, "chord": 45},
    {"shape": "arc", "points": [[0, 0], [50, -20.5], [100, 1]]},
    {"shape": "straight", "length": 96},
    {"shape": "template", "length": 50, "chord": 48, "turned": -12.5, "template": "Lobby oval"},
    {"shape": "arc", "turn": "left", "chord": 84, "rise": 7.25, "arc": 40},
]


def wall(key: str = "screen", **more: Any) -> Document:
    return {
        "key": key,
        "name": "Reception screen" if key == "screen-1" else f"Screen {key}",
        "measured_on": "concave_finished",
        "pieces": deepcopy(PIECES),
        "height": [{"along": 0, "height": 96}, {"along": 80, "height": 108}],
        "track": "TRACK",
        "stud": "STUD",
        "stud_depth": "3-5/8 in",
        "stud_spacing": 8,
        "left": {"layers": [{"board": "BOARD"}, {"board": "BOARD", "moisture": "damp"}], "level": 5},
        "right": {"layers": [{"board": "BOARD", "direction": "widthwise"}], "level": 2, "painted": False},
        "openings": [
            {"name": "Door", "centre_at": 60, "width": 38, "height": 82, "sill": 0, "frame": "radial"},
            {"name": "Light", "centre_at": 150, "width": 20, "height": 20, "sill": 40, "measured_on": "centre"},
            {
                "name": "Pass",
                "centre_at": 776,
                "width": 60,
                "height": 84,
                "arch_rise": 12,
                "casing": {"legs": "BASE", "head": "BASE", "reveal": "3/16", "faces": "left"},
            },
        ],
        "trims": [
            {
                "name": "Base, inside",
                "face": "left",
                "position": "base",
                "material": "BASE",
                "form": "bendable",
                "grade": "paint",
                "foot": 0,
                "returns": 4,
                "splices_allowed": False,
                "needs_backing": True,
                "need_by": "2027-01-25",
            }
        ],
        "kit": {"board_screw": ["SCREW-2"]},
        "insulated": True,
        "top": "ceiling",
        "ends": {"start": "meets", "end": "column", "studs": 2},
        "room": {
            "first": "Column C4",
            "second": "Corner",
            "apart": "20 ft",
            "first_to_start": "12 ft",
            "second_to_start": "16 ft",
            "first_to_point": "15 ft",
            "second_to_point": "9 ft",
            "joint": 2,
            "side": "right",
        },
        "overrides": [
            {
                "key": f"{key}/left/layer-1/bend",
                "reason": "bent like this before",
                "by": "R. Sallow",
                "on": "2026-10-05",
                "value": 12.5,
                "original": "11.25",
            }
        ],
        **more,
    }


def job(key: str = "J-0007", walls: int = 1, **more: Any) -> Document:
    return {
        "client": {
            "name": "Tern Street Clinic",
            "address": "2 Tern Street",
            "email": "desk@clinic.invalid",
            "phone": "555 0100",
            "tax_exempt_certificate": "EX-114",
        },
        "job": {
            "key": key,
            "title": "Reception screen",
            "site_address": "2 Tern Street",
            "start_on": "2027-01-18",
            "crew": 3,
            "closed": [{"day": "2027-01-20", "reason": "inspection"}],
            "dates": [{"material": "BASE", "need_by": "2027-02-01", "cushion_workdays": 2, "sign_off_workdays": 1}],
            "activities": [
                {
                    "key": "hang_boards",
                    "duration_workdays": 4,
                    "not_before": "2027-01-25",
                    "crew": 2,
                    "shortest_workdays": 3,
                    "longest_workdays": 6,
                }
            ],
            "own_activities": [
                {"name": "Scaffold", "crew_hours": 12.5, "crew": 2, "before": "framing", "longest_workdays": 3},
                {"name": "Fire stopping looked at", "kind": "inspection", "duration_workdays": 2, "after": "framing"},
                {"key": "word", "name": "Word of the landlord", "kind": "hold", "not_before": "2027-01-19"},
                {"name": "Snagging", "duration_workdays": 1, "after": "paint", "shortest_workdays": 1},
            ],
            "links": [
                {"before": "word", "after": "framing", "lag_workdays": 1},
                {"before": "coat-1", "after": "coat-2", "lag_elapsed_hours": 48, "name": "drying in the cold"},
                {"before": "trim", "after": "paint", "left_out": True},
            ],
            "items": [
                {"material": "HIRE", "rule": "workday", "quantity": "1.5", "activity": "paint"},
                {"key": "spare", "material": "BASE", "quantity": 4, "need_by": "2027-02-02"},
            ],
            "promised_on": "2027-02-26",
            "chance_seed": 7,
            "overrides": [
                {"key": "tape", "reason": "rolls in stock", "by": "R. Sallow", "on": "2026-10-06", "value": 2}
            ],
        },
        "walls": [wall(f"screen-{number}") for number in range(1, walls + 1)],
        **more,
    }
