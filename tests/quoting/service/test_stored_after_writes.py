"""After any writes by page, API, job file, CSV or catalog, what is stored of a job is what a fresh work-up finds.

A few writes with each commit, 500 in make faults. The control reads the rows without asking whether they stand.
"""

import os
import random
from contextlib import ExitStack
from datetime import timedelta
from decimal import Decimal
from unittest import mock

import pytest
from django.urls import reverse

from catalog.models import Closure, Firm, LeadTerm, Material, Price
from catalog.services.book import book_of
from catalog.services.csv_export import export_csv
from catalog.services.csv_import import apply_csv, preview_csv
from jobs.core.ordering.job_work_up import JobInputs, work_up_job
from jobs.core.ordering.needs import counted_on
from jobs.jobs.models import Client, Job
from jobs.needs.models import StoredNeed
from jobs.needs.services import stored_jobs
from jobs.needs.services.result_rows import facts_of
from jobs.needs.services.stored_jobs import stored_job
from quoting.core.quotes.price_facts import price_facts
from quoting.job_files.services.job_files import import_job_file
from quoting.job_files.services.job_files import work_up_job as priced
from quoting.platform.firm_day import day_at_the_firm
from quoting.pricing.services.pricing import save_pricing
from quoting.pricing.services.taxes import set_labour_rate, set_tax_rate
from quoting.quotes.services import stored_prices
from quoting.quotes.services.stored_prices import stored_price
from tests.support.wall_posts import form_of
from tests.support.worked import NOW, PRICING, small_document

FAULTS = bool(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS"))
WRITES, SEED = (500 if FAULTS else 24), 20261125
KEY = "J-0100"
BY_NAME = {"tax": {"name": "Sales tax"}, "labour": [{"what": "All work", "hours": "96", "rate_of": "Journeyman"}]}

pytestmark = [pytest.mark.django_db, pytest.mark.faults]


class Desk:
    """People who change a small job, its price and what both rest on, each in one of many ways."""

    def __init__(self, page, api, clock, chance):
        self.page, self.api, self.clock, self.chance = page, api, clock, chance
        self.ways = [getattr(self, name) for name in dir(Desk) if name.startswith("by_")]

    @property
    def job(self):
        return Job.objects.get(key=KEY)

    @property
    def today(self):
        return day_at_the_firm(self.clock.now())

    def write(self):
        way = self.chance.choice(self.ways)
        way()
        return way.__name__

    def by_page_of_the_wall(self):
        wall = self.job.walls.get()
        form = form_of(wall) | {"height": str(self.chance.randint(100, 110))}
        assert self.page.post(reverse("wall", args=[wall.job_id, wall.key]), form).status_code == 302

    def by_page_closed_and_opened(self):
        for _ in range(2):
            job = self.job
            self.page.post(reverse("job_close", args=[job.pk]), {"seen_version": job.version})

    def by_api_of_the_job(self):
        job = {"crew": self.chance.randint(1, 4), "start_on": f"2027-0{self.chance.randint(1, 9)}-11"}
        assert self.api.as_read("PATCH", f"/api/jobs/{KEY}", {"job": job}).status_code == 200

    def by_api_of_a_material(self):
        waste = {"waste": f"0.{self.chance.randint(1, 40):02d}"}
        assert self.api.as_read("PATCH", "/api/catalog/materials/GB-14", waste).status_code == 200

    def by_job_file(self):
        file = small_document()
        file["walls"][0]["pieces"][0]["radius"] = self.chance.randint(110, 140)
        import_job_file(file, now=NOW, on_known="replace")

    def by_csv(self):
        code, name = self.chance.choice(["TRACK-358", "STUD-358"]), f"Named {self.chance.randint(1, 99)}"
        lines = export_csv().decode("utf-8-sig").splitlines()
        renamed = [line.replace(line.split(",")[1], name, 1) if line.startswith(f"{code},") else line for line in lines]
        content = "\r\n".join([*renamed, ""]).encode()
        preview = preview_csv(content)
        if not preview.errors:
            apply_csv(content, preview.sha256, preview.plan_sha256)

    def by_catalog_price(self):
        row = self.chance.choice(list(Price.objects.order_by("pk")))
        row.amount = Decimal(self.chance.randint(100, 9000)) / 100
        row.save()

    def by_catalog_closure(self):
        day = self.today + timedelta(days=self.chance.randint(5, 90))
        Closure.objects.create(first_day=day, last_day=day + timedelta(days=3), reason="away")

    def by_catalog_lead_time(self):
        row = self.chance.choice(list(LeadTerm.objects.order_by("pk")))
        row.production_days = self.chance.randint(1, 30)
        row.save()

    def by_catalog_supplier(self):
        row = Material.objects.filter(supplier__isnull=False).order_by("pk").first()
        row.cushion_workdays = self.chance.randint(0, 9)
        row.save()

    def by_firm(self):
        row = Firm.objects.get()
        row.display_units = self.chance.choice(["imperial", "metric"])
        row.save()

    def by_client(self):
        row = Client.objects.get(jobs__key=KEY)
        body = {"name": row.name, "tax_exempt_certificate": self.chance.choice([None, "EX-1"])}
        self.api.as_read("PUT", f"/api/clients/{row.pk}", body)

    def by_price(self):
        own = {"policy": {"mode": "margin", "target_margin": f"0.{self.chance.randint(20, 45)}"}}
        more = self.chance.choice([{}, BY_NAME, {"materials": "takeoff"}])
        save_pricing(self.job, PRICING | own | more, seen_version=None, on_day=self.today)

    def by_rates(self):
        start = (self.today + timedelta(days=self.chance.randint(-5, 5))).isoformat()
        set_tax_rate({"name": "Sales tax", "rate": f"0.{self.chance.randint(5, 15):02d}", "starts_on": start})
        set_labour_rate({"name": "Journeyman", "rate": str(self.chance.randint(30, 60)), "starts_on": start})

    def by_usual_price(self):
        least = {"policy": {"mode": "margin", "target_margin": "0.40"}}
        least["policy"]["minimum_margin"] = self.chance.choice(["0.3", "0.39"])
        usual = {
            "materials": "takeoff",
            "tax": PRICING["tax"],
            "checklist": [{"item": self.chance.choice(["Delivery", "Scaffold"])}],
        }
        save_pricing(None, usual | least, seen_version=None, on_day=self.today)

    def by_the_clock(self):
        self.clock.move_to(self.clock.now() + timedelta(days=self.chance.randint(0, 3)))


def differences(desk):
    """Between what is read of the job and what is worked up of it with nothing remembered."""
    job, today = desk.job, desk.today
    result, price = stored_job(job, today), stored_price(job, today)
    needs = {row.material: row.to_core() for row in StoredNeed.objects.filter(job=job)}
    job, book = desk.job, book_of()
    work_up = work_up_job(JobInputs(book, job.to_core()), today)
    counted = {
        code: counted_on(entry, book.suppliers.get(entry.supplier or ""), book.firm.calendar, today)
        for code, entry in needs.items()
    }
    pairs = {
        "facts": (result.facts, facts_of(work_up)),
        "takeoff": (result.takeoff, work_up.takeoff),
        "plan": (result.plan, work_up.plan),
        "needs": (counted, {need.material: need for need in work_up.needs}),
        "price": (price, price_facts(priced(desk.job, today))),
    }
    return [name for name, (stored, fresh) in pairs.items() if stored != fresh]


@pytest.fixture
def desk(job, client, estimator, frozen_clock):
    frozen_clock.move_to(NOW)
    client.force_login(estimator.person)
    made = Desk(client, estimator, frozen_clock, random.Random(SEED))
    made.by_rates()
    assert differences(made) == []
    return made


def test_what_is_stored_is_what_a_fresh_work_up_finds_after_any_writes(desk):
    writes = []
    for _ in range(WRITES):
        writes += [desk.write() for _ in range(desk.chance.randint(1, 3))]
        assert differences(desk) == [], writes[-3:]
    assert len(set(writes)) == len(desk.ways) or not FAULTS, "every way was taken"


def test_the_control_reads_rows_that_nobody_asks_whether_they_stand(desk):
    with ExitStack() as blind:
        standing = stored_jobs._Standing
        for name in ("of", "is_dated"):
            blind.enter_context(mock.patch.object(standing, name, return_value=True))
        blind.enter_context(mock.patch.object(stored_prices, "_marks", lambda ids, today: dict.fromkeys(ids, "0" * 64)))
        differences(desk)
        for way in (desk.by_page_of_the_wall, desk.by_price):
            way()
        assert {"facts", "takeoff", "price"} <= set(differences(desk))
