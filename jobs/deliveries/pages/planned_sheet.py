"""The lead-time record as a material's page shows it: what it suggests, on what evidence, and what was accepted."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.http import QueryDict

from catalog.core.ground.document_reader import DocumentError
from catalog.core.leads.lead_record import (
    KeptShare,
    LeadEvidence,
    LeadRecordError,
    chance_within_greatest,
    confidence_from_cost,
    kept_so_far,
)
from catalog.core.leads.planned_leads import PlannedLead
from catalog.core.materials import specs
from catalog.services.planned_leads import (
    USUAL_CONFIDENCE,
    Suggestion,
    standing_plan,
    suggestion,
)
from catalog.services.typed_money import entry_reader
from jobs.deliveries.services.lead_record import lead_receipts
from quoting.platform.formatting import share_words
from quoting.platform.pages.entry_form import EntryForm, pick, text

ENOUGH_TO_SUGGEST = 3
SHARES = (("0.8", "eight in ten"), ("0.9", "nine in ten"), ("0.95", "95 in a hundred"), ("0.98", "98 in a hundred"))


class AimForm(EntryForm):
    aim = pick("Share to come in time", SHARES, nothing="as the costs say, else nine in ten")
    late_day = text("A day late costs", "Crew standing, the client's day missed.", longest=20)
    early_day = text("A day early costs", "Storing it, money laid out sooner.", longest=20)

    def confidence(self) -> Decimal:
        """The share aimed at, as chosen or as the two costs say; what cannot be read is said beside its field."""
        if not self.is_valid():
            return USUAL_CONFIDENCE
        reader = entry_reader(self.entries())
        try:
            late, early = reader.optional_money("late_day"), reader.optional_money("early_day")
        except DocumentError as error:
            self.complain(error)
            return USUAL_CONFIDENCE
        if self.cleaned_data["aim"]:
            return Decimal(self.cleaned_data["aim"])
        if late is None and early is None:
            return USUAL_CONFIDENCE
        if late is None or early is None:
            self.add_error("early_day" if early is None else "late_day", "Give both costs, or neither.")
            return USUAL_CONFIDENCE
        try:
            return Decimal(str(round(confidence_from_cost(late, early), 3)))
        except LeadRecordError as error:
            self.add_error("late_day", str(error))
            return USUAL_CONFIDENCE


@dataclass(frozen=True)
class PlannedSheet:
    """suggestion: None while nothing is quoted. share_kept, kept_by_firm: shares kept so far, in words."""

    form: AimForm
    confidence: Decimal
    aim: str
    suggestion: Suggestion | None
    share_kept: str
    kept_by_firm: str
    longest: str
    standing: PlannedLead | None
    stale: bool
    history: tuple[PlannedLead, ...]

    @property
    def rests_on_little(self) -> bool:
        """Whether fewer than three receipts stand behind it, so that it is an assumption more than a record."""
        if self.suggestion is None:
            return False
        evidence = self.suggestion.evidence
        return not evidence.prior.based_on and len(evidence.used) + len(evidence.others) < ENOUGH_TO_SUGGEST

    @property
    def is_new(self) -> bool:
        """Whether what is suggested is anything else than what stands."""
        if self.suggestion is None or self.standing is None or self.stale:
            return True
        seen = (self.suggestion.evidence.plan_workdays, self.confidence)
        return seen != (self.standing.plan_workdays, self.standing.confidence)


def planned_sheet(spec: specs.Material, today: date, data: QueryDict) -> PlannedSheet:
    form = AimForm(data) if any(name in data for name in AimForm.base_fields) else AimForm()
    confidence = form.confidence() if form.is_bound else USUAL_CONFIDENCE
    receipts = lead_receipts(today)
    suggested = suggestion(spec, receipts, today, confidence)
    firm = kept_so_far(receipts, confidence=float(confidence))
    standing, stale = standing_plan(spec, today)
    return PlannedSheet(
        form,
        confidence,
        share_words(confidence),
        suggested,
        _kept(suggested.evidence) if suggested else "",
        _of(firm) if firm.judged else "",
        _longest(suggested.evidence) if suggested else "",
        standing,
        stale,
        tuple(reversed(spec.planned_leads)),
    )


def _kept(evidence: LeadEvidence) -> str:
    return _of(evidence.kept) if evidence.kept.judged else "none of it has come yet"


def _of(share: KeptShare) -> str:
    orders = "order" if share.judged == 1 else "orders"
    return f"{share.kept} of {share.judged} {orders}, {_percent(share.kept, share.judged)}"


def _percent(part: int, whole: int) -> str:
    return share_words(Decimal(part * 100 // whole) / 100)


def _longest(evidence: LeadEvidence) -> str:
    came = [receipt for receipt in evidence.used if not receipt.is_open]
    if not came:
        return ""
    chance = share_words(Decimal(str(round(chance_within_greatest(len(came)), 2))))
    most = max(receipt.ratio for receipt in came)
    return (
        f"The longest of the last {len(came)} took {most:.2f} of its quote; the next stays within that with chance "
        f"{len(came)} in {len(came) + 1} ({chance})."
    )
