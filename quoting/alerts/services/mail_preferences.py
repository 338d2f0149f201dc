"""What mail from here each person wants, and where to."""

from datetime import datetime

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.db.models import QuerySet

from catalog.core.ground.refusal import Refused
from quoting.alerts.models import MailWish
from quoting.platform.people.models import Person, Role

# Those who order; the others see the same on their pages.
ROLES = frozenset({Role.OFFICE, Role.OWNER})


def wish_of(person: Person) -> MailWish:
    """The person's, or one that wants nothing, not stored."""
    return MailWish.objects.filter(person=person).first() or MailWish(person=person)


def may_wish(person: Person) -> bool:
    return person.is_active and person.role in ROLES


@transaction.atomic
def set_wish(person: Person, *, address: str, alerts: bool, weekly_list: bool, now: datetime) -> MailWish:
    """Raises Refused."""
    if not may_wish(person):
        raise Refused("Alerts and the weekly list go to the office and the owner.")
    address = address.strip()
    if (alerts or weekly_list) and not address:
        raise Refused("Mail address: it is missing; write one such as name@firm.example, or choose no mail.")
    if address:
        try:
            validate_email(address)
        except ValidationError as error:
            message = f"Mail address: {address[:100]!r} is not a mail address; write one such as name@firm.example."
            raise Refused(message) from error
    before = MailWish.objects.select_for_update().filter(person=person).first()
    # A list is sent to those who wanted it when it was due; an address that is put right does not change that.
    newly = before is None or (weekly_list and not before.weekly_list)
    wish = before or MailWish(person=person)
    wish.address, wish.alerts, wish.weekly_list = address, alerts, weekly_list
    wish.set_at = now if newly else wish.set_at
    wish.save()
    return wish


def who_wants_alerts() -> QuerySet[Person]:
    return Person.objects.filter(mail_wish__alerts=True, **_ABLE)


def who_wants_lists(before: datetime) -> QuerySet[Person]:
    """Those who had said so before that moment."""
    return Person.objects.filter(mail_wish__weekly_list=True, mail_wish__set_at__lte=before, **_ABLE)


_ABLE = {"is_active": True, "role__in": ROLES}
