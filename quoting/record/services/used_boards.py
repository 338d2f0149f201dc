"""How much of each board a job used: received, less what went back and what was left over."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from decimal import Decimal

from catalog.core.ground.units import convert
from catalog.models import Material
from jobs.bills.services.bill_rows import ordered_rows, placed_lines
from jobs.orders.models import OrderLine
from jobs.stock.models import Stock
from quoting.core.money.closed_jobs import UsedMaterial
from quoting.record.models import LeftOver
from quoting.record.services.agreed import Agreed

NOT_COUNTED = "left over not counted"
NOTHING_CAME = "nothing received here"
UNKNOWN_PACK = "size of a sheet not known"


def used_boards(agreed: Mapping[int, Agreed]) -> dict[int, dict[str, UsedMaterial]]:
    """By job and code of the board, in the unit the catalog uses it by."""
    codes = {code for entry in agreed.values() for code in entry.boards_sqm}
    materials = {entry.code: entry for entry in Material.objects.filter(code__in=codes).prefetch_related("packs")}
    came, shelf, left = _came(agreed, materials), _of_the_shelf(agreed, materials), _left_over(agreed)
    return {
        job: {
            code: _used(materials[code], net, [*came[job, code], *shelf[job, code]], left.get((job, code)))
            for code, net in entry.boards_sqm.items()
            if code in materials and net > 0
        }
        for job, entry in agreed.items()
    }


def _used(
    material: Material, net_sqm: float, came: list[tuple[Decimal, Decimal | None]], left: Decimal | None
) -> UsedMaterial:
    """came: how many sheets, and what is in each."""
    net = convert(Decimal(repr(net_sqm)), "sqm", material.unit_used)
    sizes = [size for _, size in came if size is not None]
    if not came:
        return UsedMaterial(net, None, NOTHING_CAME)
    if len(sizes) < len(came):
        return UsedMaterial(net, None, UNKNOWN_PACK)
    if left is None:
        return UsedMaterial(net, None, NOT_COUNTED)
    count = sum((number for number, _ in came), Decimal(0))
    area = sum((number * (size or 0) for number, size in came), Decimal(0))
    # A sheet left over counts as the sheets that came do on average.
    return UsedMaterial(net, area * (count - left) / count) if count > 0 else UsedMaterial(net, None, NOTHING_CAME)


def _came(
    agreed: Mapping[int, Agreed], materials: Mapping[str, Material]
) -> Mapping[tuple[int, str], list[tuple[Decimal, Decimal | None]]]:
    result: defaultdict[tuple[int, str], list[tuple[Decimal, Decimal | None]]] = defaultdict(list)
    lines = list(placed_lines(agreed.keys()).filter(material__in=materials))
    for line, row in zip(lines, ordered_rows(lines), strict=True):
        if row.received > 0:
            result[line.job_id, line.material_id].append((row.received, sheet_size(line, materials[line.material_id])))
    return result


def sheet_size(line: OrderLine, material: Material) -> Decimal | None:
    """How much is in one of what the line counts, on average of the packs it states; None where that is not known."""
    sizes = {pack.label: pack.quantity for pack in material.packs.all()}
    packs = line.statement.get("packs") or []
    if not packs:
        return next(iter(sizes.values())) if len(sizes) == 1 else None
    if any(pack["label"] not in sizes for pack in packs):
        return None
    count = sum(Decimal(pack["count"]) for pack in packs)
    return sum((Decimal(pack["count"]) * sizes[pack["label"]] for pack in packs), Decimal(0)) / count if count else None


def _of_the_shelf(
    agreed: Mapping[int, Agreed], materials: Mapping[str, Material]
) -> Mapping[tuple[int, str], list[tuple[Decimal, Decimal | None]]]:
    """Whole sheets of the firm's stock set aside for a job."""
    result: defaultdict[tuple[int, str], list[tuple[Decimal, Decimal | None]]] = defaultdict(list)
    for row in Stock.objects.filter(job__in=agreed.keys(), material__in=materials).exclude(pack=""):
        sizes = {pack.code: pack.quantity for pack in materials[row.material_id].packs.all()}
        if row.job_id is not None:
            result[row.job_id, row.material_id].append((Decimal(row.count), sizes.get(row.pack)))
    return result


def _left_over(job_ids: Iterable[int]) -> dict[tuple[int, str], Decimal]:
    rows = LeftOver.objects.filter(job__in=list(job_ids))
    return {(row.job_id, row.material_id): row.count for row in rows}
