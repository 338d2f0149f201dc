"""What accepted quotes cost, as rows; read out of the snapshot once, when the quote is accepted."""

import json
from collections.abc import Collection

from django.db import transaction

from catalog.core.ground.declared import write
from quoting.core.money.quoted_document import chosen_lines, pieces_made, quoted_lines
from quoting.core.quotes.job_file import read_job_file
from quoting.job_money.models import QuotedSide
from quoting.platform import clock
from quoting.quotes.models import ClientAnswer, QuoteRevision
from quoting.quotes.services.offers import read_offer
from quoting.quotes.services.signed import accepted_revisions, after_signing
from quoting.quotes.services.snapshots import snapshot_of


def quoted_sides_of(job_ids: Collection[int]) -> dict[int, QuotedSide]:
    """By job, of those with an accepted quote; of one accepted before there were such rows it is made now."""
    rows = QuotedSide.objects.filter(revision__in=accepted_revisions(), revision__quote__job__in=job_ids)
    result = {
        row.revision.quote.job_id: row for row in rows.select_related("revision__quote").defer("revision__snapshot")
    }
    missing = set(job_ids) - set(result)
    for job_id in missing and accepted_revisions().filter(quote__job__in=missing).values_list("quote__job", flat=True):
        freeze_quoted(job_id)
        result |= quoted_sides_of([job_id])
    return result


@transaction.atomic
def freeze_quoted(job_id: int) -> None:
    """Done again, or by two at once, it is done once."""
    for revision in accepted_revisions().filter(quote__job=job_id, quoted_side=None).select_related("quote"):
        QuotedSide.objects.bulk_create([_read(revision)], ignore_conflicts=True)


def _read(revision: QuoteRevision) -> QuotedSide:
    stored = snapshot_of(revision)
    pricing = read_job_file(stored["job_file"]).pricing if "job_file" in stored else None
    lines: tuple = ()
    if pricing is not None:
        steps = {entry["name"]: entry["key"] for entry in stored["schedule"]["activities"]}
        costs, takeoff = stored["quote"]["office"]["costs"], stored["takeoff"]
        lines = quoted_lines(costs, takeoff["purchases"], pieces_made(takeoff["walls"]), steps, pricing)
    answer = ClientAnswer.objects.filter(revision=revision).first()
    keys = {option["key"] for option in answer.options} if answer else set()
    lines += chosen_lines(read_offer(stored["offer"]).options, keys, revision.price, revision.cost)
    overhead = pricing.terms.overhead if pricing else None
    return QuotedSide(
        revision=revision,
        price=answer.price if answer else revision.price,
        lines=json.dumps([write(line) for line in lines], ensure_ascii=False),
        overhead=json.dumps(write(overhead) if overhead else None),
        made_at=clock.now(),
    )


after_signing.append(freeze_quoted)
