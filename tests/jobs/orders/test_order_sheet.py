"""What a supplier asks by telephone stands on the order sheet: whom, where to, by when, for how much."""

from datetime import date
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from catalog.core.ground.refusal import Refused
from catalog.models import Firm, Material, OrderTerms
from jobs.core.ordering.line_pieces import LinePiece
from jobs.core.ordering.order_lines import StatedCurve, StatedRadius, StatedRun
from jobs.core.trim.trim_order import MEASURED_AT
from jobs.orders.services.drafting import change_draft
from jobs.orders.services.sheet_runs import piece_rows
from jobs.orders.services.sheets import order_sheet
from quoting.platform.papers.drawings import checked, size_of
from quoting.platform.papers.typeset import paper_html, paper_pdf
from tests.jobs.orders.test_orders import MOMENT, drafted, job, mill, placed, released  # noqa: F401

pytestmark = pytest.mark.django_db


def sheet_of(order):
    order.refresh_from_db()
    return order_sheet(order, "R. Sallow", MOMENT)


def deliver_to(order, where):
    order.refresh_from_db()
    return change_draft(order, seen_version=order.version, note="", rush=(), deliver_to=where)


def test_whom_to_ask_for_and_our_account_stand_with_the_supplier(job, mill):  # noqa: F811
    mill.contact, mill.phone, mill.account_number = "Ada at the desk", "555 0148", "K-207"
    mill.save()
    lines = sheet_of(drafted(job, mill)).supplier.lines
    assert lines[:2] == ("Ada at the desk", "555 0148") and lines[-1] == "Our account K-207"


def test_it_goes_to_our_dock_unless_the_site_is_chosen(job, mill):  # noqa: F811
    order = drafted(job, mill)
    assert sheet_of(order).deliver_to.name == "Our dock"
    assert sheet_of(order).deliver_to.lines[0] == Firm.objects.get().address.splitlines()[0]
    deliver_to(order, "site")
    sheet = sheet_of(order)
    assert (sheet.deliver_to.name, sheet.deliver_to.lines[0], sheet.to_site) == ("The site", job.site_address, True)
    assert sheet.deliver_to.lines[1:] == tuple(Firm.objects.get().contact.splitlines())
    assert "On site by" in paper_html(sheet) and "At the dock by" not in paper_html(sheet)


def test_the_site_needs_an_address_and_must_be_one(job, mill):  # noqa: F811
    order = drafted(job, mill)
    type(job).objects.update(site_address="")
    with pytest.raises(Refused, match="The site has no address: enter it on the job"):
        deliver_to(order, "site")
    with pytest.raises(Refused, match='Deliver to is one of dock, site, not "roof"'):
        deliver_to(order, "roof")


def test_it_is_confirmed_two_working_days_later_and_at_the_dock_before_the_cushion(job, mill):  # noqa: F811
    """Placed Wed 9 Dec 2026; needed Mon 25 Jan 2027, three working days of cushion before: Wed 20 Jan."""
    order = drafted(job, mill)
    released(job)
    sheet = sheet_of(placed(order))
    assert (sheet.confirm_by, sheet.dock_by) == ("Fri 11 Dec 2026", "Wed 20 Jan 2027")
    assert sheet.reference == f"{order.number}, J-0001"


def test_freight_and_total_follow_the_suppliers_terms(job, mill):  # noqa: F811
    """615.00 of base and 65.00 of freight, which is free from 900.00 on, are 680.00."""
    terms = {"freight": Decimal(65), "freight_free_from": Decimal(900), "claim_days": 5, "source": "Price list"}
    OrderTerms.objects.update_or_create(supplier=mill, defaults=terms | {"stated_on": date(2026, 11, 2)})
    order = drafted(job, mill)
    order.lines.update(amount=Decimal("615.00"))
    sheet = sheet_of(order)
    assert [(sum_.label, sum_.value) for sum_ in sheet.sums] == [
        ("Goods", "USD 615.00"),
        ("Freight", "USD 65.00"),
        ("Total before tax", "USD 680.00"),
    ]
    assert sheet.terms[-1] == "Damage is claimed within 5 calendar days of receipt."


def test_without_a_price_the_total_is_to_be_told(job, mill):  # noqa: F811
    order = drafted(job, mill)
    order.lines.update(amount=None, unit_price=None)
    assert [sum_.value for sum_ in sheet_of(order).sums] == ["please state"] * 3


def test_the_profile_is_drawn_in_its_own_size(job, mill):  # noqa: F811
    """The base is 5-1/4 in high, so its section is at least 133 mm high on the paper at 1:1."""
    profile = sheet_of(drafted(job, mill)).lines[0].profile
    width, height = size_of(checked(profile.svg))
    # Beside the pieces: 58 mm of the sheet's 174.
    assert (profile.scale, width) == ("1:1", 58) and height > 133.35
    assert "section of " + Material.objects.get(code="BASE-514-FLEX").name in profile.caption


def test_each_piece_stands_with_its_length_its_bend_and_its_place_facing_the_wall(job, mill):  # noqa: F811
    """Walking from the start, the desk is on the left: whoever faces that side has the start at the right."""
    desk, waiting = sheet_of(drafted(job, mill)).lines[0].runs
    rows = [(row.number, row.length, row.bends[0].bent, row.bends[0].radius, row.place) for row in desk.piece_rows]
    assert rows == [
        ("1", "8' 0\"", "concave", "128.48 in (3263.3 mm)", "1 from the right"),
        ("2", "4' 0\"", "concave", "128.48 in (3263.3 mm)", "2 from the right"),
    ]
    assert [(row.number, row.place) for row in waiting.piece_rows] == [
        ("3", "1 from the left"),
        ("4", "2 from the left"),
    ]


def test_the_door_explains_why_the_pieces_are_shorter_than_the_arc(job, mill):  # noqa: F811
    """A flat frame of 38.5 in on 128.475 in takes 2 x 128.475 x asin(38.5 / 256.95) = 38.65 in: 3' 2-5/8". The arc of
    176.27 in less that is 137.6 in: 11' 5-5/8"."""
    desk, _ = sheet_of(drafted(job, mill)).lines[0].runs
    assert "14' 8-1/4\" long" in desk.notes[0]
    assert "corridor 3' 2-1/2\", which is 3' 2-5/8\" along the arc" in desk.notes[0]
    assert desk.notes[1] == "The run is 11' 5-5/8\" long; its pieces come to 12' 0\"."


def test_the_wall_as_it_stood_is_told_without_the_door_that_was_moved_since(job, mill):  # noqa: F811
    order = drafted(job, mill)
    job.walls.get().openings.update(width_mm=900)
    desk, _ = sheet_of(order).lines[0].runs
    assert "Left out at openings: 3' 2-5/8\" along the arc." in desk.notes[0]


def test_where_pieces_go_was_not_stated_the_sheet_counts_them(job, mill):  # noqa: F811
    order = drafted(job, mill)
    line = order.lines.get()
    line.statement = {**line.statement, "runs": [{**run, "pieces": []} for run in line.statement["runs"]]}
    line.save()
    desk, _ = sheet_of(order).lines[0].runs
    assert [(piece.label, piece.value) for piece in desk.pieces] == [("1", "8' 0\""), ("1", "4' 0\"")]
    assert not desk.piece_rows and desk.radii[0].radius.startswith("128.48 in")


def test_the_head_says_what_is_agreed_and_the_profile_stands_beside_its_pieces(job, mill):  # noqa: F811
    paper = sheet_of(drafted(job, mill))
    first, second = (page.extract_text() for page in PdfReader(BytesIO(paper_pdf(paper))).pages)
    for part in ("Deliver to", "Confirm by", "At the dock by", "Freight", "Total before tax", "Please confirm"):
        assert part in first
    for part in ("Base, desk side", "1 from the right", "Base, waiting side", "1 from the left", "Scale 1:1"):
        assert part in second


def test_a_piece_of_two_bends_is_told_from_its_left_end_with_the_length_of_each():
    """On the left face the start of the wall is at the right: 900 mm are 2' 11-7/16", 600 mm are 1' 11-5/8"."""
    curves = StatedCurve(1, "concave", 3000.0, 900.0), StatedCurve(2, "convex", 4000.0, 600.0)
    radius = StatedRadius(1, "concave", 3000.0, MEASURED_AT["left"], 900.0)
    run = StatedRun("W", "Base", "P", "", "", "", "true arc", (radius,), (), 0, None, (), ())
    [row] = piece_rows([LinePiece(1, "W", "Base", 1, 1500.0, curves)], run, "imperial")
    assert [(bend.bent, bend.along) for bend in row.bends] == [("convex", "1' 11-5/8\""), ("concave", "2' 11-7/16\"")]
