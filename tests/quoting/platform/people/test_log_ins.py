"""Guessing passwords: how many reach the hasher, and whom that keeps out."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import pytest
from django.contrib.auth.hashers import Argon2PasswordHasher, MD5PasswordHasher
from django.db import connection
from django.test import Client

from quoting import chores
from quoting.platform import clock
from quoting.platform.people import password_hashing
from quoting.platform.people.models import GuessCount, KnownPlace
from quoting.platform.people.password_hashing import Argon2OneAtATime, TooManyAtOnce
from quoting.platform.people.services import log_in_limits

PHRASE = "a long enough phrase"
PROXY = "10.0.0.9"

pytestmark = pytest.mark.usefixtures("frozen_clock")


@pytest.fixture(autouse=True)
def behind_proxy(settings):
    settings.BEHIND_PROXY = True


@pytest.fixture
def owner(make_person):
    return make_person("owner", "kit")


@pytest.fixture
def hashed(monkeypatch):
    """One entry for each password that reached the hasher."""
    seen, encode = [], MD5PasswordHasher.encode

    def counted(self, password, salt):
        seen.append(password)
        return encode(self, password, salt)

    monkeypatch.setattr(MD5PasswordHasher, "encode", counted)
    return seen


@pytest.fixture
def guard_off(monkeypatch):
    monkeypatch.setattr(log_in_limits, "count_guess", lambda limits, now: None)


def browser(address):
    return Client(REMOTE_ADDR=PROXY, headers={"X-Forwarded-For": address})


def log_in(client, name, password=PHRASE):
    return client.post("/log-in/", {"username": name, "password": password})


def guess_from(addresses, name="kit"):
    return [log_in(browser(address), name, "guess").status_code for address in addresses]


def test_nine_guesses_behind_the_same_proxy_do_not_lock_the_owner_out(owner):
    assert guess_from(["192.0.2.1"] * 9) == [200] * 8 + [429]
    assert log_in(browser("192.0.2.2"), "kit").status_code == 302


def test_nothing_is_locked_when_the_guard_is_off(owner, guard_off):
    """The control of the test above."""
    assert guess_from(["192.0.2.1"] * 9) == [200] * 9


def test_an_address_somebody_forges_is_not_counted_for_theirs(owner):
    forged = [f"198.51.100.{n}, 192.0.2.1" for n in range(9)]
    assert guess_from(forged)[-1] == 429


def test_whoever_must_wait_is_answered_how_long_and_what_else_to_do(owner):
    guess_from(["192.0.2.1"] * 8)
    answer = log_in(browser("192.0.2.1"), "kit")
    assert (answer.status_code, answer["Retry-After"]) == (429, "900")
    assert "where you have logged in before" in answer.content.decode()


def test_strangers_everywhere_never_lock_out_a_browser_that_logged_in_before(owner):
    known = browser("192.0.2.1")
    log_in(known, "kit")
    known.post("/log-out/")
    assert guess_from(f"203.0.113.{n}" for n in range(40)) == [200] * 30 + [429] * 10
    guess_from(["192.0.2.1"] * 9)  # behind the same address as well
    assert log_in(browser("203.0.113.99"), "kit").status_code == 429
    assert log_in(known, "kit").status_code == 302


def test_strangers_elsewhere_never_lock_out_an_address_that_logged_in_before(owner):
    log_in(browser("192.0.2.1"), "kit")
    guess_from(f"203.0.113.{n}" for n in range(40))
    assert log_in(browser("192.0.2.1"), "kit").status_code == 302


def test_a_browser_is_known_for_those_alone_who_logged_in_with_it(owner, make_person):
    make_person("lead", "lou")
    shared = browser("192.0.2.1")
    log_in(shared, "lou")
    shared.post("/log-out/")
    guess_from(f"203.0.113.{n}" for n in range(30))
    assert log_in(shared, "kit").status_code == 429
    assert log_in(shared, "lou").status_code == 302


def test_a_known_browser_may_guess_no_more_than_a_stranger(owner):
    known = browser("192.0.2.1")
    log_in(known, "kit")
    known.post("/log-out/")
    assert [log_in(known, "kit", "guess").status_code for _ in range(9)] == [200] * 8 + [429]


def test_the_cookie_of_a_known_browser_is_no_script_s_and_kept_as_a_digest(owner):
    known = browser("192.0.2.1")
    log_in(known, "kit")
    cookie = known.cookies["known_browser"]
    assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (True, "Lax", "/log-in/")
    assert cookie.value not in {row.digest for row in KnownPlace.objects.all()}


def test_of_150_guesses_with_random_names_20_from_one_address_reach_the_hasher(db, hashed):
    for n in range(150):
        log_in(browser("192.0.2.1"), f"name-{n}", "guess")
    assert len(hashed) == 20


def test_of_150_guesses_with_random_names_60_from_anywhere_reach_the_hasher(db, hashed):
    for n in range(150):
        log_in(browser(f"192.0.2.{n}"), f"name-{n}", "guess")
    assert len(hashed) == 60


def test_all_150_reach_the_hasher_when_the_guard_is_off(db, hashed, guard_off):
    """The control of the two above."""
    for n in range(150):
        log_in(browser("192.0.2.1"), f"name-{n}", "guess")
    assert len(hashed) == 150


def test_the_addresses_of_one_line_count_as_one(db, hashed):
    for n in range(30):
        log_in(browser(f"2001:db8:1:2::{n:x}"), f"name-{n}", "guess")
    assert len(hashed) == 20


def test_right_passwords_are_not_counted(owner):
    assert {log_in(browser("192.0.2.1"), "kit").status_code for _ in range(12)} == {302}
    assert set(GuessCount.objects.values_list("count", flat=True)) == {0}


def test_guesses_are_forgotten_after_a_quarter_of_an_hour(owner, frozen_clock):
    guess_from(["192.0.2.1"] * 9)
    frozen_clock.move_on(minutes=16)
    chores.over_log_ins(clock.now())
    assert not GuessCount.objects.exists()
    assert log_in(browser("192.0.2.1"), "kit").status_code == 302


def test_a_place_is_forgotten_after_a_year(owner):
    log_in(browser("192.0.2.1"), "kit")
    chores.over_log_ins(datetime(2027, 10, 6, tzinfo=UTC))
    assert not KnownPlace.objects.exists()


def test_the_present_password_is_guessed_no_more_often_in_an_open_session(owner, client):
    client.force_login(owner)
    entry = {"old_password": "guess", "new_password1": "another phrase", "new_password2": "another phrase"}
    assert [client.post("/account/password/", entry).status_code for _ in range(9)] == [200] * 8 + [429]


def guess_at_once(guesses):
    def guess(n):
        try:
            return log_in(browser("192.0.2.1"), "kit", f"guess {n}").status_code
        finally:
            connection.close()

    with ThreadPoolExecutor(20) as pool:
        return list(pool.map(guess, range(guesses)))


@pytest.mark.faults
@pytest.mark.django_db(transaction=True)
def test_of_100_guesses_20_at_once_8_at_most_reach_the_hasher(owner, hashed):
    answers = guess_at_once(100)
    assert answers.count(200) == len(hashed) == 8
    assert answers.count(429) == 92


@pytest.mark.faults
@pytest.mark.django_db(transaction=True)
def test_20_at_once_reach_the_hasher_when_all_are_looked_at_before_any_is_counted(owner, hashed, monkeypatch):
    """The control of the test above."""
    looked = threading.Barrier(20, timeout=60)

    def look_alone(limits, now):
        full = GuessCount.objects.filter(count__gte=8).exists()
        looked.wait()
        if full:
            raise log_in_limits.TooManyGuesses(1)

    monkeypatch.setattr(log_in_limits, "count_guess", look_alone)
    assert guess_at_once(20) == [200] * 20
    assert len(hashed) == 20


def most_at_once(hasher, monkeypatch, meanwhile):
    """How many of 20 passwords are in the hasher at the same moment."""
    inside, most, lock = [], [0], threading.Lock()

    def encode(self, password, salt):
        with lock:
            inside.append(password)
            most[0] = max(most[0], len(inside))
        meanwhile()
        inside.remove(password)
        return "hash"

    def attempt(n):
        try:
            return hasher.encode(str(n), "salt")
        except TooManyAtOnce:
            return "wait"

    monkeypatch.setattr(Argon2PasswordHasher, "encode", encode)
    with ThreadPoolExecutor(20) as pool:
        assert set(pool.map(attempt, range(20))) <= {"hash", "wait"}
    return most[0]


def test_passwords_are_hashed_one_at_a_time(monkeypatch):
    assert most_at_once(Argon2OneAtATime(), monkeypatch, lambda: time.sleep(0.01)) == 1


def test_20_are_hashed_at_once_by_the_hasher_as_it_comes(monkeypatch):
    """The control of the test above."""
    assert most_at_once(Argon2PasswordHasher(), monkeypatch, threading.Barrier(20, timeout=60).wait) == 20


def test_no_more_wait_for_their_turn_than_leave_threads_for_pages(monkeypatch):
    monkeypatch.setattr(password_hashing, "MAX_WAIT_S", 60)
    line = password_hashing.Line()
    with line.turn(), line._in_line, pytest.raises(TooManyAtOnce), line.turn():
        pass


def test_whoever_finds_the_hasher_taken_is_asked_to_come_back_and_not_counted(owner, settings, monkeypatch):
    settings.PASSWORD_HASHERS = ["quoting.platform.people.password_hashing.Argon2OneAtATime"]
    monkeypatch.setattr(password_hashing, "MAX_WAIT_S", 0)
    with password_hashing.line.turn():
        answer = log_in(browser("192.0.2.1"), "nobody")
    assert (answer.status_code, answer["Retry-After"]) == (429, "5")
    assert "Try again in a few seconds" in answer.content.decode()
    assert set(GuessCount.objects.values_list("count", flat=True)) == {0}


def test_wrong_links_and_calendars_are_counted_by_line_as_well(db):
    for path in ("/q/wrong/", "/calendar/wrong.ics"):
        answers = [browser(f"2001:db8:1:2::{n:x}").get(path).status_code for n in range(31)]
        assert answers == [404] * 30 + [429]
