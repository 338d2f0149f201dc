"""Where a wall stands in the room: the tapes to its ends, from two fixed points of the building."""

from catalog.core.ground.units import System, format_degrees
from jobs.core.measure.room_tie import RoomPlace
from jobs.site.papers.site_parts import SiteTable
from jobs.site.services.words import LINE_WORDS, lengths_in

HEADING = "Start and direction in the room"


def in_the_room(place: RoomPlace, system: System) -> SiteTable:
    say, tie = lengths_in(system), place.tie
    rows = tuple(
        (
            diagonal.from_name,
            f"{diagonal.to_name} of the wall" if diagonal.to_name in ("start", "end") else diagonal.to_name,
            say(diagonal.length_mm),
        )
        for diagonal in place.diagonals
    )
    notes = [
        f"Tapes to the {LINE_WORDS[place.line]}. {tie.first} and {tie.second} are {say(tie.apart_mm)} apart; going "
        f"from the first to the second the start stands to the {tie.side}. Mark the start, then the "
        f"{place.point_name}, and prove the rest."
    ]
    if not place.is_good:
        notes.append(f"The tapes cross at only {format_degrees(place.crossing_rad, 0)}° at the start, a poor fix.")
    if place.agrees is False:
        notes.append(
            f"The tapes put start and {place.point_name} {say(place.taped_mm)} apart, the wall's own figures "
            f"{say(place.own_mm)}: tape again before you build."
        )
    return SiteTable(HEADING, ("From", "To", "Tape"), rows, words=(0, 1), notes=tuple(notes), front=1)
