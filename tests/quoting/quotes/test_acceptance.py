"""What becomes of an issued quote in the client's hands. Worked days of windows: the childcare example."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, connection, transaction

from catalog.core.ground.refusal import Refused
from quoting.core.prices.options import Offer, PricedOption
from quoting.core.prices.payments import DepositRule, Instalment
from quoting.core.prices.tax import PriceLine, TaxRule
from quoting.platform.errands.models import Errand
from quoting.platform.immutable_tables import thaw
from quoting.quotes.models import CancellationTerm, ClientAnswer, Holiday, QuoteRevision, RevisionState
from quoting.quotes.services import acceptance
from quoting.quotes.services.cancellation import rule_in_force, window_of
from quoting.quotes.services.certificate import certificate_paper
from quoting.quotes.services.offers import read_offer, total_of, write_offer
from quoting.quotes.services.revisions import mark_lapsed, move_revision, withdraw_revision
from quoting.service.audit.services.audit import audit
from tests.support.answered import PDF, accept, decline, with_paper
from tests.support.worked import NOW, TODAY, issued

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]

LINE = PriceLine("Screen", Decimal("1000.00"), Decimal("1000.00"), Decimal("0.00"))
OAK = PricedOption("oak", "Cap in oak", Decimal("480.00"), Decimal("480.00"), "Cap rail", "Oiled.", Decimal("300.00"))
ASH = PricedOption("ash", "Cap in ash", Decimal("-20.50"), Decimal("-20.50"), "Cap rail")
OFFER = Offer(
    (LINE,),
    TaxRule("Sales tax", Decimal("0.13"), exempt_certificate=""),
    (OAK, ASH),
    (Instalment("On acceptance", Decimal("0.4")), Instalment("At the end", Decimal("0.6"))),
    DepositRule(Decimal("0.1"), at_most=Decimal("1000.00")),
    Decimal("12.00"),
)


@pytest.fixture
def sent(revision):
    return with_paper(revision)


@pytest.fixture
def window(db):
    """Three business days counting Saturday, as a firm may enter them."""
    CancellationTerm.objects.create(starts_on=TODAY, days=3, counting="business_and_saturday", source="our lawyer")


def test_the_record_keeps_what_was_accepted_by_whom_and_on_which_paper(sent):
    import hashlib

    answer = accept(sent, "  Ada   Client ", from_address="192.0.2.7")
    sent.refresh_from_db()
    assert (sent.state, sent.state_by_name) == ("accepted", "Ada Client")
    assert (answer.typed_name, answer.from_address, answer.answered_on) == ("Ada Client", "192.0.2.7", TODAY)
    assert (answer.price, answer.tax, answer.total) == (sent.price, sent.tax, sent.total)
    assert answer.paper_sha256 == hashlib.sha256(PDF).hexdigest()


def test_an_offer_is_frozen_and_read_back_as_it_was():
    assert read_offer(write_offer(OFFER)) == OFFER


def test_the_total_without_options_is_the_one_issued(sent):
    assert total_of(sent, ()).total == sent.total


def test_what_is_accepted_with_an_option_is_the_total_with_it(sent, monkeypatch):
    """By hand: 1,000.00 + 480.00 = 1,480.00, 13 % of it 192.40, together 1,672.40."""
    monkeypatch.setattr("quoting.quotes.services.offers.offer_of", lambda revision: OFFER)
    answer = accept(sent, options=["oak"])
    assert (answer.price, answer.tax, answer.total) == (Decimal("1480.00"), Decimal("192.40"), Decimal("1672.40"))
    assert answer.options == [{"key": "oak", "title": "Cap in oak", "price": "480.00"}]


@pytest.mark.parametrize(("keys", "message"), [(["oak", "ash"], "not both"), (["elm"], "no option 'elm'")])
def test_a_choice_that_cannot_be_is_refused_and_nothing_is_kept(sent, monkeypatch, keys, message):
    monkeypatch.setattr("quoting.quotes.services.offers.offer_of", lambda revision: OFFER)
    with pytest.raises(Refused, match=message):
        accept(sent, options=keys)
    assert not ClientAnswer.objects.exists()


@pytest.mark.parametrize(
    ("name", "message"), [("", "Your name is missing"), ("12 .", "Your name is missing"), ("x" * 201, "at most 200"),
                       ("Ada\u202eClient", "we cannot print")],
)  # fmt: skip
def test_a_name_that_is_none_is_refused(sent, name, message):
    with pytest.raises(Refused, match=message):
        accept(sent, name)
    sent.refresh_from_db()
    assert sent.state == "issued"


def test_without_its_paper_nothing_is_accepted(revision):
    with pytest.raises(Refused, match="not made yet"):
        accept(revision)


def test_the_same_answer_twice_is_one_and_another_is_told(sent):
    assert accept(sent).pk == accept(sent).pk
    with pytest.raises(Refused, match="is accepted, and that is final"):
        accept(sent, "Ben Other")
    with pytest.raises(Refused, match="is accepted"):
        decline(sent)
    assert Errand.objects.filter(kind="render_certificate").count() == 1


def test_a_quote_is_accepted_on_its_last_day_and_not_on_the_next(sent):
    with pytest.raises(Refused, match="that day has passed"):
        accept(sent, today=sent.valid_until + timedelta(days=1))
    assert accept(sent, today=sent.valid_until).answered_on == sent.valid_until


@pytest.mark.parametrize("state", ["superseded", "withdrawn", "lapsed", "declined"])
def test_a_revision_that_is_over_is_not_accepted(sent, state):
    move_revision(sent.pk, RevisionState(state), now=NOW, by_name="R. Sallow")
    with pytest.raises(Refused, match=f"is {state}, and that is final"):
        accept(sent)
    assert not ClientAnswer.objects.exists()


def test_a_declined_quote_keeps_why_and_may_be_issued_anew(job, sent):
    answer = decline(sent, reason=" too dear ")
    assert (answer.answer, answer.reason) == ("declined", "too dear")
    assert not Errand.objects.filter(kind="render_certificate").exists()
    assert issued(job, "second").number == 2


def test_a_quote_has_one_acceptance_whatever_is_written_past_the_services(job, sent):
    accept(sent)
    thaw(connection)
    QuoteRevision.objects.filter(pk=sent.pk).update(state="superseded")
    second = with_paper(issued(job, "second"))
    with pytest.raises(Refused, match="Another revision of this quote is accepted already"):
        accept(second)
    assert not ClientAnswer.objects.filter(revision=second).exists()
    QuoteRevision.objects.filter(pk=sent.pk).update(state="accepted")
    with pytest.raises(IntegrityError, match="once_a_quote|quote_id"), transaction.atomic():
        QuoteRevision.objects.filter(pk=second.pk).update(state="accepted")


def test_an_issue_that_meets_an_answer_is_told_and_issues_nothing(job, sent, monkeypatch):
    """The client accepts between the look at the revisions and the step: the guard is the conditional update."""
    from quoting.quotes.services import quotes

    def accepted_first(revision_id, state, **about):
        accept(sent)
        return move_revision(revision_id, state, **about)

    monkeypatch.setattr(quotes, "move_revision", accepted_first)
    with pytest.raises(Refused, match="is accepted, and that is final. Nothing was issued"):
        issued(job, "second")


def test_the_window_is_frozen_when_issued_and_counted_from_the_acceptance(job, window):
    """From Wed 25 Nov 2026: Thu, Fri, Sat."""
    revision = with_paper(issued(job))
    CancellationTerm.objects.all().delete()
    answer = accept(revision)
    assert answer.cancel_until == date(2026, 11, 28)
    assert "3 business days, Monday to Saturday" in answer.cancel_words


def test_a_quote_issued_without_a_window_has_none(sent, window):
    assert accept(sent).cancel_until is None


def test_holidays_are_left_out_and_their_lack_is_said(window):
    signed, rule = date(2027, 5, 28), rule_in_force(TODAY)
    assert "No holiday of 2027 is entered" in window_of(rule, signed).caution
    Holiday.objects.create(day=date(2027, 5, 31), name="a holiday")
    result = window_of(rule, signed)
    assert (result.until, result.caution) == (date(2027, 6, 2), "")


def test_a_term_of_no_days_states_that_there_is_no_window(window):
    CancellationTerm.objects.create(starts_on=TODAY + timedelta(days=1), days=0, counting="calendar", source="lawyer")
    assert rule_in_force(TODAY).days == 3
    assert rule_in_force(TODAY + timedelta(days=1)) is None


def test_the_certificate_says_what_was_accepted_and_until_when_it_can_be_taken_back(job, window):
    answer = accept(with_paper(issued(job)), "Ada Client", from_address="192.0.2.7")
    paper = certificate_paper(answer)
    text = " ".join([*paper.window, *(f"{fact.label} {fact.value}" for fact in paper.facts)])
    assert "up to and including Sat 28 Nov 2026" in text
    assert answer.paper_sha256 in text and "192.0.2.7" in text
    assert paper.total == "USD 15,641.39" or paper.total.endswith("15,641.39")


def found(name="answers"):
    return audit(NOW)[name]


def test_the_audit_passes_what_was_answered(sent):
    accept(sent)
    assert found() == []


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"paper_sha256": "f" * 64}, "accepted on a paper"),
        ({"total": Decimal("15641.38"), "tax": Decimal("1799.44")}, "adds up to 15641.39"),
        ({"answer": "declined"}, "is accepted, but its answer is declined"),
    ],
)
def test_the_audit_finds_an_answer_that_does_not_agree(sent, wrong, message):
    accept(sent)
    thaw(connection)
    ClientAnswer.objects.update(**wrong)
    assert any(message in sentence for sentence in found())


def test_the_audit_finds_an_acceptance_without_its_record(sent):
    move_revision(sent.pk, RevisionState.ACCEPTED, now=NOW, by_name="nobody")
    assert any("no answer was kept" in sentence for sentence in found())


def test_a_lapsed_and_a_withdrawn_quote_stay_unanswered(sent):
    assert mark_lapsed(NOW, sent.valid_until + timedelta(days=1)) == 1
    assert acceptance.answer_of(sent) is None


def test_a_withdrawal_after_the_acceptance_is_told(sent):
    accept(sent)
    with pytest.raises(Exception, match="is accepted, and that is final"):
        withdraw_revision(sent.pk, now=NOW, by_name="R. Sallow", reason="late")


def test_an_acceptance_says_until_when_it_can_be_taken_back(job, window):
    assert accept(with_paper(issued(job))).cancel_until == date(2026, 11, 28)
