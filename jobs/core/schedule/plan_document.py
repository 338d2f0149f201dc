"""The plans a person chose for a job, and what is on hand, read from a job's document and written back."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import TypeVar

from catalog.core.ground.declared import Document, write_length
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import money
from jobs.core.boards.boards import Offcut
from jobs.core.boards.chosen_board_plan import KeptBoards, KeptCut, KeptFace, KeptJoint, KeptSheet
from jobs.core.cutting.cutting import CuttingError
from jobs.core.measure.curve import FACES
from jobs.core.takeoff.cut_list import KeptStick, KeptStickPlan, KeptSticks, OnHand
from jobs.core.takeoff.job_plans import JobPlans

T = TypeVar("T")
MAX_ON_HAND = 200
MAX_FACES = 200
MAX_SHEETS = 5_000


def read_plans(about: Reader) -> JobPlans:
    """The entries `plans` and `on_hand` of a job.

    about: the document's `job`. Returns the plans; raises DocumentError with every complaint found.

    >>> read_plans(Reader({"on_hand": [{"material": "S", "length": "3 ft", "count": 2}]})).on_hand
    (OnHand(material='S', length_mm=914.4, count=2, pack='', unit_cost=None),)
    """
    on_hand = about.items("on_hand", _on_hand, most=MAX_ON_HAND)
    plans = about.optional_object("plans")
    if plans is None:
        return JobPlans(on_hand=on_hand)
    boards = _optional(plans, "boards", read_kept_boards)
    sticks = _optional(plans, "sticks", read_kept_sticks)
    plans.finish()
    return JobPlans(boards, sticks, on_hand)


def _optional(reader: Reader, name: str, read: Callable[[Reader], T]) -> T | None:
    inner = reader.optional_object(name)
    if inner is None:
        return None
    entry = read(inner)
    inner.finish()
    return entry


def write_plans(plans: JobPlans) -> Document:
    """The entries `plans` and `on_hand` of a job, as `read_plans` reads them back the same.

    >>> write_plans(JobPlans())
    {'on_hand': [], 'plans': None}
    """
    stored: Document | None = None
    if plans.boards is not None or plans.sticks is not None:
        stored = {
            "boards": None if plans.boards is None else write_kept_boards(plans.boards),
            "sticks": None if plans.sticks is None else write_kept_sticks(plans.sticks),
        }
    return {
        "on_hand": [
            {
                "material": stock.material,
                "length": None if stock.length_mm is None else write_length(stock.length_mm),
                "count": stock.count,
                **({"pack": stock.pack} if stock.pack else {}),
                **({} if stock.unit_cost is None else {"unit_cost": money(stock.unit_cost)}),
            }
            for stock in plans.on_hand
        ],
        "plans": stored,
    }


def _on_hand(reader: Reader) -> OnHand:
    material, length_mm = reader.text("material", longest=60), reader.optional_length("length")
    count, pack = reader.whole("count", 1, 1000), reader.text("pack", "", longest=60)
    unit_cost = reader.optional_money("unit_cost")
    try:
        return OnHand(material, length_mm, count, pack, unit_cost)
    except CuttingError as error:
        raise reader.error(error.field, error.reason) from error


# --- boards -------------------------------------------------------------------------------------------------


def read_kept_boards(reader: Reader) -> KeptBoards:
    """A board plan. reader: its object. Raises DocumentError."""
    return KeptBoards(
        reader.items("faces", _face, most=MAX_FACES),
        reader.items("sheets", _sheet, most=MAX_SHEETS),
        reader.optional_money("cost"),
        reader.optional_money("quick_cost"),
        reader.optional_money("bound_cost"),
        _gap(reader),
        reader.text("by", "", longest=200),
        reader.optional_day("on"),
    )


def write_kept_boards(plan: KeptBoards) -> Document:
    """A board plan as `read_kept_boards` reads it back the same."""
    return {
        "by": plan.by,
        "on": plan.on.isoformat() if plan.on else None,
        "cost": _plain(plan.cost),
        "quick_cost": _plain(plan.quick_cost),
        "bound_cost": _plain(plan.bound_cost),
        "gap": plan.gap,
        "faces": [
            {
                "wall": face.wall,
                "face": face.face,
                "mark": face.mark,
                "courses": [[write_length(line) for line in lines] for lines in face.courses],
                "joints": [
                    {"layer": joint.layer, "course": joint.course, "along": write_length(joint.along_mm)}
                    for joint in face.joints
                ],
            }
            for face in plan.faces
        ],
        "sheets": [
            {
                "material": sheet.material,
                "pack": sheet.pack,
                "cuts": [
                    {
                        "wall": cut.wall,
                        "face": cut.face,
                        "board": cut.board,
                        "across": write_length(cut.across_mm),
                        "up": write_length(cut.up_mm),
                    }
                    for cut in sheet.cuts
                ],
                "offcuts": [
                    {
                        "across": write_length(offcut.across_mm),
                        "up": write_length(offcut.up_mm),
                        "width": write_length(offcut.width_mm),
                        "height": write_length(offcut.height_mm),
                    }
                    for offcut in sheet.offcuts
                ],
            }
            for sheet in plan.sheets
        ],
    }


def _gap(reader: Reader) -> float | None:
    gap = reader.optional_decimal("gap", "0", "1000")
    return None if gap is None else float(gap)


def _face(reader: Reader) -> KeptFace:
    lines = []
    for layer, values in enumerate(reader.values("courses", 20)):
        if not isinstance(values, list) or not 2 <= len(values) <= 200:
            raise reader.error(f"courses[{layer}]", "must be a list of 2 to 200 heights, floor and ceiling included")
        lines.append(tuple(reader.length_of(f"courses[{layer}][{n}]", entry) for n, entry in enumerate(values)))
    return KeptFace(
        reader.text("wall", longest=40),
        reader.choice("face", FACES),
        reader.text("mark", longest=64),
        tuple(lines),
        reader.items("joints", _joint),
    )


def _joint(reader: Reader) -> KeptJoint:
    return KeptJoint(reader.whole("layer", 1, 20), reader.whole("course", 1, 200), reader.length("along"))


def _sheet(reader: Reader) -> KeptSheet:
    return KeptSheet(
        reader.text("material", longest=60),
        reader.text("pack", longest=60),
        reader.items("cuts", _cut, most=1000),
        reader.items("offcuts", _offcut, most=1000),
    )


def _cut(reader: Reader) -> KeptCut:
    return KeptCut(
        reader.text("wall", longest=40),
        reader.choice("face", FACES),
        reader.whole("board", 1, 100_000),
        reader.length("across"),
        reader.length("up"),
    )


def _offcut(reader: Reader) -> Offcut:
    return Offcut(reader.length("across"), reader.length("up"), reader.length("width"), reader.length("height"))


# --- sticks -------------------------------------------------------------------------------------------------


def read_kept_sticks(reader: Reader) -> KeptSticks:
    """Stick plans. reader: their object. Raises DocumentError."""
    return KeptSticks(
        reader.items("plans", _stick_plan, most=200),
        reader.text("by", "", longest=200),
        reader.optional_day("on"),
    )


def write_kept_sticks(plans: KeptSticks) -> Document:
    """Stick plans as `read_kept_sticks` reads them back the same."""
    return {
        "by": plans.by,
        "on": plans.on.isoformat() if plans.on else None,
        "plans": [
            {
                "material": plan.material,
                "mark": plan.mark,
                "cost": _plain(plan.cost),
                "quick_cost": _plain(plan.quick_cost),
                "bound_cost": _plain(plan.bound_cost),
                "bound_sticks": plan.bound_sticks,
                "bound_by": plan.method,
                "found_by": plan.found_by,
                "working": list(plan.working),
                "sticks": [
                    {
                        "stock": stick.stock,
                        "count": stick.count,
                        "cuts": [{"label": label, "length": write_length(length)} for label, length in stick.cuts],
                    }
                    for stick in plan.sticks
                ],
            }
            for plan in plans.plans
        ],
    }


def _stick_plan(reader: Reader) -> KeptStickPlan:
    return KeptStickPlan(
        reader.text("material", longest=60),
        reader.text("mark", longest=64),
        reader.items("sticks", _stick),
        reader.optional_money("cost"),
        reader.optional_money("quick_cost"),
        reader.optional_money("bound_cost"),
        reader.whole("bound_sticks", 0, 100_000),
        reader.text("bound_by", "", longest=200),
        reader.text("found_by", "", longest=200),
        reader.texts("working"),
    )


def _stick(reader: Reader) -> KeptStick:
    return KeptStick(
        reader.text("stock", longest=60), reader.whole("count", 1, 10_000), reader.items("cuts", _stick_cut)
    )


def _stick_cut(reader: Reader) -> tuple[str, float]:
    return reader.text("label", longest=500), reader.length("length")


def _plain(amount: Decimal | None) -> str | None:
    return None if amount is None else format(amount, "f")
