"""What each page may ask of its reader: words, height, open fields, one filled button, its answer in sight.

The budgets are ours; axe (axe-core, by Deque's rules for WCAG 2.2 AA) looks for what a reader without eyes or mouse
would miss.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from django.urls import reverse

from catalog.models import Material, Supplier
from jobs.deliveries.services.due_deliveries import due_orders
from jobs.jobs.models import Job
from jobs.orders.models import Order
from quoting.client.services.client_links import make_link
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.models import Person
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.quotes.pages.editor import STEPS
from quoting.service.demo.demo import MAIN_JOB, job_key
from tests.browser.conftest import DESKTOP, PHONE, session_cookie
from tests.browser.measuring import measured, part_words, violations
from tests.support.demonstration import load_demonstration
from tests.support.triggers import drop_triggers

pytestmark = pytest.mark.browser
# The answer of a page ends this far down at most.
HEIGHTS = {DESKTOP: 800, PHONE: 844}
ANSWER_PX = {DESKTOP: 700, PHONE: 600}
PART_WORDS = 150


@dataclass(frozen=True)
class Budget:
    """page: name of its address. px: height on a desk and on a phone. roles: who opens it. of: what it is about.

    rows: words a row may have beside `words`, and the row they are counted by. parts: measured by themselves, each
    `PART_WORDS` at most.
    """

    page: str
    roles: tuple[str, ...]
    words: int
    px: tuple[int, int]
    fields: int = 12
    of: str = ""
    rows: tuple[int, int, str] | None = None
    parts: str = ""


BUDGETS = (
    Budget("today", ("office", "estimator", "owner"), 310, (800, 1400), 0),
    Budget("today", ("lead",), 160, (800, 900), 0),
    Budget("job_list", ("office", "estimator", "owner"), 60, (340, 360), 0, rows=(30, 64, ".job-row")),
    Budget("job", ("office", "estimator", "owner"), 220, (800, 1250), 0, "job"),
    Budget("quote", ("estimator", "owner", "office"), 300, (1300, 1800), 12, "steps"),
    Budget("usual_pricing", ("owner",), 300, (1600, 2400), 12),
    Budget("change_add", ("estimator",), 170, (900, 1400), 4, "signed job"),
    Budget("job_builds", ("office", "estimator"), 300, (1600, 2400), 12, "job"),
    Budget("quote_issue", ("estimator", "owner"), 200, (900, 1400), 4, "job"),
    Budget("wall", ("estimator", "office", "owner", "lead"), 280, (800, 1300), 6, "wall"),
    Budget("walls_compared", ("estimator", "lead"), 30, (800, 900), 0, "job", rows=(50, 0, ".compared > li")),
    Budget("wall_add", ("estimator", "owner"), 280, (800, 1300), 6, "job"),
    Budget("job_money", ("estimator", "owner"), 300, (1600, 2400), 0, "job"),
    Budget("job_dates", ("office", "owner"), 200, (900, 2400), 4, "job"),
    Budget("site_sheet", ("lead",), 150, (800, 900), 12, "job", parts=".site-part"),
    Budget("site_wall", ("lead",), 200, (1600, 1500), 12, "wall", parts=".site-part"),
    Budget("since_signed", ("office", "owner"), 300, (1600, 2400), 12, "signed job"),
    Budget("payments", ("office", "owner"), 300, (1600, 2400), 12, "signed job"),
    Budget("request_issue", ("office",), 300, (1600, 2400), 12, "asked"),
    Budget("client_statement", ("office",), 300, (1600, 2400), 12, "client"),
    Budget("request_terms", ("owner",), 300, (1600, 2400), 12),
    Budget("money_limits", ("owner",), 300, (1600, 2400), 3),
    Budget("job_history", ("office",), 60, (800, 1400), 0, "job", rows=(25, 0, ".happened")),
    Budget("learnt", ("estimator", "owner"), 300, (1600, 2400), 0),
    Budget("catalog", ("office", "estimator", "owner"), 400, (1200, 2400), 0),
    Budget("supplier_list", ("office",), 300, (800, 1200), 0),
    Budget("material", ("office", "owner"), 300, (1200, 2000), 0, "material"),
    Budget("supplier", ("office",), 300, (800, 1200), 0, "supplier"),
    Budget("firm", ("office", "owner"), 100, (800, 844), 0),
    Budget("firm_kit", ("office",), 300, (800, 1200), 0),
    Budget("rates", ("estimator", "owner"), 200, (800, 1200), 0),
    Budget("firm_texts", ("office", "estimator", "owner"), 300, (800, 1200), 0),
    Budget("notices", ("estimator",), 200, (800, 1200), 0),
    Budget("cancellation_terms", ("estimator",), 200, (900, 1300), 5),
    Budget("standards", ("office", "estimator"), 300, (800, 1200), 0),
    Budget("spacing_steps", ("office",), 150, (800, 1000), 0),
    Budget("holidays", ("office", "estimator"), 200, (800, 1200), 0),
    Budget("people", ("owner",), 100, (800, 1000), 0),
    Budget("catalog_csv_in", ("office",), 300, (1600, 2400), 1),
    Budget("quotes_out", ("estimator", "owner"), 300, (1600, 2400), 0),
    Budget("account", ("lead", "office"), 300, (1600, 2400), 12),
    Budget("sites", ("lead",), 300, (1600, 2400), 0),
    Budget("order_dates", ("office", "estimator", "owner"), 280, (800, 1400), 0),
    Budget("job_order_dates", ("office", "estimator", "owner"), 280, (900, 1400), 0, "job"),
    Budget("order_item", ("office",), 160, (800, 1300), 1, "item"),
    Budget("order", ("office", "owner"), 220, (1000, 1400), 12, "order"),
    Budget("receiving", ("lead",), 120, (900, 900), 0),
    Budget("on_the_way", ("office", "owner"), 60, (800, 900), 4, rows=(25, 0, ".orders .next-row:not(.small)")),
    Budget("received", ("office",), 300, (1600, 2400), 0),
    Budget("hours", ("lead",), 60, (844, 844), 4),
    Budget("job_hours", ("lead", "estimator"), 300, (1600, 2400), 12, "job"),
    Budget("workers", ("owner",), 300, (1600, 2400), 12),
    Budget("hours_file", ("office",), 300, (1600, 2400), 12),
    Budget("bill_list", ("office", "estimator", "owner"), 70, (800, 1200), 0, rows=(8, 0, ".bills .next-row")),
    Budget("bill_add", ("office", "owner"), 120, (800, 950), 12),
    Budget("bill_slip", ("lead",), 40, (800, 844), 2),
    Budget("month", ("owner",), 230, (800, 1200), 0),
    Budget("hand_over", ("office", "owner"), 300, (1600, 2400), 0),
    Budget("overhead", ("office", "owner"), 300, (1600, 2400), 12),
    Budget("account_codes", ("office",), 300, (1600, 2400), 12),
    # 1,000 and 1,400 px of it before the terms.
    Budget("client_quote", ("office",), 220, (1130, 1500), 1, "link"),
    Budget("finish_list", ("lead", "office"), 160, (800, 1100), 1, "signed job"),
    Budget("finish_item", ("lead",), 160, (800, 1200), 7, "finish"),
    Budget("questions", ("office",), 100, (800, 844), 0, "signed job"),
    Budget("check_in", ("lead",), 120, (950, 950), 16, "placed"),
)


def signed_job() -> Job:
    revision = QuoteRevision.objects.filter(state=RevisionState.ACCEPTED).order_by("pk").last()
    assert revision is not None
    return revision.quote.job


def addresses(budget: Budget) -> Iterator[str]:
    job = Job.objects.get(key=job_key(MAIN_JOB))
    if budget.of == "job":
        yield reverse(budget.page, args=[job.pk])
    elif budget.of == "steps":
        yield from (f"{reverse(budget.page, args=[job.pk])}?step={step}" for step in STEPS)
    elif budget.of == "material":
        yield reverse(budget.page, args=[Material.objects.get(code="BASE-514-FLEX").pk])
    elif budget.of == "supplier":
        yield reverse(budget.page, args=[Supplier.objects.get(code="HENNOCK").pk])
    elif budget.of == "wall":
        yield reverse(budget.page, args=[job.pk, job.walls.get().key])
    elif budget.of == "item":
        yield reverse(budget.page, args=[job.pk, "BASE-514-FLEX"])
    elif budget.of in ("signed job", "client", "asked"):
        job = signed_job()
        number = job.client_id if budget.of == "client" else job.pk
        query = "?part=instalment%200" if budget.of == "asked" else ""
        yield reverse(budget.page, args=[number]) + query
    elif budget.of == "link":
        for row in (signed_job().quote.revisions.get(), job.quote.revisions.get()):
            moment = clock.now()
            shared = {"now": moment, "today": day_at_the_firm(moment), "by_name": "The office"}
            yield f"/q/{make_link(row.pk, **shared)[1]}/"
    elif budget.of == "finish":
        yield reverse(budget.page, args=[signed_job().finish_items.earliest("pk").pk])
    elif budget.of == "order":
        yield from (reverse(budget.page, args=[order.pk]) for order in Order.objects.all())
    elif budget.of == "placed":
        yield from (reverse(budget.page, args=[order.order.pk]) for order in due_orders())
    else:
        yield reverse(budget.page)


@pytest.fixture
def reader(browser, live_server, transactional_db, settings, tmp_path, frozen_clock):
    """reader(role, width, dark) -> a page of a browser logged in as a person of that role."""
    load_demonstration(settings, tmp_path, frozen_clock)
    contexts = {}

    def read(role: str, width: int, dark: bool):
        if (role, width, dark) not in contexts:
            scheme = "dark" if dark else "light"
            size = {"width": width, "height": HEIGHTS[width]}
            made = browser.new_context(viewport=size, color_scheme=scheme, base_url=live_server.url)
            made.add_cookies([session_cookie(Person.objects.get(login_name=f"demo-{role}"), live_server.url)])
            contexts[role, width, dark] = made.new_page()
        return contexts[role, width, dark]

    yield read
    for page in contexts.values():
        page.context.close()
    drop_triggers()


def breaches(page, budget: Budget, width: int) -> Iterator[str]:
    result = measured(page, budget.parts)
    for name, count in part_words(page, budget.parts).items() if budget.parts else ():
        if count > PART_WORDS:
            yield f"{name}: words {count} of {PART_WORDS}"
    words, px = budget.words, budget.px[width == PHONE]
    if budget.rows:
        count = page.locator(budget.rows[2]).count()
        words, px = words + count * budget.rows[0], px + count * budget.rows[1]
    px = max(px, HEIGHTS[width])
    limits = {"words": words, "px": px, "fields": budget.fields, "sideways": 0, "filled": 1, "answer": ANSWER_PX[width]}
    for name, limit in limits.items():
        if getattr(result, name) > limit:
            yield f"{name} {getattr(result, name):.0f} of {limit}"
    yield from violations(page)


def walk(reader, shown: list[tuple[Budget, str, int, bool]]) -> list[str]:
    over = []
    for budget, role, width, dark in shown:
        page = reader(role, width, dark)
        for address in addresses(budget):
            response = page.goto(address)
            assert response is not None and response.status == 200, address
            place = f"{address} as {role} at {width}{' in the dark' if dark else ''}"
            over += [f"{place}: {breach}" for breach in breaches(page, budget, width)]
    return over


def test_every_page_keeps_its_budget(reader):
    shown = [(budget, budget.roles[0], DESKTOP, False) for budget in BUDGETS]
    shown += [(budget, budget.roles[0], PHONE, True) for budget in BUDGETS[:7]]
    over = walk(reader, shown)
    assert not over, "\n".join(over)


@pytest.mark.faults
@pytest.mark.faults_alone
def test_every_page_keeps_its_budget_for_every_role_size_and_scheme(reader):
    sizes = [(width, dark) for width in (DESKTOP, PHONE) for dark in (False, True)]
    assert walk(reader, [(budget, role, *size) for budget in BUDGETS for role in budget.roles for size in sizes]) == []


def test_a_page_over_its_budget_is_named_with_what_is_over(reader):
    page = reader("office", DESKTOP, False)
    page.goto(reverse("order_dates"))
    tight = Budget("order_dates", ("office",), 1, (10, 10), 0)
    result = list(breaches(page, tight, DESKTOP))
    assert result[0].startswith("words")
    page.set_content("<main><img src='x'><p class='lead'>No words for the picture.</p></main>")
    assert any(violation.startswith("image-alt") for violation in violations(page))
