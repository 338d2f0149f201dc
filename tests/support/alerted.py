"""Items to be ordered, as the work-up of a job stores them, and people who want mail of them."""

from datetime import date, datetime, timedelta

from jobs.jobs.models import Job
from jobs.needs.models import StoredNeed
from quoting.alerts.services.mail_preferences import set_wish
from quoting.platform.people.models import Person

# The firm of fixtures/ is in America/New_York; 05:00 UTC is its midnight in winter (IANA Time Zone Database).
EVENING = datetime.fromisoformat("2026-12-03T04:58:00+00:00")
ORDER_BY, DECIDE_BY = date(2026, 12, 10), date(2026, 12, 3)


def need(job: Job, material: str = "BASE", order_by: date = ORDER_BY, **more: object) -> StoredNeed:
    """A bendable base, its days as in the worked examples, part B."""
    figures = {
        "name": f"Item {material}",
        "supply": "special_order",
        "supplier": "HENNOCK",
        "unit": "ft",
        "driven_by": "length",
        "cushion_workdays": 3,
        "sign_off_workdays": 5,
        "decide_by": order_by - timedelta(days=7),
        "order_by": order_by,
        "ship": order_by + timedelta(days=20),
        "dock": order_by + timedelta(days=25),
        "need_by": order_by + timedelta(days=30),
    }
    return StoredNeed.objects.create(job=job, material=material, **(figures | more))


def wanting_mail(make_person: object, role: str = "office", name: str = "", **wishes: bool) -> Person:
    person = make_person(role, name or f"the-{role}")  # type: ignore[operator]
    wanted = {"alerts": True, "weekly_list": False} | wishes
    set_wish(person, address=f"{person.login_name}@firm.example", now=EVENING - timedelta(days=30), **wanted)
    return person
