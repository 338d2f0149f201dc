"""What is issued is refused change and deletion by the database, by whichever way it is tried.

Every test has its control: with the triggers taken away, or on a table that is not frozen, the very same
statement goes through.
"""

from contextlib import contextmanager
from datetime import date
from functools import partial

import pytest
from django.apps import apps
from django.contrib.admin.sites import all_sites
from django.db import DatabaseError, IntegrityError, connection, transaction
from django.db.models import ProtectedError

from quoting.changes.models import ChangeAnswer, ChangeNote, ChangeNoteCost, ChangeNoteLine
from quoting.client.models import ClientLink
from quoting.job_money.models import QuotedSide, SaidLeft
from quoting.month.models import ClosedMonth
from quoting.payment_requests.models import RequestedNote
from quoting.platform.immutable_tables import FROZEN, freeze, missing_triggers, thaw
from quoting.platform.papers.models import Paper
from quoting.pricing.models import MarginApproval
from quoting.quotes.models import (
    ClientAnswer,
    Quote,
    QuoteLine,
    QuoteRevision,
    RevisionApproval,
    RevisionState,
    TakeBack,
)
from quoting.record.models import LearntStandard
from tests.factories.bills import whole_bill
from tests.factories.requests import request_row
from tests.support.asking import schema
from tests.support.worked import NOW, estimator, issued

pytestmark = pytest.mark.both_engines
NAMES = [table.name for table in FROZEN]
MODELS = [model for model in apps.get_models() if model._meta.db_table in NAMES]
SHA256 = "0" * 64


@pytest.fixture
def frozen_rows(revision):
    """A row in every frozen table."""
    job, sums = revision.quote.job, {name: getattr(revision, name) for name in ("price", "tax", "total")}
    Paper.objects.create(
        kind="quote", job=job, revision=revision, key="render_quote x", title="Quotation",
        file_name="a.pdf", sha256=SHA256, size_bytes=1, page_count=1, made_at=NOW,
    )  # fmt: skip
    answer = ClientAnswer.objects.create(
        quote=revision.quote, revision=revision, answer="accepted", way="page", typed_name="A. Client", **sums,
        paper_sha256=SHA256, answered_at=NOW, answered_on=NOW.date(), cancel_until=NOW.date(), cancel_words="a day",
    )  # fmt: skip
    TakeBack.objects.create(answer=answer, way="page", typed_name="A. Client", given_on=NOW.date(), kept_at=NOW)
    ClientLink.objects.create(revision=revision, digest="1" * 64, made_at=NOW, made_by_name="R. Sallow")
    approval = MarginApproval.objects.create(
        job=job, figures_mark=SHA256, price=1, cost=1, margin=0, least_margin=0, shortfall=0, reason="An old client",
        by=estimator("second"), by_name="B. Second", at=NOW,
    )  # fmt: skip
    RevisionApproval.objects.create(
        revision=revision, approval=approval, issued_by=estimator(), approved_by=estimator("second")
    )
    note = ChangeNote.objects.create(
        job=job, revision=revision, number=1, request_key="n", kind="lines", title="A niche", reason="Asked for",
        days_moved=0, currency="USD", **sums, issued_at=NOW, issued_on=NOW.date(), issued_by_name="R. Sallow",
        snapshot="{}", snapshot_sha256=SHA256, state_at=NOW,
    )  # fmt: skip
    ChangeNoteLine.objects.create(note=note, order=0, what="Niche", price=revision.price, taxed=0, cost=0)
    ChangeNoteCost.objects.create(note=note, order=0, category="labour", item="niche", quantity=2, unit_cost=48)
    SaidLeft.objects.create(
        job=job, category="materials", item="BASE", how="amount", amount=50, reason="As the shop says", request_key="s",
        day=NOW.date(), posted_month=date(2026, 12, 1), said_at=NOW, said_by_name="R. Sallow",
    )  # fmt: skip
    QuotedSide.objects.create(revision=revision, price=revision.price, lines="[]", made_at=NOW)
    ChangeAnswer.objects.create(
        note=note, answer="signed", way="page", typed_name="A. Client", paper_sha256=SHA256, answered_at=NOW,
        answered_on=NOW.date(),
    )  # fmt: skip
    whole_bill(job)
    RequestedNote.objects.create(request=request_row(revision, posted_month=date(2026, 12, 1)), note=note, turn=0)
    LearntStandard.objects.create(
        standard="curve_factor", request_key="l", was=1, value=2, typical=3, count=3, error_was=2, error=1,
        accepted_on=NOW.date(), accepted_at=NOW, accepted_by_name="O. Owner",
    )  # fmt: skip
    month = NOW.date().replace(day=1)
    ClosedMonth.objects.create(
        month=month, closed_at=NOW, closed_by_name="O. Owner", snapshot="{}", snapshot_sha256=SHA256
    )
    return revision


def test_every_frozen_table_is_tried(frozen_rows):
    assert sorted(NAMES) == sorted(model._meta.db_table for model in MODELS)
    assert [model.__name__ for model in MODELS if not model.objects.exists()] == [], "lay down a row above"


def refused(statement):
    """Whether the database refused it; anything it did is undone."""

    class Undo(Exception):
        pass

    try:
        with transaction.atomic():
            statement()
            raise Undo
    except Undo:
        return False
    except IntegrityError as error:
        return any(message in str(error) for message in ("is issued and cannot be", "cannot go from"))


@contextmanager
def thawed():
    thaw(connection)
    try:
        yield
    finally:
        freeze(connection)


def sql(text, *values):
    def run():
        with connection.cursor() as cursor:
            cursor.execute(text, values)

    return run


def refused_only_when_frozen(statement):
    was = refused(statement)
    with thawed():
        control = refused(statement)
    return (was, control) == (True, False)


def another(field, row):
    value = getattr(row, field.attname)
    if field.is_relation:
        return None if value is not None else 1
    if field.get_internal_type() in ("CharField", "TextField"):
        return (value or "x")[:-1] + ("e" if value.endswith("f") else "f")
    if field.get_internal_type() in ("DateField", "DateTimeField"):
        return NOW if value is None else value.replace(year=value.year + 1)
    return [*value, "x"] if isinstance(value, list) else value + 1


def test_no_frozen_column_can_be_changed(frozen_rows):
    changed = []
    for model in MODELS:
        row, table = model.objects.first(), next(entry for entry in FROZEN if entry.name == model._meta.db_table)
        frozen = [field for field in model._meta.concrete_fields if field.column not in table.changing]
        assert len(frozen) >= 3
        for field in frozen:
            value = another(field, row)
            stored = None if value is None else field.get_db_prep_save(value, connection)
            if not refused(sql(f'UPDATE {table.name} SET "{field.column}" = %s WHERE id = {row.pk}', stored)):
                changed.append(f"{table.name}.{field.column}")
    assert changed == []


def test_a_row_set_to_what_it_is_already_may_be_saved(frozen_rows):
    """The control of the test before: it is the change that is refused, not every UPDATE."""
    for table in NAMES:
        assert not refused(sql(f"UPDATE {table} SET id = id")), table


def test_saving_a_changed_row_is_refused(frozen_rows):
    def save():
        row = QuoteRevision.objects.get(pk=frozen_rows.pk)
        row.valid_until = row.valid_until.replace(year=2030)
        row.save()

    assert refused_only_when_frozen(save)


def test_a_bulk_update_is_refused(frozen_rows):
    assert refused_only_when_frozen(lambda: QuoteLine.objects.update(section="something else"))


def test_a_bulk_update_through_the_models_is_refused_in_every_table(frozen_rows):
    for model in MODELS:
        column = next(
            field for field in model._meta.concrete_fields if field.column not in ("id", "state", "withdrawn_at")
        )
        changed = {column.attname: another(column, model.objects.first())}
        assert refused(lambda model=model, changed=changed: model.objects.update(**changed)), model


def test_deleting_is_refused_in_every_table_by_the_database_itself(frozen_rows):
    """Not first at the end of the transaction, as foreign keys alone would; without the triggers it goes through."""
    wanting = []
    for model in MODELS:
        raw = sql(f"DELETE FROM {model._meta.db_table}")
        by_models = partial(model.objects.all()._raw_delete, "default")
        wanting += [(model, way) for way in (raw, by_models) if not refused(way)]
    assert wanting == []
    with thawed():
        assert [model for model in MODELS if refused(sql(f"DELETE FROM {model._meta.db_table}"))] == []


def test_deleting_through_the_models_is_refused_whatever_hangs_on_it(frozen_rows):
    for model in MODELS:
        with pytest.raises(IntegrityError), transaction.atomic():
            model.objects.all().delete()
        assert model.objects.exists()


def test_no_admin_stands_beside_the_services_and_the_api_changes_nothing_that_is_issued():
    registered = {model for site in all_sites for model in site._registry}
    assert registered & set(MODELS) == set()
    about = ("/api/quotes", "/api/jobs/{key}/change-notes")
    methods = {method for path, calls in schema()["paths"].items() if path.startswith(about) for method in calls}
    assert methods <= {"get", "post"}
    assert methods, "the control: such calls are there"


def test_deleting_the_job_is_refused_by_the_program_and_by_the_database(frozen_rows):
    job = frozen_rows.quote.job
    with pytest.raises(ProtectedError):
        job.delete()
    with pytest.raises(DatabaseError), transaction.atomic():
        sql("DELETE FROM jobs_job WHERE id = %s", job.pk)()
        connection.check_constraints()
    assert Quote.objects.filter(job=job).exists()


def test_a_job_without_a_quote_can_be_deleted(job):
    """The control: nothing but the quote holds the job."""
    job.delete()


@pytest.mark.postgresql
def test_a_truncate_is_refused(frozen_rows):
    # Deferred checks that wait would keep PostgreSQL from truncating at all.
    sql("SET CONSTRAINTS ALL IMMEDIATE")()
    for table in NAMES:
        assert refused_only_when_frozen(sql(f"TRUNCATE {table} CASCADE")), table


@pytest.mark.postgresql
def test_an_empty_table_may_be_truncated(db):
    sql("TRUNCATE quoting_quote CASCADE")()


def test_a_pricing_that_is_not_issued_may_be_changed_and_deleted(job):
    """The control on a table that is not frozen."""
    assert not refused(sql("UPDATE quoting_pricing SET tax_name = 'VAT'"))
    assert not refused(sql("DELETE FROM quoting_quotetext"))


ALLOWED = {("issued", to) for to in ("superseded", "withdrawn", "lapsed", "accepted", "declined")}
ALLOWED |= {("accepted", "taken_back")}


def test_a_state_goes_only_where_it_may(revision):
    wrong = []
    for state in RevisionState.values:
        with thawed():
            QuoteRevision.objects.filter(pk=revision.pk).update(state=state)
        for following in set(RevisionState.values) - {state}:
            was_refused = refused(sql("UPDATE quoting_quoterevision SET state = %s", following))
            if was_refused is ((state, following) in ALLOWED):
                wrong.append((state, following))
    assert wrong == []


def test_the_words_beside_a_state_may_be_written_with_it(revision):
    QuoteRevision.objects.update(state="withdrawn", state_at=NOW, state_by_name="N. N.", state_reason="wrong wall")


@pytest.mark.parametrize("state", ["accepted", "issued"])
def test_of_a_quote_one_revision_at_most_is_accepted_and_one_open(revision, state):
    second = issued(revision.quote.job, "second")
    with thawed():
        QuoteRevision.objects.update(state="superseded")
        QuoteRevision.objects.filter(pk=revision.pk).update(state=state)
        with pytest.raises(IntegrityError, match="once_a_quote|quote_id"), transaction.atomic():
            QuoteRevision.objects.filter(pk=second.pk).update(state=state)
        QuoteRevision.objects.filter(pk=second.pk).update(state="declined")


def test_no_trigger_is_missing_after_migrating(db):
    assert missing_triggers(connection) == []


def test_a_missing_trigger_is_noticed_and_installed_again(db):
    with thawed():
        assert len(missing_triggers(connection)) >= 2 * len(FROZEN)
    assert missing_triggers(connection) == []
