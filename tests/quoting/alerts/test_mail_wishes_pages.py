import pytest
from django.urls import reverse

from quoting.alerts.models import AlertTimes, MailWish
from tests.support.desk import as_, opened

__all__ = ["as_"]

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


def test_the_office_says_what_mail_it_wants(as_):
    office = as_("office")
    answer = office.post(reverse("mail_wish_set"), {"address": " ines@firm.example ", "weekly_list": "on"})
    assert answer["Location"] == reverse("account")
    wish = MailWish.objects.get()
    assert (wish.address, wish.alerts, wish.weekly_list) == ("ines@firm.example", False, True)
    assert 'value="ines@firm.example"' in office.get(reverse("account")).content.decode()


def test_a_wrong_address_is_named_and_nothing_is_saved(as_):
    answer = as_("owner").post(reverse("mail_wish_set"), {"address": "nobody", "alerts": "on"})
    assert answer.status_code == 422
    assert "Mail address: &#x27;nobody&#x27; is not a mail address" in answer.content.decode()
    assert not MailWish.objects.exists()


def test_who_does_not_order_is_offered_no_mail(as_):
    shown = as_("lead").get(reverse("account")).content.decode()
    assert reverse("mail_wish_set") not in shown and reverse("feed_make") in shown


def test_the_times_are_changed_on_their_page_and_a_wrong_hour_is_named(as_):
    owner, page = as_("owner"), reverse("alert_times")
    assert "10, 5, 1" in owner.get(page).content.decode()
    wrong = owner.post(page, {"days_ahead": "5", "list_at": "noon"} | opened(owner, page))
    assert (wrong.status_code, AlertTimes.objects.count()) == (422, 0)
    assert "is not an hour of the day; write such as 07:00" in wrong.content.decode()
    owner.post(page, {"days_ahead": "5 2", "list_at": "06:30"} | opened(owner, page))
    assert str(AlertTimes.objects.get()) == "5, 2 days ahead, list at 06:30:00"
