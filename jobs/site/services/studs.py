"""Track, the stud list and where each stud is marked."""

from collections.abc import Iterable

from catalog.core.materials.catalog_data import Catalog
from jobs.core.framing.setting_out import Members, StudMark, stud_marks
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.site.papers.site_parts import SiteSection, SiteTable
from jobs.site.services.boards import sheets
from jobs.site.services.words import STATION_WORDS, Say, lengths_in

NOT_SET_OUT = "The studs cannot be set out yet: what is missing is named above."
HOW = (
    "Stretch a tape along the edge of the track from the start of the wall. Where bottom track is cut out at a door "
    "the tape starts again. The same links are counted on the top and the bottom track. A flat is a stud laid flat "
    "behind a sheet end of the face named.",
)


def studs(work_up: WallWorkUp, book: Catalog) -> SiteSection:
    if not work_up.framing.is_complete:
        return SiteSection("Track and studs", (NOT_SET_OUT,))
    say = lengths_in(book.firm.display_units)
    track = book.materials.get(work_up.spec.track)
    pitch = track.fact("link_pitch_mm") if track else None
    marks = stud_marks(work_up.framing, pitch.number if pitch else None)
    tables = (_list(work_up, say), _track(work_up, say), sheets(work_up, book), _marks(marks, say, pitch is not None))
    return SiteSection("Track and studs", (_bought_as(work_up, book), *HOW), tables)


def _bought_as(work_up: WallWorkUp, book: Catalog) -> str:
    names = [
        f"{word}: {material.name}"
        for word, code in (("Track", work_up.spec.track), ("Studs", work_up.spec.stud))
        if (material := book.materials.get(code)) is not None
    ]
    return ". ".join(names) + "."


def _track(work_up: WallWorkUp, say: Say) -> SiteTable:
    rows = tuple(
        (
            f"{run.kind} of {run.name}" if run.name else run.kind,
            say(run.from_mm),
            say(run.to_mm),
            say(run.length_mm),
        )
        for run in work_up.framing.track
    )
    note = "From and to are along the centreline; the length is along the convex framing edge, where links open."
    return SiteTable("Track, heads and sills", ("Run", "From", "To", "Length"), rows, notes=(note,), front=2)


def _list(work_up: WallWorkUp, say: Say) -> SiteTable:
    rows = tuple((str(group.count), say(group.length_mm)) for group in work_up.framing.stud_list)
    count = f"{work_up.stud_count} in all, cripples and sheet-end studs included."
    if work_up.laid_flat_count:
        count += f" {work_up.laid_flat_count} more cut from the same stud and laid flat: see heads and sills."
    return SiteTable("Stud list", ("Count", "Cut to"), rows, words=(), notes=(count,), narrow=True, front=2)


def _marks(marks: tuple[StudMark, ...], say: Say, has_links: bool) -> SiteTable:
    links = ("Links in the piece",) if has_links else ()
    columns = ("No.", "What goes there", "Piece", *links, "Top, left edge", "Top, right edge")
    columns += ("Bottom length", "Bottom, left edge", "Bottom, right edge")
    rows = tuple(_mark(mark, say, has_links) for mark in marks)
    return SiteTable("Stud marks on the track", columns, rows, words=(1,))


def _mark(mark: StudMark, say: Say, has_links: bool) -> tuple[str, ...]:
    links = (_links(mark, say),) if has_links else ()
    bottom = ("in the door", "", "")
    if mark.bottom_run is not None and mark.bottom_left_mm is not None and mark.bottom_right_mm is not None:
        bottom = (str(mark.bottom_run), say(mark.bottom_left_mm), say(mark.bottom_right_mm))
    where = (str(mark.piece_index + 1), *links, say(mark.left_mm), say(mark.right_mm))
    return (str(mark.number), members_words(mark.members), *where, *bottom)


def members_words(members: Iterable[Members]) -> str:
    """What stands at a mark, each kind with its count: "1 stud + 2 flats: left and right face"."""
    plain = [member for member in members if member.kind != "sheet_end"]
    flats = [member for member in members if member.kind == "sheet_end"]
    counts = [f"{member.count} {_plural(*STATION_WORDS[member.kind], member.count)}" for member in plain]
    if flats:
        count = sum(flat.count for flat in flats)
        faces = " and ".join(flat.face for flat in flats if flat.face)
        counts.append(f"{count} {_plural('flat', 'flats', count)}{f': {faces} face' if faces else ''}")
    return " + ".join(counts)


def _plural(single: str, several: str, count: int) -> str:
    return single if count == 1 else several


def _links(mark: StudMark, say: Say) -> str:
    over = mark.past_link_mm or 0.0
    # Under half the finest mark of a tape a place is on the link.
    return f"{mark.links}" if over < 0.8 else f"{mark.links} + {say(over)}"
