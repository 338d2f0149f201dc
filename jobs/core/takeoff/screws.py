"""Which screw is right for the steel it passes, and how many stand on a line of studs.

A screw at the top or bottom track passes the track and the stud, one between them the stud alone. The thickest part
governs. Which steel a screw is for is a figure of the catalog: a screw that does not say serves steel under 0.033 in.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from catalog.core.ground.units import TOLERANCE_MM, format_both
from catalog.core.materials.specs import Material
from jobs.core.framing.framing import Framing, Station
from jobs.core.measure.findings import Finding

C954_FROM_MIL = 33
C954_TO_MIL = 112
STEEL_SOURCE = "ASTM C1002 for steel under 0.033 in, ASTM C954 for 0.033 to 0.112 in"
OFFERED = 3


def screws_on_a_line(height_mm: float, spacing_mm: float) -> int:
    """Screws of one layer on one stud line: ceil(height / spacing) + 1.

    Args:
        height_mm: of the board on that line, mm, > 0.
        spacing_mm: at most between two screws, mm, > 0.

    Returns:
        The count, one at each end included.

    Raises:
        ValueError: a figure not more than zero.

    Source: at most 16 in on walls, 12 in usual (NAVEDTRA 14044); counted per stud line, never per area.

    >>> screws_on_a_line(96 * 25.4, 16 * 25.4)
    7
    """
    if not (height_mm > 0 and spacing_mm > 0):
        raise ValueError(f"screws need lengths over zero, not {format_both(height_mm)} and {format_both(spacing_mm)}")
    return math.ceil((height_mm - TOLERANCE_MM) / spacing_mm) + 1


def shortest_that_reaches(screws: Sequence[Material], needed_mm: float) -> Material | None:
    """The shortest screw long enough.

    Args:
        screws: to choose from; those without `screw_length_mm` are passed over.
        needed_mm: layers plus penetration, mm, > 0. An exact fit reaches (tolerance 1e-6 mm).

    Returns:
        The screw, or None when none reaches.

    Raises:
        nothing of its own.

    Source: layers + 3/8 in, next stock length up: common practice.

    >>> shortest_that_reaches([], 22.225) is None
    True
    """
    lengths = [(fact.number, screw) for screw in screws if (fact := screw.fact("screw_length_mm"))]
    reaching = [pair for pair in lengths if pair[0] >= needed_mm - TOLERANCE_MM]
    return min(reaching, key=lambda pair: pair[0])[1] if reaching else None


def suits(screw: Material, steel_mil: float | None) -> bool:
    """Whether a screw is for steel of that thickness.

    screw: its facts `least_steel_mil` and `greatest_steel_mil` are read. steel_mil: > 0, None when nobody has stated
    it: then every screw may be. Source: ASTM C1002 and C954, as the facts state.

    >>> plain = Material("S", "Screw", "fastener", "stocked", "each", "box", None)
    >>> suits(plain, 18.0), suits(plain, 33.0)
    (True, False)
    """
    if steel_mil is None:
        return True
    least, greatest = screw.fact("least_steel_mil"), screw.fact("greatest_steel_mil")
    if least is None and greatest is None:
        return steel_mil < C954_FROM_MIL
    return (least is None or steel_mil >= least.number) and (greatest is None or steel_mil <= greatest.number)


def thickest(parts: Iterable[Material]) -> Material | None:
    """Of the steel parts a screw passes the thickest, None while one of them does not state `steel_mil`."""
    known = [(fact.number, part) for part in parts if (fact := part.fact("steel_mil"))]
    return max(known, key=lambda pair: pair[0])[1] if known else None


def steel_of(part: Material | None) -> float | None:
    """In mil, None when it is not known."""
    fact = part.fact("steel_mil") if part else None
    return fact.number if fact else None


def unknown_steel(key: str, parts: Iterable[tuple[str, Material]]) -> Iterable[Finding]:
    """A note for each part a screw passes whose steel nobody has stated. key: of the wall. parts: word and material."""
    for word, part in parts:
        if part.fact("steel_mil") is None:
            sentence = (
                f"The steel of the {word.replace('-', ' ')} {part.code} is not stated: see which point the screws need."
            )
            yield Finding(f"{key}/{word}/steel", "note", sentence, STEEL_SOURCE)


def wrong_screw(
    key: str, what: str, chosen: Material, part: Material, materials: Mapping[str, Material], needed_mm: float = 0.0
) -> Finding:
    """The caution that a screw is not for the steel it passes, with the right ones of the catalog.

    Args:
        key: of the finding. what: the screws, in words. chosen: what is counted all the same. part: the thickest
            steel passed. materials: the catalog by code. needed_mm: the length wanted, 0 for any.

    Returns:
        The caution.

    Raises:
        nothing of its own.

    Source: ASTM C1002 and C954.
    """
    steel_mil = steel_of(part) or 0.0
    standard = "ASTM C954" if steel_mil >= C954_FROM_MIL else "ASTM C1002"
    stated = chosen.fact("least_steel_mil") or chosen.fact("greatest_steel_mil")
    lack = "is not for it" if stated else "does not say which steel it is for"
    sentence = f"{what} pass {steel_mil:g} mil steel ({part.code}); {chosen.code} {lack}"
    if steel_mil > C954_TO_MIL:
        return Finding(
            key, "caution", f"{sentence}. No screw standard reaches that thick: ask its maker.", STEEL_SOURCE
        )
    right = [material for material in materials.values() if _is_right(material, steel_mil, needed_mm, chosen)]
    right.sort(key=lambda screw: (screw.facts["screw_length_mm"].number, screw.code))
    named = ", ".join(f"{screw.name} ({screw.code})" for screw in right[:OFFERED])
    way = f"Name in the kit: {named}." if named else f"Add a screw to {standard} to the catalog and the kit."
    if not stated:
        way = f"Fill that in, or name in the kit: {named}." if named else f"Fill that in, or add a screw to {standard}."
    return Finding(key, "caution", f"{sentence}. {way}", STEEL_SOURCE)


def _is_right(screw: Material, steel_mil: float, needed_mm: float, chosen: Material) -> bool:
    length, wanted = screw.fact("screw_length_mm"), chosen.fact("screw_length_mm")
    if (
        screw.kind != "fastener"
        or length is None
        or not (screw.fact("least_steel_mil") or screw.fact("greatest_steel_mil"))
    ):
        return False
    least_mm = needed_mm or (wanted.number if wanted else 0.0)
    return suits(screw, steel_mil) and length.number >= least_mm - TOLERANCE_MM


def ends_in_track(framing: Framing, station: Station) -> int:
    """How many ends of a member stand in top or bottom track: two for a whole stud, one for a cripple."""
    whole_mm = framing.curve.heights.at(station.along_mm)
    return 2 if station.clear_mm >= whole_mm - TOLERANCE_MM else 1
