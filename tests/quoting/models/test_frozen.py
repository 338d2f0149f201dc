"""What is issued is refused change and deletion by the database, by whichever way it is tried.

Every test has its control: with the triggers taken away, or on a table that is not frozen, the very same
statement goes through.
"""

from contextlib import contextmanager

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction
from django.db.models import ProtectedError

from quoting.frozen import FROZEN, freeze, missing_triggers, thaw
from quoting.models import (
    ClientAnswer,
    ClientLink,
    Paper,
    Quote,
    QuoteInstalment,
    QuoteLine,
    QuoteRevision,
    RevisionState,
)
from tests.quoting.worked import NOW, issued

MODELS = [Quote, QuoteRevision, QuoteLine, QuoteInstalment, Paper, ClientAnswer, ClientLink]
TABLES = [model._meta.db_table for model in MODELS]


@pytest.fixture
def frozen_rows(revision):
    Paper.objects.create(
        kind="quote", job=revision.quote.job, revision=revision, key="render_quote x", title="Quotation",
        file_name="a.pdf", sha256="0" * 64, size_bytes=1, page_count=1, made_at=NOW,
    )  # fmt: skip
    ClientAnswer.objects.create(
        quote=revision.quote, revision=revision, answer="accepted", way="page", typed_name="A. Client",
        price=revision.price, tax=revision.tax, total=revision.total, paper_sha256="0" * 64, answered_at=NOW,
        answered_on=NOW.date(), cancel_until=NOW.date(), cancel_words="a day",
    )  # fmt: skip
    ClientLink.objects.create(revision=revision, digest="1" * 64, made_at=NOW, made_by_name="R. Sallow")
    return revision


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
        return any(told in str(error) for told in ("is issued and cannot be", "cannot go from"))


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
        return value.replace(year=value.year + 1)
    return value + 1


@pytest.mark.parametrize("model", MODELS)
def test_no_frozen_column_can_be_changed(frozen_rows, model):
    row, table = model.objects.first(), next(one for one in FROZEN if one.name == model._meta.db_table)
    frozen = [field for field in model._meta.concrete_fields if field.column not in table.changing]
    changed = []
    for field in frozen:
        value = another(field, row)
        kept = None if value is None else field.get_db_prep_save(value, connection)
        update = sql(f'UPDATE {table.name} SET "{field.column}" = %s WHERE id = {row.pk}', kept)
        if not refused(update):
            changed.append(field.name)
    assert len(frozen) >= 3
    assert changed == []


@pytest.mark.parametrize("model", MODELS)
def test_a_row_set_to_what_it_is_already_may_be_saved(frozen_rows, model):
    """The control of the test before: it is the change that is refused, not every UPDATE."""
    row = model.objects.first()
    column = next(field for field in model._meta.concrete_fields if not field.primary_key).column
    assert not refused(sql(f'UPDATE {model._meta.db_table} SET "{column}" = "{column}" WHERE id = {row.pk}'))


def test_saving_a_changed_row_is_refused(frozen_rows):
    def save():
        row = QuoteRevision.objects.get(pk=frozen_rows.pk)
        row.valid_until = row.valid_until.replace(year=2030)
        row.save()

    assert refused_only_when_frozen(save)


def test_a_bulk_update_is_refused(frozen_rows):
    assert refused_only_when_frozen(lambda: QuoteLine.objects.update(section="something else"))


def test_deleting_a_queryset_is_refused(frozen_rows):
    assert refused_only_when_frozen(lambda: QuoteInstalment.objects.all().delete())


@pytest.mark.parametrize(
    "table", ["quoting_quoteline", "quoting_quoteinstalment", "quoting_paper", "quoting_clientanswer"]
)
def test_a_raw_delete_is_refused(frozen_rows, table):
    assert refused_only_when_frozen(sql(f"DELETE FROM {table}"))


@pytest.mark.parametrize("table", ["quoting_quoterevision", "quoting_quote"])
def test_a_raw_delete_of_what_others_hang_on_is_refused_at_once(frozen_rows, table):
    """Not first at the end of the transaction, as its foreign keys alone would."""
    assert refused(sql(f"DELETE FROM {table}"))


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
@pytest.mark.parametrize("table", TABLES)
def test_a_truncate_is_refused(frozen_rows, table):
    # Deferred checks that wait would keep PostgreSQL from truncating at all.
    sql("SET CONSTRAINTS ALL IMMEDIATE")()
    assert refused_only_when_frozen(sql(f"TRUNCATE {table} CASCADE"))


@pytest.mark.postgresql
def test_an_empty_table_may_be_truncated(db):
    sql("TRUNCATE quoting_quote CASCADE")()


def test_a_pricing_that_is_not_issued_may_be_changed_and_deleted(job):
    """The control on a table that is not frozen."""
    assert not refused(sql("UPDATE quoting_pricing SET tax_name = 'VAT'"))
    assert not refused(sql("DELETE FROM quoting_quotetext"))


ALLOWED = {("issued", to) for to in ("superseded", "withdrawn", "lapsed", "accepted", "declined")}
STEPS = [(a, b) for a in RevisionState.values for b in RevisionState.values if a != b]


def test_a_state_goes_only_where_it_may(revision):
    wrong = []
    for state, following in STEPS:
        with thawed():
            QuoteRevision.objects.filter(pk=revision.pk).update(state=state)
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
