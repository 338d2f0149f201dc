import threading
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.core.exceptions import ValidationError
from django.core.management import CommandError, call_command
from django.db import IntegrityError, ProgrammingError, connection, transaction
from django.test import Client

from quoting.platform.people.models import Person
from quoting.platform.people.services import people
from quoting.platform.people.services.people import add_person, change_person, give_new_password
from tests.support.desk import opened

pytestmark = pytest.mark.both_engines
PHRASE = "a long enough phrase"


def change(person, **changes):
    now = {"full_name": person.full_name, "role": person.role, "is_active": person.is_active}
    return change_person(person.pk, **now | changes)


@pytest.mark.parametrize("changes", [{"role": "office"}, {"is_active": False}])
def test_the_only_owner_stays_an_owner(make_person, changes):
    owner = make_person("owner")
    with pytest.raises(ValidationError, match="make someone else an owner first"):
        change(owner, **changes)
    make_person("owner", "second")
    assert change(owner, **changes).pk == owner.pk


def two_owners_demote_each_other(entry, other):
    together = threading.Barrier(2, timeout=20)

    def demote(owner):
        together.wait()
        try:
            change(owner, role="office")
        except ValidationError:
            return False
        finally:
            connection.close()
        return True

    with ThreadPoolExecutor(2) as pool:
        return [future.result(60) for future in [pool.submit(demote, owner) for owner in (entry, other)]]


@pytest.mark.faults
@pytest.mark.django_db(transaction=True)
def test_of_two_owners_who_demote_each_other_at_once_one_stays(make_person):
    for turn in range(5):
        entry, other = make_person("owner", f"one{turn}"), make_person("owner", f"other{turn}")
        assert sorted(two_owners_demote_each_other(entry, other)) == [False, True]
        Person.objects.update(is_active=False)


@pytest.mark.faults
@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_both_owners_vanish_when_the_rows_are_not_locked(make_person, monkeypatch):
    """The control: on PostgreSQL, with the lock switched off and both made to look before either writes."""
    looked = threading.Barrier(2, timeout=20)

    def look_without_locking():
        owners = list(Person.objects.filter(role="owner", is_active=True).order_by("pk"))
        looked.wait()
        return owners

    monkeypatch.setattr(people, "_locked_owners", look_without_locking)
    entry, other = make_person("owner", "one"), make_person("owner", "other")
    assert two_owners_demote_each_other(entry, other) == [True, True]
    assert not Person.objects.filter(role="owner").exists()


@pytest.mark.parametrize("login_name", ["", "two words", "a/b", "x" * 61])
def test_a_log_in_name_that_cannot_be_typed_safely_is_refused(db, login_name):
    with pytest.raises(ValidationError) as refusal:
        add_person(login_name, "Someone", "office")
    assert "login_name" in refusal.value.message_dict


def test_a_log_in_name_is_given_once(make_person):
    make_person("office", "kit")
    with pytest.raises(ValidationError, match="choose another"):
        add_person("kit", "Someone", "office")


def test_the_database_refuses_an_unknown_role(make_person):
    person = make_person("lead")
    with pytest.raises(IntegrityError), transaction.atomic():
        Person.objects.filter(pk=person.pk).update(role="superuser")


def test_first_passwords_are_long_and_never_the_same(db):
    given = {people.new_password() for _ in range(200)}
    assert len(given) == 200
    assert all(len(password) == 19 for password in given)


def test_a_new_password_replaces_the_old_one(make_person):
    person = make_person("lead")
    _, password = give_new_password(person.pk)
    person.refresh_from_db()
    assert person.check_password(password)
    assert not person.check_password(PHRASE)


def log_in(client, name, password):
    return client.post("/log-in/", {"username": name, "password": password})


def test_logging_in_and_out(make_person, client):
    make_person("lead", "kit")
    assert log_in(client, "kit", PHRASE)["Location"] == "/"
    assert client.get("/account/").status_code == 200
    client.post("/log-out/")
    assert client.get("/account/").status_code == 302


def test_a_log_in_leads_to_no_other_site(make_person, client):
    make_person("lead", "kit")
    answer = client.post("/log-in/", {"username": "kit", "password": PHRASE, "next": "https://elsewhere.example/"})
    assert answer["Location"] == "/"


def test_the_service_hashes_with_argon2_alone():
    from quoting import settings

    assert settings.PASSWORD_HASHERS == ["quoting.platform.people.password_hashing.Argon2OneAtATime"]


@pytest.fixture
def owner_client(make_person, client):
    client.force_login(make_person("owner"))
    return client


def test_an_owner_adds_someone_who_can_then_log_in(owner_client):
    page = owner_client.post("/firm/people/add/", {"login_name": "kit", "full_name": "Kit Marlin", "role": "estimator"})
    password = page.context["password"]
    assert password in page.content.decode()
    assert page["Cache-Control"] == "no-store"
    assert log_in(Client(), "kit", password).status_code == 302


def test_a_wrong_entry_is_answered_on_the_form_and_saves_nobody(owner_client):
    page = owner_client.post("/firm/people/add/", {"login_name": "two words", "full_name": "", "role": "king"})
    assert page.status_code == 422
    assert set(page.context["form"].errors) == {"login_name", "full_name", "role"}
    assert Person.objects.count() == 1


def test_the_only_owner_cannot_demote_herself_on_the_page(owner_client):
    owner = Person.objects.get()
    url, typed = f"/firm/people/{owner.pk}/", {"full_name": owner.full_name, "role": "lead", "is_active": "on"}
    page = owner_client.post(url, typed | opened(owner_client, url))
    assert page.status_code == 422
    assert "make someone else an owner first" in page.content.decode()
    owner.refresh_from_db()
    assert owner.role == "owner"


def test_a_role_is_changed_on_the_page(owner_client, make_person):
    lead = make_person("lead")
    url, typed = f"/firm/people/{lead.pk}/", {"full_name": "Kit", "role": "office", "is_active": "on"}
    answer = owner_client.post(url, typed | opened(owner_client, url))
    assert answer["Location"] == "/firm/people/"
    lead.refresh_from_db()
    assert (lead.full_name, lead.role) == ("Kit", "office")


def test_a_token_is_shown_once_and_works(owner_client):
    page = owner_client.post("/account/tokens/", {"name": "spreadsheet"})
    secret = page.context["secret"]
    assert secret not in owner_client.get("/account/").content.decode()
    assert Client().get("/api/schema/", headers={"Authorization": f"Bearer {secret}"}).status_code == 200


def test_a_token_without_a_name_is_refused(owner_client):
    assert owner_client.post("/account/tokens/", {"name": " "}).status_code == 422


def test_the_first_owner_is_added_by_command(db, capsys):
    call_command("add_owner", "kit")
    password = capsys.readouterr().out.rpartition(": ")[2].strip()
    assert Person.objects.get(role="owner").check_password(password)
    with pytest.raises(CommandError, match="login_name"):
        call_command("add_owner", "kit")


def test_the_command_says_in_which_data_the_owner_was_made(db, capsys, settings):
    call_command("add_owner", "kit")
    where = {"sqlite": str(settings.DATA_DIR), "postgresql": connection.settings_dict["NAME"]}
    assert where[connection.vendor] in capsys.readouterr().out


def test_an_owner_cannot_be_added_before_there_are_tables(db, monkeypatch):
    def without_tables(*about):
        raise ProgrammingError('relation "quoting_person" does not exist')

    monkeypatch.setattr("quoting.management.commands.add_owner.add_person", without_tables)
    with pytest.raises(CommandError, match="Run manage.py migrate"):
        call_command("add_owner", "kit")


def test_posting_without_the_form_s_own_mark_is_refused(make_person):
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(make_person("owner"))
    assert strict.post("/account/tokens/", {"name": "x"}).status_code == 403


def test_a_wrong_log_in_name_is_told_in_plain_words(client, make_person):
    client.force_login(make_person("owner"))
    data = {"login_name": "pell ardan!", "full_name": "Pell Ardan", "role": "lead"}
    page = client.post("/firm/people/add/", data)
    assert page.status_code == 422
    assert "letters, digits, hyphens and underscores only" in page.content.decode()
    assert not Person.objects.filter(full_name="Pell Ardan").exists()
