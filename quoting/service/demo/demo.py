"""The firm, people and jobs of the demonstration: all invented, and only ever put into an empty service."""

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from catalog.models import Firm
from catalog.services.catalog_file import import_catalog
from jobs.jobs.models import Job
from quoting.core.quotes.firm_texts import BLOCKS, FirmTexts
from quoting.job_files.services.job_files import import_job_file
from quoting.payment_requests.services.terms import set_terms
from quoting.platform.people.models import Person, Role
from quoting.platform.people.services.people import add_person, give_new_password
from quoting.pricing.models import Pricing
from quoting.pricing.services.pricing import save_pricing
from quoting.pricing.services.taxes import set_labour_rate, set_tax_rate
from quoting.quotes.services.cancellation import set_term
from quoting.service.demo.demo_jobs import CANCELLATION, LEAD, MAIN_JOB, job_document, read_fixture
from quoting.texts.services.firm_texts import store_firm_texts

LOG_INS = "demo-log-ins.txt"
# The examples are dated for a reader of this day; whoever shows their figures says so beside them.
DEMO_DAY = date(2026, 11, 25)
PANELLED_JOB = "ashgrove-library"
JOBS = (MAIN_JOB, PANELLED_JOB, "merrow-finch-boutique", "brightwell-childcare")
PEOPLE = (
    ("demo-owner", "Ottilie Wendrell", Role.OWNER),
    ("demo-estimator", "Bram Sawtry", Role.ESTIMATOR),
    ("demo-office", "Ines Calloway", Role.OFFICE),
    ("demo-lead", LEAD, Role.LEAD),
)
RATES = (
    {"name": "Carpenter", "rate": "45.50", "starts_on": "2026-01-01"},
    {"name": "Carpenter", "rate": "47.00", "starts_on": "2026-07-01"},
    {"name": "Finisher", "rate": "47.00", "starts_on": "2026-07-01"},
)
TAX = {"name": "Sales tax", "rate": "0.13", "applies_to": "price", "basis": "document", "starts_on": "2020-01-01"}
HOW_TO_PAY = {
    "how_to_pay": "By transfer to Wendrell & Sawtry Interiors, invented account 0000 47. Name the request.",
    "days_to_pay": "14",
    "tax_number": "SR-48 117",
}


@dataclass(frozen=True)
class LogIn:
    name: str
    role: str
    password: str


def job_key(name: str) -> str:
    return str(job_document(name)["job"]["key"])


def refuse_unless_free() -> None:
    """The demo hands out log-ins on a screen, so it never touches a service that somebody works with."""
    if settings.PRODUCTION:
        raise Refused("The demo is for a service of its own on one machine; this one is set up for production.")
    catalog = read_fixture("catalog/starter.json")
    strangers = Person.objects.exclude(login_name__in=[name for name, _, _ in PEOPLE])
    firm = Firm.objects.first()
    if strangers.exists() or (firm is not None and firm.name != catalog["firm"]["name"]):
        raise Refused(
            "Somebody works with this data already, and the demo would mix with it. "
            "Give the demo a folder of its own: CURVEWRIGHT_DATA=FOLDER."
        )


@transaction.atomic
def load_demo(now: datetime) -> Job:
    """Put in what is missing; what is there is left as it is. The main job."""
    if not Firm.objects.exists():
        import_catalog(read_fixture("catalog/starter.json"))
        set_tax_rate(TAX)
        for rate in RATES:
            set_labour_rate(rate)
        store_firm_texts(read(FirmTexts, Reader(read_fixture("texts/starter.json"))))
        set_term(CANCELLATION)
        set_terms(HOW_TO_PAY)
    main = job_document(MAIN_JOB)
    if not Pricing.objects.filter(job=None).exists():
        save_pricing(None, _usual_pricing(main["pricing"]), seen_version=None, on_day=DEMO_DAY)
    for name in JOBS:
        document = job_document(name)
        if not Job.objects.filter(key=document["job"]["key"]).exists():
            import_job_file(document, now=now)
    return Job.objects.select_related("client").get(key=main["job"]["key"])


def _usual_pricing(priced: dict[str, Any]) -> dict[str, Any]:
    """The firm prices as the main example does, with the tax by name and without the example's own costs."""
    own = ("labour", "subcontract", "other", "special_order_cost", *BLOCKS)
    usual = {name: value for name, value in priced.items() if name not in own}
    return usual | {"tax": {"name": TAX["name"]}}


@transaction.atomic
def demo_people() -> list[LogIn]:
    """Everyone's log-in; first passwords are kept in the data folder, for its owner's eyes, as long as it is."""
    path = Path(settings.DATA_DIR) / LOG_INS
    people = _kept_log_ins(path)
    entries = [_log_in(name, full_name, role, people.get(name, "")) for name, full_name, role in PEOPLE]
    path.touch(mode=0o600)
    path.write_text("".join(f"{entry.name}  {entry.password}  ({entry.role})\n" for entry in entries), encoding="utf-8")
    return entries


def _kept_log_ins(path: Path) -> dict[str, str]:
    if not path.exists():
        return {}
    lines = [line.split() for line in path.read_text(encoding="utf-8").splitlines()]
    return {words[0]: words[1] for words in lines if len(words) >= 2}


def _log_in(name: str, full_name: str, role: Role, password: str) -> LogIn:
    person = Person.objects.filter(login_name=name).first()
    if person is None:
        _, password = add_person(name, full_name, role)
    elif not password:
        _, password = give_new_password(person.pk)
    return LogIn(name, role.label, password)
