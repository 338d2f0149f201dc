"""manage.py work_up as one runs it, on a machine where no database was ever made.

Expected figures: the whole worked examples of the job files (fixtures/README.md tells where each is from),
computed by hand and with general libraries, to the digits they were stated to.
"""

import json
import subprocess
import sys
from copy import deepcopy
from datetime import date
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from icalendar import Calendar

from tests.documents import FIXTURES, JOBS, document
from tests.service import OwnService
from tests.support.paper_reading import page_texts, whole_text

WRITTEN = {"takeoff.json", "schedule.json", "quote.json", "quote.pdf", "order-dates.pdf", "order-dates.ics"}

# wall -> inches of radius on the framing line measured, of the four lines, and stations at 8 in.
DENTAL = {"reception-screen": (132.600, 181.940, 182.626, 176.966, 176.280, 24)}
CHILDCARE = {
    "cubby-wall": (109.00, 127.075, 127.658, 124.161, 123.578, 17),
    "story-corner": (60.00, 111.275, 112.203, 106.639, 105.712, 15),
    "play-bay": (139.60, 151.297, 151.839, 148.587, 148.045, 20),
}
# material -> need-by, order-by, decide-by
DATES = {
    "larkmoor-dental": {
        "BASE-514-FLEX": ("2027-01-25", "2026-12-10", "2026-12-03"),
        "TRACK-358": ("2027-01-04", "2026-12-10", "2026-12-10"),
        "GB-14": ("2027-01-04", "2026-12-10", "2026-12-10"),
    },
    "ashgrove-library": {"BASE-OAK-PRE": ("2027-04-12", "2027-02-12", "2027-01-29")},
    "merrow-finch-boutique": {
        "REVEAL-58": ("2027-04-20", "2027-03-08", "2027-03-01"),
        "BASE-700-FLEX": ("2027-05-05", "2027-04-06", "2027-03-30"),
    },
    "brightwell-childcare": {"BASE-312-FLEX": ("2027-08-11", "2027-06-29", "2027-06-22")},
}
MONEY = {
    "larkmoor-dental": ("13841.94", "1799.45", "15641.39"),
    "brightwell-childcare": ("29593.75", "0.00", "29593.75"),
}


class Done:
    def __init__(self, folder, words):
        self.folder, self.said = folder, words
        self.takeoff, self.schedule, self.quote = (
            json.loads((folder / f"{name}.json").read_text()) for name in ("takeoff", "schedule", "quote")
        )

    def wall(self, key):
        return next(wall for wall in self.takeoff["walls"] if wall["key"] == key)

    def item(self, material):
        return next(item for item in self.schedule["items"] if item["material"] == material)


# Each example as the command line works it up, one after another in a process that finds no database.
ALL_AT_ONCE = """
import sys, django
django.setup()
from django.core.management import call_command
for name, today, out in zip(*[iter(sys.argv[1:])] * 3):
    call_command("work_up", f"fixtures/jobs/{name}.json", f"--out={out}", f"--today={today}")
    print("====")
"""
WORKED = [*((name, "2026-11-25") for name in JOBS), ("larkmoor-dental", "2026-12-16")]


@pytest.fixture(scope="module")
def worked(tmp_path_factory):
    folder = tmp_path_factory.mktemp("work-up")
    rows = [(name, today, str(folder / f"{name}-{today}")) for name, today in WORKED]
    run = OwnService(folder).run("-c", ALL_AT_ONCE, *(word for words in rows for word in words))
    assert run.returncode == 0, run.stderr
    assert not (folder / "curvewright.sqlite3").exists() or not OwnService(folder).rows("SELECT 1 FROM sqlite_master")
    dones = {
        (name, today): Done(Path(out), words)
        for (name, today, out), words in zip(rows, run.stdout.split("===="), strict=False)
    }
    return lambda name, today="2026-11-25": dones[name, today]


@pytest.mark.parametrize("name", JOBS)
def test_every_result_is_written_and_nothing_else(worked, name):
    result = worked(name)
    assert {path.name for path in result.folder.iterdir()} == WRITTEN
    assert "with the starter catalog behind the file" in result.said


@pytest.mark.parametrize(("name", "walls"), [("larkmoor-dental", DENTAL), ("brightwell-childcare", CHILDCARE)])
def test_radii_lengths_and_stations_are_those_worked_by_hand(worked, name, walls):
    result = worked(name)
    for key, (radius, convex_framing, convex_finished, concave_framing, concave_finished, stations) in walls.items():
        wall = result.wall(key)
        sides = wall["pieces"][0]["by_side"]
        assert sides["convex_framing"]["radius"]["in"] == pytest.approx(radius, abs=0.0005)
        lengths = [sides[side]["length"]["in"] for side in sides]
        assert list(sides) == ["concave_framing", "concave_finished", "convex_framing", "convex_finished"]
        expected = [concave_framing, concave_finished, convex_framing, convex_finished]
        assert lengths == pytest.approx(expected, abs=0.0006)
        assert wall["framing"]["base_station_count"] == stations


def test_the_dental_screen_has_its_areas_sweep_and_base(worked):
    result = worked("larkmoor-dental")
    wall = result.wall("reception-screen")
    assert wall["pieces"][0]["sweep_deg"] == pytest.approx(78.615, abs=0.0005)
    assert wall["areas"]["right_finished"]["net"]["sqft"] == pytest.approx(114.70, abs=0.005)
    assert wall["areas"]["left_finished"]["net"]["sqft"] == pytest.approx(109.94, abs=0.005)
    nets = sorted(run["net"]["in"] for run in wall["trim"])
    assert nets == pytest.approx([137.63, 143.99], abs=0.005)


def test_the_library_nook_has_its_radii_area_and_stations(worked):
    wall = worked("ashgrove-library").wall("reading-nook")
    sides = wall["pieces"][0]["by_side"]
    assert sides["concave_finished"]["radius"]["in"] == pytest.approx(60.0, abs=1e-6)
    assert sides["concave_framing"]["radius"]["in"] == pytest.approx(60.5, abs=1e-6)
    assert sides["concave_framing"]["length"]["in"] == pytest.approx(190.07, abs=0.005)
    assert sides["convex_framing"]["radius"]["in"] == pytest.approx(64.125, abs=1e-6)
    assert sides["convex_framing"]["length"]["in"] == pytest.approx(201.46, abs=0.006)
    assert wall["areas"]["left_finished"]["net"]["sqft"] == pytest.approx(137.44, abs=0.005)
    assert wall["framing"]["base_station_count"] == 27


def test_the_s_curve_ends_where_it_was_computed_to(worked):
    wall = worked("merrow-finch-boutique").wall("lobby-wall")
    assert wall["lengths"]["centre"]["in"] == pytest.approx(230.401, abs=0.0005)
    assert wall["lengths"]["right_finished"]["in"] == pytest.approx(231.007, abs=0.0005)
    assert wall["lengths"]["left_finished"]["in"] == pytest.approx(229.796, abs=0.0005)
    areas = [wall["areas"][line]["net"]["sqft"] for line in ("right_finished", "left_finished")]
    assert areas == pytest.approx([192.51, 191.50], abs=0.006)
    end = wall["end"]
    assert (end["x"]["in"], end["y"]["in"]) == pytest.approx((181.734, 119.475), abs=0.0005)
    assert end["heading_deg"] == pytest.approx(15.0, abs=1e-4)


@pytest.mark.parametrize("name", JOBS)
def test_the_order_dates_are_those_worked_by_hand(worked, name):
    result = worked(name)
    for material, days in DATES[name].items():
        item = result.item(material)
        assert (item["need_by"], item["order_by"], item["decide_by"]) == days


def test_ordered_on_16_december_the_dental_base_is_four_days_late(worked):
    item = worked("larkmoor-dental", "2026-12-16").item("BASE-514-FLEX")
    assert item["if_ordered_today"]["usable"] == "2027-01-29"
    assert item["if_ordered_today"]["workdays_late"] == 4
    assert item["days_in_hand"] == -4
    assert item["standing"] == "late"


@pytest.mark.parametrize("name", sorted(MONEY))
def test_price_tax_and_total_are_those_worked_by_hand(worked, name):
    quote = worked(name).quote
    assert (quote["price"], quote["tax"]["amount"], quote["total"]) == MONEY[name]


def test_the_childcare_deposit_is_the_greater_of_a_third_and_the_special_orders(worked):
    assert worked("brightwell-childcare").quote["deposit"] == "9864.58"


def test_the_library_pays_no_tax_on_its_certificate(worked):
    quote = worked("ashgrove-library").quote
    assert quote["tax"]["amount"] == "0.00"
    assert quote["tax"]["exempt_certificate"]


@pytest.mark.parametrize("name", JOBS)
def test_the_calendar_opens_and_holds_every_order_by_day(worked, name):
    result = worked(name)
    calendar = Calendar.from_ical((result.folder / "order-dates.ics").read_bytes())
    pairs = {(str(event["summary"]).split(":")[0], event["dtstart"].dt) for event in calendar.walk("VEVENT")}
    for _, order_by, decide_by in DATES[name].values():
        assert ("Order", date.fromisoformat(order_by)) in pairs
        # Where no days are kept for signing off there is nothing to decide before the order.
        assert decide_by == order_by or ("Decide", date.fromisoformat(decide_by)) in pairs


def test_a_calendar_made_again_names_its_events_the_same(worked):
    def ids(today):
        data = (worked("larkmoor-dental", today).folder / "order-dates.ics").read_bytes()
        return [str(event["uid"]) for event in Calendar.from_ical(data).walk("VEVENT")]

    assert sorted(ids("2026-11-25")) == sorted(ids("2026-12-16"))
    assert len(set(ids("2026-11-25"))) == len(ids("2026-11-25"))


@pytest.mark.parametrize("name", JOBS)
def test_the_clients_paper_tells_no_cost_no_margin_and_no_supplier(worked, name):
    result = worked(name)
    text = whole_text((result.folder / "quote.pdf").read_bytes())
    suppliers = {supplier["name"] for supplier in document("catalog/starter.json")["suppliers"]}
    office = result.quote["office"]
    secrets = {office["cost"], *(cost["cost"] for cost in office["costs"]), *office["cost_by_category"].values()}
    secrets = {f"{float(amount):,.2f}" for amount in secrets if float(amount)} | suppliers | {"margin", "markup"}
    # What is a secret here must not be a price that happens to be the same.
    shown = {f"{float(line['price']):,.2f}" for line in result.quote["lines"]}
    assert [secret for secret in sorted(secrets - shown) if secret.lower() in text.lower()] == []
    assert f"{float(result.quote['total']):,.2f}" in text


def test_the_office_paper_does_tell_them(worked):
    """The control: what the test before looks for is found where it is meant to be."""
    result = worked("larkmoor-dental")
    dates = whole_text((result.folder / "order-dates.pdf").read_bytes())
    assert "Hennock Trim Mill" in dates
    assert result.quote["office"]["cost"] == "8582.00"
    assert len(page_texts((result.folder / "quote.pdf").read_bytes())) >= 2


def spoiled(change):
    value = document("jobs/larkmoor-dental.json")
    change(value)
    return json.dumps(value)


def text(value):
    return lambda: value


WRONG = {
    "not JSON": (text("{"), "this is not JSON"),
    "a list": (text("[]"), "must be a JSON object"),
    "empty": (text(""), "this is not JSON"),
    "a name twice": (text('{"format": 1, "format": 2}'), "given twice in one object"),
    "NaN": (text('{"format": NaN}'), "NaN is not a number"),
    "too deep": (text("[" * 200 + "]" * 200), "nested more than"),
    "another format": (lambda: spoiled(lambda d: d.update(format="other/1")), "format: "),
    "unknown name": (lambda: spoiled(lambda d: d.update(wals=[])), "wals: is not a name known here"),
    "no client": (lambda: spoiled(lambda d: d.pop("client")), "client: is missing"),
    "no title": (lambda: spoiled(lambda d: d["job"].pop("title")), "job.title: is missing"),
    "start": (lambda: spoiled(lambda d: d["job"].update(start_on="4 January")), "job.start_on: "),
    "crew": (lambda: spoiled(lambda d: d["job"].update(crew=0)), "job.crew: "),
    "chord": (lambda: spoiled(lambda d: d["walls"][0]["pieces"][0].update(chord="x")), "walls[0].pieces[0].chord: "),
    "rise 0": (lambda: spoiled(lambda d: d["walls"][0]["pieces"][0].update(rise=0)), "walls[0].pieces[0]"),
    "rise 1e308": (
        lambda: spoiled(lambda d: d["walls"][0]["pieces"][0].update(rise=1e308)),
        "walls[0].pieces[0].rise: ",
    ),
    "height": (lambda: spoiled(lambda d: d["walls"][0].update(height=-96)), "walls[0].height"),
    "moisture": (
        lambda: spoiled(lambda d: d["walls"][0]["left"]["layers"][0].update(moisture="wet")),
        "walls[0].left.layers[0].moisture: ",
    ),
    "opening too wide": (
        lambda: spoiled(lambda d: d["walls"][0]["openings"][0].update(width="40 ft")),
        "openings",
    ),
    "a wall twice": (lambda: spoiled(lambda d: d["walls"].append(deepcopy(d["walls"][0]))), "walls: "),
    "a name twice over": (
        lambda: spoiled(lambda d: d["walls"].append(deepcopy(d["walls"][0]) | {"key": "second"})),
        'walls[1].name: "Reception screen" is the name of the wall "reception-screen" (walls[0]) too',
    ),
    "shares": (lambda: spoiled(lambda d: d["pricing"]["instalments"].pop()), "pricing.instalments: "),
    "margin": (
        lambda: spoiled(lambda d: d["pricing"]["policy"].update(target_margin="1.2")),
        "pricing.policy.target_margin: ",
    ),
    "tax": (lambda: spoiled(lambda d: d["pricing"]["tax"].update(rate="13 %")), "pricing.tax.rate: "),
    "wall of a cost": (lambda: spoiled(lambda d: d["pricing"]["labour"][0].update(wall="x")), "pricing: "),
    "price": (
        lambda: spoiled(lambda d: d["materials"][0]["packs"][0]["prices"][0].update(amount="1.234")),
        "materials[0].packs[0].prices[0].amount: ",
    ),
    "closure": (lambda: spoiled(lambda d: d["firm"]["closed"][0].update(day="2026-13-01")), "firm.closed[0].day: "),
    "supplier": (lambda: spoiled(lambda d: d["materials"][0].update(supplier="NOBODY")), 'supplier "NOBODY"'),
}  # fmt: skip


@pytest.mark.parametrize("what", sorted(WRONG))
def test_a_wrong_file_is_refused_with_its_path_and_leaves_nothing(db, tmp_path, what):
    make, message = WRONG[what]
    path, out = tmp_path / "job.json", tmp_path / "out"
    path.write_text(make())
    with pytest.raises(CommandError) as refusal:
        call_command("work_up", str(path), out=out, today=date(2026, 11, 25))
    sentence = str(refusal.value)
    assert sentence.startswith(str(path))
    assert message in sentence
    assert not out.exists()


def test_several_faults_are_told_together(db, tmp_path):
    path = tmp_path / "job.json"
    path.write_text(spoiled(lambda d: (d["job"].update(crew=0), d["pricing"]["tax"].update(rate=2))))
    with pytest.raises(CommandError, match=r"(?s)job\.crew.*pricing\.tax\.rate"):
        call_command("work_up", str(path), out=tmp_path / "out")


@pytest.mark.parametrize(
    ("data", "message"),
    [(b"\xff\xfe{", "is not UTF-8 text"), (b" " * (10 * 1024 * 1024 + 1), "larger than 10 MB")],
)
def test_bytes_that_are_no_job_file_are_refused(db, tmp_path, data, message):
    path = tmp_path / "job.json"
    path.write_bytes(data)
    with pytest.raises(CommandError, match=message):
        call_command("work_up", str(path), out=tmp_path / "out")


def test_a_file_that_is_not_there_is_named(db, tmp_path):
    with pytest.raises(CommandError, match=r"nowhere\.json: cannot be read"):
        call_command("work_up", str(tmp_path / "nowhere.json"), out=tmp_path / "out")


def test_a_wrong_file_ends_the_process_with_another_code_than_0(tmp_path):
    path = tmp_path / "job.json"
    path.write_text("{")
    run = OwnService(tmp_path).manage("work_up", str(path), "--out", str(tmp_path / "out"))
    assert run.returncode == 1
    assert "Traceback" not in run.stderr


@pytest.mark.parametrize("day", ["today", "2026-W48-3", "2026-02-30", "25.11.2026"])
def test_a_day_that_is_none_is_refused(db, tmp_path, day):
    with pytest.raises(CommandError, match="write it as 2026-11-25"):
        call_command("work_up", str(FIXTURES / "jobs/larkmoor-dental.json"), f"--today={day}", out=tmp_path)


@pytest.mark.parametrize("day", ["9999-12-31", "2101-01-01", "1999-12-31", "0001-01-01"])
def test_a_day_beyond_all_calendars_is_refused(db, tmp_path, day):
    with pytest.raises(CommandError, match=f"--today: {day} is outside the years 2000 to 2100"):
        call_command("work_up", str(FIXTURES / "jobs/larkmoor-dental.json"), f"--today={day}", out=tmp_path)


@pytest.mark.parametrize("day", ["2000-01-01", "2100-12-31"])
def test_the_first_and_the_last_day_of_those_years_are_worked_up(db, tmp_path, day):
    call_command("work_up", str(FIXTURES / "jobs/larkmoor-dental.json"), f"--today={day}", out=tmp_path)
    assert (tmp_path / "quote.json").exists()


def test_a_folder_that_cannot_be_written_is_named(db, tmp_path):
    (tmp_path / "out").write_text("a file")
    with pytest.raises(CommandError, match="cannot be written there"):
        call_command(
            "work_up", str(FIXTURES / "jobs/larkmoor-dental.json"), out=tmp_path / "out", today=date(2026, 11, 25)
        )


def test_an_older_paper_is_not_left_beside_a_quote_that_has_a_gap(db, tmp_path):
    (tmp_path / "quote.pdf").write_bytes(b"of last week")
    path = tmp_path / "job.json"
    path.write_text(spoiled(lambda d: d.pop("pricing")))
    call_command("work_up", str(path), out=tmp_path, today=date(2026, 11, 25))
    assert not (tmp_path / "quote.pdf").exists()
    assert json.loads((tmp_path / "quote.json").read_text())["priced"] is False


def test_a_stored_firm_stands_behind_the_file(db, tmp_path, capsys):
    from tests.support.worked import small_document, small_job

    small_job()
    path = tmp_path / "job.json"
    path.write_text(json.dumps(small_document()))
    call_command("work_up", str(path), out=tmp_path / "out", today=date(2026, 11, 25))
    assert "with the stored catalog behind the file" in capsys.readouterr().out


def test_a_command_whose_reader_closes_early_ends_without_a_traceback():
    call = [sys.executable, FIXTURES.parent / "manage.py", "diffsettings"]
    with subprocess.Popen(call, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=FIXTURES.parent) as command:
        command.stdout.close()
        # As a shell counts it: 128 and the number of SIGPIPE, 13.
        assert (command.stderr.read(), command.wait()) == (b"", 141)
