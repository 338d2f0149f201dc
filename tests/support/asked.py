"""A signed job of the worked example: 24,600.00 + 2,029.50 tax, deposit 5,325.90, instalments of 30/30/20/20 %."""

from datetime import date
from typing import Any

from jobs.jobs.models import Job
from quoting.changes.models import ChangeNote
from quoting.changes.services.change_drafts import save_draft
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.payment_requests.models import PaymentRequest
from quoting.payment_requests.services.events import mark_event
from quoting.payment_requests.services.issuing import issue_request
from quoting.payment_requests.services.terms import set_retention, set_terms
from quoting.platform.people.models import Person
from quoting.platform.people.signatures import Signature
from quoting.quotes.services.given_answers import Given
from tests.stored import lay
from tests.support.answered import accept, with_note_paper, with_paper
from tests.support.worked import NOW, PRICING, TODAY, estimator, issued, small_job

EVENTS = ("Framing up", "Boards up", "Finished", "Handed over")
SHARES = ("0.3", "0.3", "0.2", "0.2")
# 15,252.00 of cost at a margin of 38 %; 21.65 % of the price is 20 % of the total.
PRICED: dict[str, Any] = PRICING | {
    "materials": {"amount": "4312.00", "note": "as entered"},
    "labour": [{"what": "All work", "hours": "180", "rate": "48.00"}],
    "subcontract": [{"what": "Painting", "amount": "1850.00"}],
    "other": [{"what": "Scaffold", "amount": "300.00"}, {"what": "Freight", "amount": "150.00"}],
    "tax": {"name": "Sales tax", "rate": "0.0825"},
    "deposit": {"share": "0.2165"},
    "instalments": [{"event": event, "share": share} for event, share in zip(EVENTS, SHARES, strict=True)],
}
TERMS = {"tax_number": "TX 47 1313", "days_to_pay": "14", "how_to_pay": "To Wendrell Interiors, account 47 13 47."}
NICHE = {"title": "A niche", "reason": "Asked for.", "lines": [{"what": "Niche", "price": "1240.00"}]}
OWNER = Signature("O. Owner", TODAY)


def hall(key: str = "J-0100", *, held: str = "0.05", **priced: Any) -> Job:
    """Accepted, its terms set and 5 % held until "A year is over"."""
    lay(f"hall {key} {held} {sorted(priced)}", lambda: _signed(key, held, priced))
    return Job.objects.get(key=key)


def _signed(key: str, held: str, priced: dict[str, Any]) -> None:
    job = small_job(key, pricing=PRICED | priced)
    accept(with_paper(issued(job, request_key=f"quote of {key}")))
    set_terms(TERMS)
    if held:
        set_retention(job, {"share": held, "event": "A year is over"}, OWNER, now=NOW)


def office() -> Person:
    result = Person.objects.filter(login_name="quarrell").first()
    phrase = "a long enough phrase"
    return result or Person.objects.create_user("quarrell", phrase, role="office", full_name="I. Quarrell")


def marked(job: Job, *parts: str, on: date = TODAY) -> None:
    for part in parts:
        texts = {"request_key": f"{job.key} {part}", "part": part, "happened_on": on.isoformat()}
        mark_event(job, texts, OWNER, now=NOW)


def ask(job: Job, part: str, key: str = "", **more: Any) -> PaymentRequest:
    document = {"request_key": key or f"ask {job.key} {part}", "part": part, **more}
    return issue_request(job, document, office(), now=NOW)[0]


def asked(job: Job, *parts: str) -> list[PaymentRequest]:
    """Each part marked and asked for, in that order."""
    marked(job, *(part for part in parts if part not in ("deposit", "notes")))
    return [ask(job, part) for part in parts]


def signed_note(job: Job, key: str = "niche", document: dict[str, Any] = NICHE) -> ChangeNote:
    note = with_note_paper(issued_note(job, key, document))
    answer_change(note, Given("signed", "Ada Client"), now=NOW, today=TODAY)
    return note


def issued_note(job: Job, key: str = "niche", document: dict[str, Any] = NICHE) -> ChangeNote:
    draft = save_draft(job, document, by=estimator(), now=NOW)
    return issue_change(draft, request_key=f"{job.key} {key}", seen_version=1, by=estimator(), now=NOW, today=TODAY)
