"""Amounts as the firm's place writes them. Expected: Unicode CLDR number symbols of each locale."""

from datetime import date
from decimal import Decimal

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.template import Context, Template
from django.test import override_settings
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.money import parse_money
from catalog.core.ground.plain_text import money
from quoting.platform.environment import read_locale
from quoting.platform.formatting import amount_words, money_words, printed_marks


@pytest.mark.parametrize(
    ("locale", "shown"), [("en_US", "USD 13,841.94"), ("de_DE", "USD 13.841,94"), ("fr_CA", "USD 13\xa0841,94")]
)
def test_an_amount_has_the_same_cents_on_page_paper_and_in_documents(settings, locale, shown):
    settings.MONEY_LOCALE = locale
    amount = Decimal("13841.94")
    page = Template("{% load sheet_words %}{{ amount|money:'USD' }}").render(Context({"amount": amount}))
    assert money_words(amount, "USD") == page == shown
    assert money(amount) == "13841.94"


@given(st.decimals(-(10**9), 10**9, places=2), st.sampled_from(["en_US", "de_DE", "fr_CA", "de_CH", "sv_SE", "it_CH"]))
def test_an_amount_that_was_printed_is_read_back_the_same(amount, locale):
    with override_settings(MONEY_LOCALE=locale):
        for shown in (money_words(amount, "USD"), amount_words(amount), money(amount)):
            assert parse_money(shown, "Paid", allow_negative=True, marks=printed_marks("USD")) == amount


def test_half_a_cent_goes_up_and_a_currency_without_small_coins_keeps_its_two_places(settings):
    settings.MONEY_LOCALE = "en_US"
    assert amount_words(Decimal("2.675")) == "2.68"
    assert money_words(Decimal("-1250.5"), "JPY") in ("-JPY 1,250.50", "JPY -1,250.50")


def test_a_place_that_is_none_stops_the_service(monkeypatch):
    monkeypatch.setenv("CURVEWRIGHT_MONEY_LOCALE", "fr-CA")
    assert read_locale("CURVEWRIGHT_MONEY_LOCALE", "en_US") == "fr_CA"
    monkeypatch.setenv("CURVEWRIGHT_MONEY_LOCALE", "Atlantis")
    with pytest.raises(ImproperlyConfigured, match="not a locale"):
        read_locale("CURVEWRIGHT_MONEY_LOCALE", "en_US")


def test_a_day_on_a_screen_names_its_year_only_if_it_is_not_this_one(frozen_clock):
    """The clock stands in 2026; 10 December 2026 is a Thursday and 4 January 2027 a Monday by any calendar."""
    page = Template("{% load sheet_words %}{{ near|day }}, {{ far|day }}, {{ told|with_days }}")
    message = "Placed Thu 10 Dec 2026, due Mon 4 Jan 2027"
    shown = page.render(Context({"near": date(2026, 12, 10), "far": "2027-01-04", "told": message}))
    assert shown == "Thu 10 Dec, Mon 4 Jan 2027, Placed Thu 10 Dec, due Mon 4 Jan 2027"


def test_days_in_a_sentence_are_written_as_on_the_page_and_what_is_no_day_stays():
    """10 December 2026 is a Thursday by any calendar."""
    page = Template("{% load sheet_words %}{{ told|with_days }}")
    message = "Mill <2026-13-40> has not confirmed O-0005, placed 2026-12-10: ask for it."
    shown = "Mill &lt;2026-13-40&gt; has not confirmed O-0005, placed Thu 10 Dec: ask for it."
    assert page.render(Context({"told": message})) == shown
