import re
from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse

from catalog.models import Material
from jobs.walls.services.overrides import set_override
from quoting.pricing.models import Pricing
from quoting.service.services.change_history import Change, EntryChange
from quoting.service.services.history_lines import pages_of, saves_of
from tests.documents import starter
from tests.stored import stored_book
from tests.support.desk import DAY, as_, priced_job, queries_of

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]


@pytest.fixture
def trim(frozen_clock, db):
    stored_book(starter(), "starter")
    return Material.objects.get(code="BASE-514-FLEX")


def test_a_changed_price_shows_who_before_and_after(as_, trim):
    office, pack = as_("office"), trim.packs.get()
    url = reverse("price_add", args=[trim.pk, pack.pk])
    for amount in ("31.50", "33.25"):
        office.post(url, {"amount": amount, "starts_on": "2026-10-05", "source": "e-mail"})
    page = office.get(reverse("material_history", args=[trim.pk])).context["changes"]
    change = next(entry for entry in page if entry.did == "changed")
    assert change.who == "the-office"
    assert [(entry.label, entry.before, entry.after) for entry in change.entries] == [("Amount", "31.5", "33.25")]


def test_a_change_was_made_when_the_clock_said_so(as_, trim, frozen_clock):
    frozen_clock.move_on(days=30)
    trim.packs.get().prices.earliest("starts_on").delete()
    page = as_("owner").get(reverse("material_history", args=[trim.pk])).context["changes"]
    assert [entry.when for entry in page if entry.did == "deleted"] == [frozen_clock.now()]


def test_a_price_taken_away_keeps_what_it_was(as_, trim):
    price = trim.packs.get().prices.earliest("starts_on")
    price.delete()
    page = as_("owner").get(reverse("material_history", args=[trim.pk])).context["changes"]
    gone = next(entry for entry in page if entry.did == "deleted")
    assert ("Amount", "24.6", "") in [(entry.label, entry.before, entry.after) for entry in gone.entries]


def test_an_override_shows_in_the_history_of_its_job(as_, trim):
    job = priced_job()
    set_override(job, None, key="line/tape", reason="Counted on site", by="Ines", on=DAY.date(), value="3")
    changes = as_("owner").get(reverse("job_history", args=[job.pk])).context["changes"]
    change = next(entry for entry in changes if "tape" in entry.what)
    assert ("Reason", "", "Counted on site") in [(entry.label, entry.before, entry.after) for entry in change.entries]


def test_another_profile_of_a_trim_run_shows_before_and_after(as_, trim):
    job = priced_job()
    run = job.walls.first().trims.first()
    before = run.material_id
    run.material_id = "BASE-700-FLEX"
    run.save()
    page = as_("owner").get(reverse("job_history", args=[job.pk])).context["changes"]
    change = next(entry for entry in page if entry.did == "changed" and run.name in entry.what)
    assert [(entry.before, entry.after) for entry in change.entries] == [(before, "BASE-700-FLEX")]


def test_margins_are_told_to_those_who_see_them_and_to_no_one_else(as_, trim):
    job = priced_job()
    pricing = Pricing.objects.get(job=job)
    pricing.target_margin = "0.41"
    pricing.save()
    url = reverse("job_history", args=[job.pk])
    assert "0.41" in as_("estimator").get(url).content.decode()
    assert "0.41" not in as_("office").get(url).content.decode()


def test_the_lead_sees_no_history(as_, trim):
    job = priced_job()
    lead = as_("lead")
    assert lead.get(reverse("job_history", args=[job.pk])).status_code == 403
    assert lead.get(reverse("material_history", args=[trim.pk])).status_code == 403


def test_a_longer_history_asks_the_database_no_more(as_, trim):
    office, url = as_("office"), reverse("material_history", args=[trim.pk])
    few = queries_of(office, url)
    for place in range(5):
        trim.note = f"note {place}"
        trim.save()
    assert queries_of(office, url) == few


@pytest.mark.parametrize("page", ["0", "-1", "last", "99999", "x", "\x00"])
def test_any_page_asked_for_is_answered(as_, trim, page):
    assert as_("owner").get(reverse("material_history", args=[trim.pk]), {"page": page}).status_code == 200


def test_a_share_is_told_as_one_figure_and_a_client_by_name(as_, trim):
    job = priced_job()
    changes = as_("owner").get(reverse("job_history", args=[job.pk])).context["changes"]
    pairs = {(entry.label, entry.after) for change in changes for entry in change.entries}
    # Worked example, Larkmoor Dental: 40 %, 40 % and 20 %.
    assert {("Share", "40 %"), ("Share", "20 %"), ("Client", "Larkmoor Dental")} <= pairs


def test_history_names_dimensions_and_checks_in_words_and_lengths_in_the_firms_units(as_, trim):
    wall = priced_job().walls.get()
    wall.marks.create(dimension="openings[0].width", how="measured", by="Ines", on=DAY.date())
    set_override(wall.job, wall, key=f"{wall.key}/track/piece-1/bend", reason="Bent before", by="Ines", on=DAY.date())
    wall.pieces.update_or_create(order=0, defaults={"rise_mm": "787.4"})
    changes = as_("owner").get(reverse("job_history", args=[wall.job_id])).context["changes"]
    message = {change.what: {entry.label: entry.after for entry in change.entries} for change in changes}
    assert message["dimension mark “opening 1, width”"]["Dimension"] == "opening 1, width"
    assert message["override “track, piece 1, bend”"]["Key"] == "track, piece 1, bend"
    # 787.4 mm is 31 in.
    assert any(entry.after == "2' 7\"" for change in changes for entry in change.entries)


AT = datetime(2026, 10, 5, 15, 0, tzinfo=UTC)
RISE = EntryChange("Rise", "1' 11\"", "2' 0\"")


def changed(seconds, *entries, who="Bram", what="wall “Reception screen”"):
    return Change(AT + timedelta(seconds=seconds), who, what, "changed" if entries else "entered", entries)


def test_a_line_says_what_was_changed_to_what_from_what():
    assert [save.said for save in saves_of([changed(0, RISE)])] == [
        "wall “Reception screen”, rise 2' 0\" from 1' 11\"",
    ]


def test_rows_stored_at_once_by_one_person_are_one_line_led_by_the_change():
    newest_first = [changed(0.2), changed(0.1, RISE), changed(0, what="piece 2")]
    saves = list(saves_of(newest_first))
    assert [save.said for save in saves] == ["wall “Reception screen”, rise 2' 0\" from 1' 11\", and 2 more"]
    assert saves[0].changes[0].what == "piece 2"


def test_another_person_or_a_later_save_is_another_line():
    newest_first = [changed(9, RISE), changed(0.1, RISE, who="Ines"), changed(0, RISE)]
    assert [(save.who, save.when.second) for save in saves_of(newest_first)] == [("Bram", 9), ("Ines", 0), ("Bram", 0)]


def test_a_page_ends_after_60_lines_or_25_days():
    one_day = list(saves_of([changed(10 * -place, RISE) for place in range(61)]))
    assert [len(page) for page in pages_of(one_day)] == [60, 1]
    many_days = list(saves_of([changed(86400 * -place, RISE) for place in range(26)]))
    assert [len(page) for page in pages_of(many_days)] == [25, 1]


def test_the_page_of_a_job_says_its_lines_by_day_and_offers_the_job_file(as_, trim, frozen_clock):
    job = priced_job()
    frozen_clock.move_on(days=1)
    run = job.walls.first().trims.first()
    run.material_id = "BASE-700-FLEX"
    run.save()
    page = as_("office").get(reverse("job_history", args=[job.pk])).content.decode()
    assert re.findall(r"<h2>(.*?)</h2>", page)[:2] == ["Tue 6 Oct", "Mon 5 Oct"]
    assert "BASE-700-FLEX from BASE-514-FLEX" in page and reverse("job_export", args=[job.pk]) in page


def test_a_long_save_comes_when_it_is_opened_and_all_of_them_when_asked(as_, trim):
    job = priced_job()
    office, url = as_("office"), reverse("job_history", args=[job.pk])
    shut = office.get(url).content.decode()
    (mark,) = set(re.findall(r'hx-select="#save-([0-9-]+)"', shut))
    assert "Site address" not in shut and "Site address" in office.get(url, {"save": mark}).content.decode()
    assert "Site address" in office.get(url, {"save": "all"}).content.decode()
    assert "Site address" not in office.get(url, {"save": "\0"}).content.decode()
