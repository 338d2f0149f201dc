import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from itertools import pairwise

import pytest

from catalog.core.ground.refusal import Refused
from jobs.core.framing.setting_out import Members
from jobs.core.measure.room_tie import RoomTie
from jobs.core.measure.survey import ArcPiece, RadiusAngle
from jobs.site.papers.site_parts import SiteTable
from jobs.site.papers.site_sheet import SitePaper
from jobs.site.services.cuts import materials
from jobs.site.services.on_site import Arrival
from jobs.site.services.sheet import CAUTIONS, on_screen, site_paper, site_wall
from jobs.site.services.studs import members_words
from jobs.site.services.words import interval_typed
from quoting.core.quotes.work_up import WorkUp, work_up
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.platform.papers.parts import SheetError
from quoting.platform.papers.typeset import paper_html, paper_pdf
from tests.documents import JOBS, job_file
from tests.support.four_chains import four_chains
from tests.support.paper_reading import open_paper, page_texts, whole_text
from tests.support.worked import TODAY


@cache
def done(name: str) -> WorkUp:
    return work_up(job_file(name), TODAY)


@cache
def paper(name: str) -> SitePaper:
    return site_paper(done(name), prepared_by="R. Sallow")


def table(name: str, heading: str, wall: int = 0) -> SiteTable:
    tables = [entry for section in paper(name).walls[wall].sections for entry in section.tables]
    return next(entry for entry in tables if entry.heading.startswith(heading))


# Larkmoor Dental: chord 14'-0", rise 2'-6" on the convex framing face (worked by hand: R 132.600 in).
def test_the_ordinate_at_mid_chord_is_the_rise():
    convex = table("larkmoor-dental", "Piece 1, convex framing face")
    assert convex.notes[0].startswith("Chord 14' 0\", rise 2' 6\", radius 11' 0-5/8\"")
    assert ("7' 0\"", "2' 6\"") in convex.rows
    assert convex.rows[0] == ('0"', '0"') and convex.rows[-1] == ("14' 0\"", '0"')
    assert len(convex.rows) == 15


# Pythagoras by hand, 36 in along: sqrt(132.6^2 - 48^2) - 102.6 = 21.007 in.
def test_an_ordinate_between_agrees_with_the_circle():
    assert dict(table("larkmoor-dental", "Piece 1, convex framing face").rows)["3' 0\""] == "1' 9\""


# The concave framing face is 3-5/8 in further in, and its chord shorter as the radii: 168 x 128.975 / 132.6 = 163.407.
def test_the_concave_framing_face_has_a_table_of_its_own():
    assert "Chord 13' 7-7/16\"" in table("larkmoor-dental", "Piece 1, concave framing face").notes[0]


def test_a_metric_firm_sets_out_every_300_mm():
    read = job_file("larkmoor-dental")
    metric = replace(read, book=replace(read.book, firm=replace(read.book.firm, display_units="metric")))
    sheet = site_paper(work_up(metric, TODAY), prepared_by="R. Sallow")
    tables = [entry for section in sheet.walls[0].sections for entry in section.tables]
    ordinates = next(entry for entry in tables if "convex framing face" in entry.heading)
    assert [row[0] for row in ordinates.rows[:3]] == ["0 mm", "300 mm", "600 mm"]
    assert sheet.sheet_size == "a4"


def test_more_than_half_a_circle_is_set_out_in_two_halves():
    read = job_file("larkmoor-dental")
    wall = read.job.walls[0]
    turned = replace(wall, pieces=(ArcPiece(RadiusAngle(2500.0, 3.6), "left"),), openings=())
    sheet = site_paper(work_up(replace(read, job=replace(read.job, walls=(turned,))), TODAY), prepared_by="R. Sallow")
    headings = [entry.heading for entry in sheet.walls[0].sections[0].tables]
    assert sum("half of the arc" in heading for heading in headings) == 4


# Pythagoras by hand, 6 in along: sqrt(132.6^2 - 78^2) - 102.6 = 4.630 in, to a sixteenth 4-5/8.
def test_ordinates_stand_at_the_interval_asked_for():
    wall = site_wall(done("larkmoor-dental").walls[0], done("larkmoor-dental").read.book, interval_mm=6 * 25.4)
    convex = next(entry for entry in wall.sections[0].tables if "convex framing face" in entry.heading)
    assert len(convex.rows) == 168 // 6 + 1
    assert dict(convex.rows)['6"'] == '4-5/8"'


@pytest.mark.parametrize("typed", ["0", "-3", "nonsense", "100 m"])
def test_an_interval_that_cannot_be_is_refused_by_name(typed):
    with pytest.raises(Refused, match="Interval"):
        interval_typed(typed, "imperial")


# Chord 168 in, start at the column, the corner 126 in square off it: 3-4-5, 210 in = 17'-6" to the end.
def test_the_start_and_direction_in_the_room_come_first():
    read = job_file("larkmoor-dental")
    room = RoomTie("Column C4", "Corner", 3200.4, 0.0, 3200.4, 4267.2, 5334.0)
    tied = work_up(replace(read, job=replace(read.job, walls=(replace(read.job.walls[0], room=room),))), TODAY)
    first = site_paper(tied, prepared_by="S").walls[0].sections[0].tables[0]
    assert first.heading == "Start and direction in the room"
    assert ("Corner", "end of the wall", "17' 6\"") in first.rows
    assert "Nothing ties this wall" in paper("larkmoor-dental").walls[0].sections[0].says[0]


def test_what_has_come_stands_beside_what_is_wanted():
    came = [
        Arrival("TRACK-358", date(2026, 12, 3), Decimal(4), "stick"),
        Arrival("TRACK-358", date(2026, 12, 7), Decimal(-1), "stick"),
    ]
    rows = materials(done("larkmoor-dental"), came).tables[0].on_screen.rows
    message = {row[0]: row[3] for row in rows}
    assert message["Curvable track, 3-5/8 in, 10 ft"] == "Thu 3 Dec 2026: 4 sticks; Mon 7 Dec 2026: 1 stick sent back"
    assert message["Steel stud, 3-5/8 in, 18 mil"] == ""


# Merrow & Finch Boutique: arc 96 in left 70 degrees, arc 72 in right 55 degrees, straight 44 in.
def test_a_chain_has_a_baseline_joints_and_every_diagonal():
    assert sum(row[4] == "end or joint" for row in table("merrow-finch-boutique", "The whole wall").rows) == 4
    assert len(table("merrow-finch-boutique", "Check diagonals").rows) == 6
    assert [row[2] for row in table("merrow-finch-boutique", "Pieces").rows][2] == "straight"


@pytest.mark.parametrize("name", JOBS)
def test_the_stud_list_and_the_marks_hold_every_member(name):
    for place, wall in enumerate(done(name).walls):
        assert sum(int(row[0]) for row in table(name, "Stud list", place).rows) == wall.framing.member_count
        first = table(name, "Stud marks", place).rows[0]
        assert first[0] == "1" and '0"' in first


# A flat behind a sheet end of each face beside the stud: three members in all.
def test_the_marks_say_how_many_of_each_stand_and_which_face_a_flat_backs():
    members = (Members("stud", 1), Members("sheet_end", 1, "left"), Members("sheet_end", 1, "right"))
    assert members_words(members) == "1 stud + 2 flats: left and right face"
    assert members_words(members[:2]) == "1 stud + 1 flat: left face"
    assert members_words((Members("jamb", 2),)) == "2 jambs"


def test_the_stud_list_says_what_is_laid_flat_beside_it():
    wall = done("larkmoor-dental").walls[0]
    # One head over the door; the takeoff buys it with the studs.
    assert wall.laid_flat_count == 1
    assert "1 more cut from the same stud and laid flat" in table("larkmoor-dental", "Stud list").notes[0]
    studs = next(quantity for quantity in wall.quantities if quantity.key.endswith("/studs"))
    assert studs.label == f"Studs, {wall.stud_count} and 1 laid flat"


@pytest.mark.parametrize("name", JOBS)
def test_every_board_is_listed_and_cut_from_one_sheet(name):
    listed = {
        (wall.name, table_.notes[0], table_.heading, row[0])
        for wall in paper(name).walls
        for section in wall.sections
        for table_ in section.tables
        if table_.heading.startswith("Layer")
        for row in table_.rows
    }
    pieces = sum(len(layer.pieces) for wall in done(name).walls for plan in wall.face_plans for layer in plan.layers)
    sheets = [entry for entry in paper(name).cut_lists.tables if entry.columns[0] == "Sheet"]
    cut = sum(row[sheet.columns.index("Boards cut from it")].count(";") + 1 for sheet in sheets for row in sheet.rows)
    assert len(listed) == pieces == cut


def test_a_job_of_one_wall_does_not_name_it_in_each_cut_and_alike_sheets_are_named_once():
    entry = paper("larkmoor-dental").cut_lists.tables[-1]
    assert entry.columns == ("Sheet", "Boards cut from it", "Left over") and entry.notes == ("Each a 4 x 8 ft sheet.",)
    assert entry.rows[0][1].startswith("left 1: ")
    several = [row for table_ in paper("brightwell-childcare").cut_lists.tables for row in table_.rows]
    assert any("Play bay" in " ".join(row) for row in several)


@pytest.mark.parametrize("name", JOBS)
def test_every_stick_of_the_takeoff_is_in_a_cut_list(name):
    planned = sum(len(purchase.cuts.sticks) for purchase in done(name).takeoff.purchases if purchase.cuts)
    listed = [entry for entry in paper(name).cut_lists.tables if entry.columns[0] == "Sticks"]
    assert sum(int(row[0]) for entry in listed for row in entry.rows) == planned


@pytest.mark.parametrize("name", JOBS)
def test_no_money_and_no_supplier_is_on_the_sheet(name):
    html = paper_html(paper(name))
    text = " ".join(re.sub(r"<[^>]*>", " ", html).split())
    book = done(name).read.book
    assert book.suppliers and not any(supplier.name in html for supplier in book.suppliers.values())
    prices = [price.amount for material in book.materials.values() for pack in material.packs for price in pack.prices]
    assert prices and not [
        amount for amount in prices if re.search(rf"(?<!\d){re.escape(f'{amount:.2f}')}(?!\d)", text)
    ]
    for word in (book.firm.currency, "margin", "markup", "price", "cost"):
        assert word not in text


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_the_sheet_is_printed_with_its_cautions_drawings_and_tables(size):
    pdf = paper_pdf(replace(paper("larkmoor-dental"), sheet_size=size))
    words = whole_text(pdf)
    for message in ("29 CFR 1926.1153", "40 CFR 745", "29 CFR 1926.1101", "Local code", "Field check", "2' 6\""):
        assert message.lower() in words.lower()
    widths = {"a4": 210.0, "letter": 215.9}
    assert float(open_paper(pdf).pages[0].mediabox.width) * 25.4 / 72 == pytest.approx(widths[size], abs=0.1)


@pytest.mark.parametrize("sheet", ["larkmoor-dental", "merrow-finch-boutique", "four chains"])
def test_a_wall_takes_at_most_eight_sheets_and_the_first_two_are_to_build_from(sheet):
    filled = site_paper(work_up(four_chains(), TODAY), prepared_by="S") if sheet == "four chains" else paper(sheet)
    texts = [" ".join(words.split()) for words in page_texts(paper_pdf(filled))]
    # A wall's sheets run from where it stands to the next wall, the last one's to what is of the whole job.
    starts = [number for number, words in enumerate(texts) if ": where it stands" in words]
    whole_job = next(number for number, words in enumerate(texts) if "Cut lists of the job" in words)
    assert len(starts) == len(filled.walls)
    assert max(after - before for before, after in pairwise([*starts, whole_job])) <= 8
    assert "Ordinate" in texts[0]
    assert len(filled.walls) > 1 or all(part in texts[1] for part in ("Stud list", "Sheets", "Trim pieces", "on site"))


def test_cautions_come_last():
    words = whole_text(paper_pdf(paper("ashgrove-library")))
    assert words.rindex("Cautions") > max(words.rindex(part) for part in ("Ordinate", "Cut lists", "field check"))


def test_what_is_missing_is_named_and_nothing_is_listed_in_its_place():
    read = job_file("larkmoor-dental")
    bare = replace(read.job.walls[0], track="NO-SUCH", left=replace(read.job.walls[0].left, layers=()))
    wall = site_paper(work_up(replace(read, job=replace(read.job, walls=(bare,))), TODAY), prepared_by="S").walls[0]
    assert any('"NO-SUCH" is not in the catalog' in sentence for sentence in wall.missing)
    left = next(section for section in wall.sections if section.heading == "Left face")
    assert left.says == ("This face carries no boards.",) and not left.tables


def test_a_job_without_walls_has_nothing_to_set_out():
    read = job_file("larkmoor-dental")
    with pytest.raises(Refused, match="no wall yet"):
        site_paper(work_up(replace(read, job=replace(read.job, walls=())), TODAY), prepared_by="S")


def test_a_kept_sheet_is_read_back_as_it_was_filled():
    assert read_paper(SitePaper, write_paper(paper("ashgrove-library"))) == paper("ashgrove-library")


def test_columns_filled_in_by_hand_are_on_paper_only():
    wall = paper("larkmoor-dental").walls[0]
    written, shown = (
        next(s for s in entry.sections if s.heading == "Field check").tables[0] for entry in (wall, on_screen(wall))
    )
    assert (len(written.columns), len(shown.columns)) == (5, 3)
    assert shown.rows[0] == ("Piece 1, chord", "14' 0\"", "not measured yet")


def test_a_row_with_a_cell_too_few_is_refused():
    with pytest.raises(SheetError, match="has 1 cells; it must have 2"):
        SiteTable("Ordinates", ("Along", "Ordinate"), (("1",),))


def test_a_sheet_without_cautions_is_refused():
    assert CAUTIONS
    with pytest.raises(SheetError, match="cautions is empty"):
        replace(paper("larkmoor-dental"), cautions=())
