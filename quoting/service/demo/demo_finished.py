"""Small jobs the demonstration finished before: each one arc, bought at the counter."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from quoting.service.demo.demo_jobs import TEAM


@dataclass(frozen=True)
class FinishedJob:
    """slower: hours it took of those planned, by the beginning of a step's key; else as planned. dearer: what its goods
    cost of what was quoted."""

    key: str
    client: str
    address: str
    title: str
    radius: str
    arc: str
    height: str
    signed_by: str
    why: str
    slower: tuple[tuple[str, Decimal], ...]
    dearer: Decimal = Decimal(1)

    def slower_by(self, step: str) -> Decimal:
        return next((ratio for start, ratio in self.slower if step.startswith(start)), Decimal(1))


COUNTER_SCREEN = FinishedJob(
    "J-0008",
    "Quillmere Cider House",
    "11 Press Lane, Sallow Reach",
    "Tasting counter screen",
    "9' 0\"",
    "17' 6\"",
    "8' 0\"",
    "Osric Fenn",
    "The boards went on slower than planned: the counter stood in the way.",
    (("boards", Decimal("1.12")), ("trim", Decimal("1.10"))),
)
KILN_WALL = FinishedJob(
    "J-0009",
    "Wendle Street Pottery",
    "2 Wendle Street, Port Saffron",
    "Kiln room wall",
    "12' 0\"",
    "22' 0\"",
    "9' 0\"",
    "Mabyn Thorley",
    "Boards were bought at a dearer counter, and the tight end took a second day.",
    (("boards", Decimal("1.15")), ("framing", Decimal("1.04"))),
    Decimal("1.03"),
)


def finished_document(job: FinishedJob, *, starts_on: date, pricing: dict[str, Any]) -> dict[str, Any]:
    face = {"layers": [{"board": "GB-14"}, {"board": "GB-14"}], "level": 4}
    return {
        "format": "curved-wall-job/1",
        "units": "in",
        "client": {"name": job.client, "address": job.address},
        "job": {
            "key": job.key,
            "people": TEAM,
            "title": job.title,
            "site_address": job.address,
            "start_on": starts_on.isoformat(),
            "crew": 2,
        },
        "walls": [
            {
                "key": "screen",
                "name": job.title,
                "measured_on": "convex_framing",
                "pieces": [{"shape": "arc", "turn": "left", "radius": job.radius, "arc": job.arc}],
                "height": job.height,
                "track": "TRACK-358",
                "stud": "STUD-358",
                "stud_spacing": 8,
                "left": face,
                "right": face,
            }
        ],
        "pricing": pricing,
    }
