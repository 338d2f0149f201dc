"""What others did since somebody was here, whom the firm waits for, and since when a visit counts."""

from datetime import timedelta

import pytest
from django.urls import reverse

from catalog.models import Material, Supplier
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.models import Order
from jobs.walls.services.field_confirmation import keep_confirmed
from quoting.changes.services.change_drafts import save_draft
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.client.models import LinkOpening
from quoting.client.services.client_links import find_link
from quoting.platform.people.services.visits import news_since
from quoting.platform.people.signatures import Signature
from quoting.quotes.services.given_answers import Given
from quoting.service.services.news import news
from tests.factories.orders import BY, DAY, NOON, placed_order, whole_order
from tests.support.answered import accept, secret_to, with_note_paper, with_paper
from tests.support.desk import as_, priced_job
from tests.support.worked import NOW, estimator, issued

__all__ = ["as_"]
HOUR = timedelta(hours=1)


@pytest.fixture
def job(frozen_clock, db):
    return priced_job()


@pytest.mark.both_engines
def test_what_somebody_else_checked_in_is_news_with_what_came_bad(job):
    whole_order(job)
    sentences = [new.sentence for new in news(NOON - HOUR, DAY, "Ines Quarrell")]
    assert f"{BY} checked in order O-0001: 7 good, 2 damaged" in sentences
    assert not [new for new in news(NOON - HOUR, DAY, BY) if new.who == BY]
    assert not [new for new in news(NOON, DAY + timedelta(days=1), "Ines Quarrell") if "checked in" in new.did]


@pytest.mark.both_engines
def test_openings_of_a_link_are_one_line_with_how_often(job):
    link = find_link(secret_to(issued(job)))
    for later in (1, 2):
        LinkOpening.objects.create(link=link, opened_at=NOW + later * HOUR, opened_on=NOW.date())
    (new,) = news(NOW, NOW.date(), "Ines Quarrell")
    assert new.sentence == f"{job.client.name} opened the quotation twice: {job.title}"


@pytest.mark.both_engines
def test_news_counts_from_the_visit_before_and_a_reload_loses_none(make_person):
    reader, first = make_person("office"), NOON - 3 * HOUR
    assert news_since(reader, NOON, first) == first
    assert news_since(reader, NOON + timedelta(minutes=20), first) == first
    # More than half an hour after that look a new visit begins.
    again = NOON + timedelta(minutes=51)
    assert news_since(reader, again, first) == NOON + timedelta(minutes=20)
    assert news_since(reader, again + timedelta(minutes=5), first) == NOON + timedelta(minutes=20)


def test_a_supplier_who_has_not_confirmed_is_to_be_rung(as_, job, frozen_clock):
    material = Material.objects.exclude(supplier=None).first()
    Supplier.objects.filter(code=material.supplier_id).update(phone="555 0148", contact="R. Mill")
    placed_order(job, material, material.supplier)
    frozen_clock.move_to(NOON + timedelta(days=7))
    page = as_("office").get(reverse("today")).content.decode()
    assert "has not confirmed order" in page and '<a href="tel:5550148">Ring R. Mill, 555 0148</a>' in page
    for role in ("estimator", "lead"):
        assert "555 0148" not in as_(role).get(reverse("today")).content.decode()


def test_goods_whose_supplier_has_a_draft_lead_to_it(as_, job, frozen_clock):
    keep_needs(job.pk, *find_needs(job.pk, DAY), NOON)
    frozen_clock.move_to(NOON + timedelta(days=10))

    def place():
        shown = as_office.get(reverse("today")).context
        rows = [row.todo for row in (*shown["near"], *shown["soon"])]
        return next(row.place for row in rows if row.text.startswith("Order ") and "Tollard" in row.text)

    as_office = as_("office")
    assert place()[0] in ("order_item", "order_from")
    draft = Order.objects.create(
        number="O-0009", supplier=Supplier.objects.get(code="TOLLARD"), request_key="d", made_at=NOON, made_by_name=BY
    )
    assert place() == ("order", str(draft.pk))


def note_of(job, answer):
    accept(with_paper(issued(job)))
    change = {"title": "A niche", "reason": "Asked for.", "lines": [{"what": "Niche", "price": "100.00"}]}
    draft = save_draft(job, change, by=estimator(), now=NOW)
    wanted = {"request_key": "n", "seen_version": draft.version, "by": estimator(), "now": NOW, "today": NOW.date()}
    note = with_note_paper(issue_change(draft, **wanted))
    return answer_change(note, Given(answer, "Ada Client", entered_by_name=BY), now=NOW + HOUR, today=NOW.date())


@pytest.mark.both_engines
@pytest.mark.parametrize(("answer", "amount"), [("signed", "113.00"), ("declined", None)])
def test_a_change_note_that_was_answered_is_an_answer_of_the_client(job, answer, amount):
    note_of(job, answer)
    # 100.00 and 13 % tax.
    (result,) = [new for new in news(NOW, NOW.date(), "Ines Quarrell") if "change note" in new.did]
    assert (result.who, result.did) == ("Ada Client", f"{answer} change note 1: {job.title}")
    assert result.is_answer and str(result.amount) == str(amount)
    assert not [new for new in news(NOW, NOW.date(), BY) if "change note" in new.did], "whoever entered it"


@pytest.mark.both_engines
def test_a_field_check_is_news_once_a_wall_with_how_many_dimensions_were_confirmed(job):
    wall, signed = job.walls.get(), Signature("Teodor Finnmark", NOW.date())
    keep_confirmed(wall, {"height": "96"}, seen_version=wall.version, bare_unit="in", signature=signed)
    (message,) = [new for new in news(NOW, NOW.date(), "Ines Quarrell") if "confirmed" in new.did]
    assert message.sentence == f"Teodor Finnmark confirmed 1 dimension of {wall.name}: {job.title}"
    assert message.place == ("field_check", str(job.pk), wall.key)
    assert not [new for new in news(NOW, NOW.date(), signed.by) if "confirmed" in new.did]
    assert not [new for new in news(NOW, NOW.date() + timedelta(days=1), "Ines") if "confirmed" in new.did]
