import secrets

from django.core.exceptions import ValidationError
from django.db import transaction

from quoting.platform.people.models import Person, Role


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
    person.full_name, person.role, person.is_active = full_name.strip(), role, is_active
    person.full_clean(exclude=["password"])
    person.save()
    return person


def _locked_owners() -> list[Person]:
    """Locking every owner makes two owners who demote each other at once take turns."""
    return list(Person.objects.select_for_update().filter(role=Role.OWNER, is_active=True).order_by("pk"))


@transaction.atomic
def give_new_password(person_id: int) -> tuple[Person, str]:
    person = Person.objects.select_for_update().get(pk=person_id)
    password = new_password()
    person.set_password(password)
    person.save(update_fields=["password"])
    return person, password
