"""Forms sent twice are answered once, and who sent one last is known for as long as they are kept."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import TypeVar

from django.db import transaction

from quoting.platform.people.models import Person, SentForm

Answer = TypeVar("Answer")
KEPT_FOR = timedelta(days=7)


@transaction.atomic
def answer_once(
    person: Person,
    mark: str,
    address: str,
    answer: Callable[[], Answer],
    leads_to: Callable[[Answer], str],
    now: datetime,
) -> Answer | str:
    """The answer, or where the first one led. Whoever comes second at the same moment waits here for the first.

    An answer that leads nowhere has kept nothing, so the form may be sent again.
    """
    row, is_first = SentForm.objects.get_or_create(
        person=person, mark=mark, defaults={"address": address, "sent_at": now}
    )
    if not is_first:
        return row.led_to
    given = answer()
    row.led_to = leads_to(given)
    if row.led_to:
        row.save(update_fields=["led_to"])
    else:
        row.delete()
    return given


def last_sent(address: str) -> SentForm | None:
    """The form that was last kept there, with its person."""
    return SentForm.objects.filter(address=address).exclude(led_to="").select_related("person").order_by("pk").last()


def forget_sent_forms(now: datetime) -> None:
    SentForm.objects.filter(sent_at__lt=now - KEPT_FOR).delete()
