"""Every number of the catalog and of jobs against values no column may hold, written by raw SQL."""

from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.apps import apps
from django.db import DatabaseError, connection, models, transaction

from jobs.buying.services.kept_orders import keep_orders
from jobs.schedule.models import PlannedActivityDays
from quoting.platform.immutable_tables import thaw
from tests.factories import documents
from tests.factories.bills import whole_bill
from tests.factories.orders import whole_order
from tests.support.fixtures import NOW

pytestmark = pytest.mark.both_engines
NUMBERS = (models.DecimalField, models.IntegerField, models.FloatField)


def own_models() -> list[type[models.Model]]:
    return [
        model
        for app in ("catalog", "jobs")
        for model in apps.get_app_config(app).get_models()
        if not hasattr(model, "history_object")
    ]


def columns(model: type[models.Model], *kinds: type[models.Field]) -> list[models.Field]:
    return [
        field
        for field in model._meta.concrete_fields
        if isinstance(field, kinds) and not isinstance(field, models.AutoField | models.ForeignKey)
    ]


# On SQLite a number column takes text and blobs as they are, and text sorts after every number.
BAD = {
    "postgresql": ("'NaN'", "'Infinity'", "'-Infinity'", "1e308", "-1e308"),
    "sqlite": ("9e999", "-9e999", "1e308", "-1e308", "'NaN'", "'text'", "x'00'"),
}


@pytest.fixture
def everything(small_job: Any) -> None:
    from tests.support.wall_documents import save_document

    read_on_site(save_document(small_job, documents.wall("second"), seen_version=None))
    site_records(small_job)
    cutting_plans(small_job)
    keep_orders([whole_order(small_job).pk])
    whole_bill(small_job)
    thaw(connection)  # the checks are to refuse, not the triggers of what never changes
    planned_lead()
    dated_need(small_job)
    stored_results(small_job)
    deleted_item(small_job)
    hours_worked(small_job)
    earlier_lead()
    days = {"first_day": date(2027, 1, 18), "last_day": date(2027, 1, 19)}
    PlannedActivityDays.objects.create(job=small_job, key="framing", name="Track and studs", people=3, **days)


def earlier_lead() -> None:
    from jobs.deliveries.models import EarlierLead
    from jobs.orders.models import OrderLine

    line = OrderLine.objects.select_related("order").first()
    assert line is not None
    EarlierLead.objects.create(
        supplier_id=line.order.supplier_id,
        material_id=line.material_id,
        received_on=date(2026, 3, 2),
        quoted_workdays=18,
        actual_workdays=20,
    )


def hours_worked(job: Any) -> None:
    from jobs.hours.models import HoursRule
    from tests.factories.hours import hours_left, time_entry, worker

    HoursRule.objects.create(rounding=15)
    time_entry(worker(), job, 60, step="framing")
    hours_left(job, "framing", 600, percent_done=40)


def deleted_item(job: Any) -> None:
    from jobs.deleted.models import DeletedKind
    from jobs.deleted.services.deleted import Deletion, keep_deleted

    keep_deleted(job, DeletedKind.ITEM, "DOOR-SET", "1 × Door set", {}, Deletion("A. Marsh", NOW))


def dated_need(job: Any) -> None:
    """A need with its dates, and when the job was worked up."""
    from jobs.jobs.models import WorkedJob
    from jobs.needs.models import StoredNeed

    StoredNeed.objects.create(
        job=job,
        material="BASE",
        name="Base",
        supply="custom_made",
        quantity=24,
        amount=615,
        unit="ft",
        driven_by="radius",
        agreed_cushion_workdays=3,
        agreed_sign_off_workdays=5,
        cushion_workdays=3,
        sign_off_workdays=5,
        production_days=15,
        production_counts="workdays",
        transit_workdays=3,
        term_source="price list",
        term_stated_on=date(2026, 11, 2),
        planned_workdays=22,
    )
    WorkedJob.objects.update_or_create(
        job=job,
        defaults={
            "worked_changes": 1,
            "catalog_changes": 0,
            "dated_on": date(2026, 11, 24),
            "worked_up_at": datetime(2026, 11, 24, tzinfo=UTC),
        },
    )


def stored_results(job: Any) -> None:
    from jobs.needs.models import StoredResult
    from jobs.walls.models import WorkedWall

    StoredResult.objects.create(job=job, kind="facts", changes=1, rules="0" * 64, document="{}")
    WorkedWall.objects.create(job=job, wall="second", mark="0" * 64, document="{}")


def planned_lead() -> None:
    from catalog.models import Material, PlannedLead

    PlannedLead.objects.create(
        material=Material.objects.first(),  # type: ignore[misc]
        plan_workdays=22,
        production_days=15,
        production_counts="workdays",
        transit_workdays=3,
        supplier="MILL",
        confidence="0.9",
        evidence="three receipts",
        accepted_by_name="I. Quarrell",
        accepted_on=date(2026, 11, 24),
    )


def cutting_plans(job: Any) -> None:
    """A plan found, the same chosen, and a stick on hand."""
    from catalog.models import Material
    from jobs.plans.models import ChosenPlan, FoundPlan
    from jobs.stock.models import Stock

    FoundPlan.objects.create(
        job=job, what="sticks", mark="0" * 64, document={}, seconds=1, found_at=datetime(2026, 11, 24, tzinfo=UTC)
    )
    ChosenPlan.objects.create(job=job, what="sticks", document={}, by="I. Quarrell", on=date(2026, 11, 24))
    Stock.objects.create(job=job, material=Material.objects.first(), length_mm=900, count=2, unit_cost=3)


def site_records(job: Any) -> None:
    """What is entered on site beside the walls themselves: a template with its moves, a photo, a defect."""
    from jobs.finish.models import FinishItem, FinishPhoto
    from jobs.held_templates.models import HeldTemplate, TemplateMove
    from jobs.walls.models import WallPhoto

    day, digest = date(2026, 11, 24), "0" * 64
    template = HeldTemplate.objects.create(
        job=job, name="T1", shape="Back", wall_key="second", piece=1, traced_by="I. Quarrell", traced_on=day
    )
    TemplateMove.objects.create(template=template, state="held", on=day, by="I. Quarrell", kept_at="Van")
    size = {"size_bytes": 1, "width_px": 1, "height_px": 1, "sha256": digest, "file_name": f"{digest}.jpg"}
    added = {"added_by": "I. Quarrell", "added_at": datetime(2026, 11, 24, tzinfo=UTC)}
    WallPhoto.objects.create(job=job, wall=job.walls.first(), kind="photo", caption="Wall", **added, **size)
    item = FinishItem.objects.create(
        job=job, request_key="dent", what="Dent", who="I. Quarrell", due=day, raised_on=day, raised_by="I. Quarrell"
    )
    FinishPhoto.objects.create(item=item, **added, **size)


def read_on_site(wall: Any) -> None:
    """What is read of a wall on site: readings every way, a lean, offsets with where the pieces start, a mark."""
    from jobs.walls.models import ArcLean, ArcReading, BaselineOffset, DimensionMark, SiteSurvey

    ways = (
        {"way": "chord_rise", "chord_mm": 2400, "rise_mm": 150, "accuracy_mm": 2, "at_height_mm": 300},
        {"way": "on_blocks", "apart_mm": 1200, "block_mm": 60, "gap_mm": 10},
        {"way": "end_gaps", "straightedge_mm": 1200, "first_gap_mm": 50, "last_gap_mm": 50},
    )
    for place, figures in enumerate(ways):
        ArcReading.objects.create(wall=wall, piece=0, order=place, **figures)
    ArcLean.objects.create(wall=wall, piece=0, order=0, along_mm=0, outwards_mm=12, height_mm=2400)
    start = {"start_along_mm": 0, "start_offset_mm": 0, "heading_deg": 10}
    SiteSurvey.objects.create(wall=wall, tape_accuracy_mm=3, tolerance_mm=4, **start)
    BaselineOffset.objects.create(wall=wall, order=0, along_mm=0, offset_mm=0)
    DimensionMark.objects.create(wall=wall, dimension="height", how="measured", by="Ada", on=date(2026, 11, 2))


def row_with(model: type[models.Model], field: models.Field) -> Any:
    row = model._default_manager.exclude(**{field.name: None}).first()
    assert row is not None, f"no row of {model.__name__} holds a {field.name}: the test would prove nothing"
    return row.pk


def write(model: type[models.Model], field: models.Field, value: str) -> None:
    pk = row_with(model, field)
    table, column, key = model._meta.db_table, field.column, model._meta.pk.column
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(f'UPDATE "{table}" SET "{column}" = {value} WHERE "{key}" = {pk}')


def refuses(model: type[models.Model], field: models.Field, value: str) -> bool:
    try:
        write(model, field, value)
    except DatabaseError:
        return True
    return False


def test_no_number_column_holds_what_is_no_number(everything: None) -> None:
    rows = [
        (model.__name__, field.name, value)
        for model in own_models()
        for field in columns(model, *NUMBERS)
        for value in BAD[connection.vendor]
        if not refuses(model, field, value)
    ]
    assert rows == []


@pytest.mark.sqlite
def test_no_yes_or_no_is_another_number(everything: None) -> None:
    fields = [(model, field) for model in own_models() for field in columns(model, models.BooleanField)]
    assert [(model.__name__, field.name) for model, field in fields if not refuses(model, field, "2")] == []


def test_no_choice_is_a_word_that_is_not_offered(everything: None) -> None:
    fields = [(model, field) for model in own_models() for field in columns(model, models.CharField) if field.choices]
    assert [(model.__name__, field.name) for model, field in fields if not refuses(model, field, "'zz'")] == []


@pytest.mark.sqlite
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("value", BAD["sqlite"])
def test_without_the_checks_sqlite_keeps_it(value: str) -> None:
    from catalog.models import Price
    from tests.factories.catalog import PriceFactory

    PriceFactory()
    field = Price._meta.get_field("amount")
    assert refuses(Price, field, value)
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA ignore_check_constraints = ON")
        try:
            assert not refuses(Price, field, value)
        finally:
            cursor.execute("PRAGMA ignore_check_constraints = OFF")
            cursor.execute("DELETE FROM catalog_price")


@pytest.mark.postgresql
def test_with_one_side_only_postgresql_keeps_nan(db: None) -> None:
    from catalog.models import Price
    from tests.factories.catalog import PriceFactory

    PriceFactory()
    field = Price._meta.get_field("amount")
    assert refuses(Price, field, "'NaN'")
    with connection.cursor() as cursor:
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        cursor.execute("ALTER TABLE catalog_price DROP CONSTRAINT price_amount_in_bounds")
        cursor.execute("ALTER TABLE catalog_price ADD CONSTRAINT one_side CHECK (amount >= 0)")
    assert not refuses(Price, field, "'NaN'")


def test_a_bound_is_the_last_value_kept(small_job: Any) -> None:
    from jobs.jobs.models import Job

    crew = Job._meta.get_field("crew")
    assert [refuses(Job, crew, str(crew_size)) for crew_size in (0, 1, 50, 51)] == [True, False, False, True]


def test_a_piece_holds_only_the_figures_it_was_given_by(small_job: Any) -> None:
    from jobs.walls.models import WallPiece

    with pytest.raises(DatabaseError, match="only_its_own_figures"), transaction.atomic():
        WallPiece.objects.filter(given_by="chord_rise").update(radius_mm=100)
    with pytest.raises(DatabaseError, match="only_its_own_figures"), transaction.atomic():
        WallPiece.objects.filter(given_by="chord_rise").update(rise_mm=None)
    with pytest.raises(DatabaseError, match="shape_and_figures_agree"), transaction.atomic():
        WallPiece.objects.filter(given_by="chord_rise").update(shape="straight")
