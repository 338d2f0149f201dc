"""What ends sessions, tokens and calendar addresses."""

import pytest
from django.core.exceptions import PermissionDenied
from django.test import Client

from quoting.alerts.services.feed_addresses import make_feed_address
from quoting.platform.people.services.tokens import make_token
from tests.support.desk import opened

PHRASE, OTHER = "a long enough phrase", "another long phrase"


@pytest.fixture
def kit(make_person):
    return make_person("office", "kit")


@pytest.fixture
def owner(make_person):
    client = Client()
    client.force_login(make_person("owner"))
    return client


def session_of(person):
    client = Client()
    client.force_login(person)
    return client


def change_own_password(kit, owner):
    entry = {"old_password": PHRASE, "new_password1": OTHER, "new_password2": OTHER}
    assert session_of(kit).post("/account/password/", entry).status_code == 302


def reset(kit, owner):
    assert owner.post(f"/firm/people/{kit.pk}/new-password/").status_code == 200


def shut_out_and_let_in(kit, owner):
    entry, page = {"full_name": "Kit", "role": "office"}, f"/firm/people/{kit.pk}/"
    assert owner.post(page, entry | opened(owner, page)).status_code == 302
    assert owner.post(page, entry | opened(owner, page) | {"is_active": "on"}).status_code == 302


def log_out_everywhere(kit, owner):
    assert owner.post(f"/firm/people/{kit.pk}/log-out/").status_code == 302


EVENTS = [change_own_password, reset, shut_out_and_let_in, log_out_everywhere]


@pytest.mark.parametrize("happens", EVENTS, ids=lambda event: event.__name__)
def test_sessions_tokens_and_calendars_end(happens, kit, owner, frozen_clock):
    session = session_of(kit)
    secret, calendar = (make(kit, *rest)[1] for make, *rest in ways(frozen_clock.now()))
    happens(kit, owner)
    assert session.get("/account/").status_code == 302
    assert api(secret) == 401
    assert Client().get(f"/calendar/{calendar}.ics").status_code == 410


def ways(now):
    return [(make_token, "sheet", now), (make_feed_address, now)]


def api(secret):
    return Client().get("/api/schema/", headers={"Authorization": f"Bearer {secret}"}).status_code


def test_nothing_ends_when_another_person_s_ways_in_do(kit, owner, make_person, frozen_clock):
    session, secret = session_of(kit), make_token(kit, "sheet", frozen_clock.now())[1]
    for happens in EVENTS:
        happens(make_person("lead", f"lou-{happens.__name__}"), owner)
    assert session.get("/account/").status_code == 200
    assert api(secret) == 200


def test_whoever_changes_their_password_stays_logged_in_there_alone(kit):
    here, there = session_of(kit), session_of(kit)
    entry = {"old_password": PHRASE, "new_password1": OTHER, "new_password2": OTHER}
    here.post("/account/password/", entry)
    assert here.get("/account/").status_code == 200
    assert there.get("/account/").status_code == 302


def test_a_change_of_role_or_name_ends_nothing(kit, owner, frozen_clock):
    session, secret = session_of(kit), make_token(kit, "sheet", frozen_clock.now())[1]
    entry = {"full_name": "Kit M.", "role": "estimator", "is_active": "on"}
    owner.post(f"/firm/people/{kit.pk}/", entry | opened(owner, f"/firm/people/{kit.pk}/"))
    assert session.get("/account/").status_code == 200
    assert api(secret) == 200


@pytest.mark.parametrize("way", [0, 1], ids=["token", "calendar"])
def test_a_session_that_has_just_ended_makes_no_new_way_in(way, kit, owner, frozen_clock):
    log_out_everywhere(kit, owner)
    make, *rest = ways(frozen_clock.now())[way]
    with pytest.raises(PermissionDenied, match="Log in again"):
        make(kit, *rest)


def test_the_person_s_page_says_what_logging_out_everywhere_ends(kit, owner):
    page = owner.get(f"/firm/people/{kit.pk}/").content.decode()
    assert "Log out everywhere" in page
    assert "The password stays." in page
