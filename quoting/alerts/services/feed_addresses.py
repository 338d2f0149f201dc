"""The secret way to a person's calendar feed: told once, looked up by its hash alone."""

import secrets
from datetime import datetime

from django.db import transaction

from quoting.alerts.models import FeedAddress
from quoting.platform.people.models import Person
from quoting.platform.people.services.people import hold_logged_in
from quoting.platform.people.services.tokens import digest_of

SECRET_BYTES = 32


@transaction.atomic
def make_feed_address(person: Person, now: datetime) -> tuple[FeedAddress, str]:
    """The row, and the secret, which is nowhere kept. The address before it stops working."""
    hold_logged_in(person)
    withdraw_feed_address(person, now)
    secret = secrets.token_urlsafe(SECRET_BYTES)
    return FeedAddress.objects.create(person=person, digest=digest_of(secret), made_at=now), secret


def withdraw_feed_address(person: Person, now: datetime) -> bool:
    return bool(FeedAddress.objects.filter(person=person, withdrawn_at=None).update(withdrawn_at=now))


def live_feed_address(person: Person) -> FeedAddress | None:
    return FeedAddress.objects.filter(person=person, withdrawn_at=None).first()


def find_feed_address(secret: str) -> FeedAddress | None:
    """Withdrawn ones as well: whoever holds one is told so. Reads, and changes nothing."""
    return FeedAddress.objects.select_related("person").filter(digest=digest_of(secret)).first()
