import hashlib
import secrets
from datetime import date, datetime

from django.db import transaction

from quoting.platform.people.models import Person, Token
from quoting.platform.people.services.people import hold_logged_in


def digest_of(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def make_token(person: Person, name: str, now: datetime) -> tuple[Token, str]:
    """The row, and the token itself, which is nowhere kept."""
    secret = secrets.token_urlsafe(32)
    row = Token(person=person, name=name.strip(), digest=digest_of(secret), made_at=now)
    row.full_clean()
    with transaction.atomic():
        hold_logged_in(person)
        row.save()
    return row, secret


def withdraw_token(person: Person, token_id: int, now: datetime) -> bool:
    own = Token.objects.filter(person=person, pk=token_id, withdrawn_at=None)
    return bool(own.update(withdrawn_at=now))


def person_for_token(secret: str, today: date) -> Person | None:
    # A 256-bit random token needs no slow hash and no constant-time search: its digest is looked up whole.
    row = (
        Token.objects.select_related("person")
        .filter(digest=digest_of(secret), withdrawn_at=None, person__is_active=True)
        .first()
    )
    if row is None:
        return None
    if row.last_used_on != today:
        with transaction.atomic():
            Token.objects.filter(pk=row.pk).update(last_used_on=today)
    return row.person
