import secrets
from collections.abc import Callable

from django.core.exceptions import PermissionDenied, ValidationError
from django.db import transaction
from django.db.models import Model

from quoting.platform import clock
from quoting.platform.people.models import Person, Role, Token

ways_in: list[type[Model]] = [Token]
"""What lets a person in besides a password; rooms above add theirs."""

after_rename: list[Callable[[str, str], None]] = []
"""Called with the name a person had and the one they have now, in the transaction that changes it."""


def new_password() -> str:
    """Easy to read out: four groups of four signs that are not taken for one another, 79 bits."""
    letters = "abcdefghjkmnpqrstuvwxyz23456789"
    return "-".join("".join(secrets.choice(letters) for _ in range(4)) for _ in range(4))


@transaction.atomic
def add_person(login_name: str, full_name: str, role: str) -> tuple[Person, str]:
    """The person, and a first password to hand over, shown once."""
    password = new_password()
    person = Person.objects.create_user(login_name, password, full_name=full_name.strip(), role=role)
    return person, password


@transaction.atomic
def change_person(person_id: int, *, full_name: str, role: str, is_active: bool) -> Person:
    owners = _locked_owners()
    person = Person.objects.select_for_update().get(pk=person_id)
    stays_owner = role == Role.OWNER and is_active
    if not stays_owner and [owner.pk for owner in owners] == [person.pk]:
        raise ValidationError(f"{person.full_name} is the only owner who may log in; make someone else an owner first.")
    if person.is_active != is_active:
        _end_ways_in(person)
    before = person.full_name
    person.full_name, person.role, person.is_active = full_name.strip(), role, is_active
    person.full_clean(exclude=["password"])
    person.save()
    if person.full_name != before:
        for message in after_rename:
            message(before, person.full_name)
    return person


def _locked_owners() -> list[Person]:
    """Locking every owner makes two owners who demote each other at once take turns."""
    return list(Person.objects.select_for_update().filter(role=Role.OWNER, is_active=True).order_by("pk"))


def give_new_password(person_id: int) -> tuple[Person, str]:
    password = new_password()
    return set_password(person_id, password), password


@transaction.atomic
def set_password(person_id: int, password: str) -> Person:
    person = Person.objects.select_for_update().get(pk=person_id)
    person.set_password(password)
    _end_ways_in(person)
    person.save(update_fields=["password", "times_logged_out"])
    return person


@transaction.atomic
def log_out_everywhere(person_id: int) -> Person:
    person = Person.objects.select_for_update().get(pk=person_id)
    _end_ways_in(person)
    person.save(update_fields=["times_logged_out"])
    return person


def _end_ways_in(person: Person) -> None:
    """For a locked person, who is then to be saved. Sessions rest on the count."""
    person.times_logged_out += 1
    for model in ways_in:
        model.objects.filter(person=person, withdrawn_at=None).update(withdrawn_at=clock.now())


def hold_logged_in(person: Person) -> None:
    """Locks the person, that no token or address is made while, or after, the person is logged out everywhere."""
    same = Person.objects.select_for_update().filter(pk=person.pk, times_logged_out=person.times_logged_out)
    if not same.exists():
        raise PermissionDenied("You were logged out just now. Log in again.")
