import pytest
from django.db import connection
from django.test import override_settings

from quoting.platform.immutable_tables import thaw
from quoting.quotes.models import AnswerKind
from quoting.quotes.services.acceptance import answer_revision
from quoting.quotes.services.given_answers import Given
from tests.support.answered import with_paper
from tests.support.desk import priced_job
from tests.support.worked import NOW, TODAY, issued

pytestmark = pytest.mark.browser
# An open page looks twice a second; the machine may be busy.
MAX_MS = 15_000


@pytest.fixture
def revision(transactional_db, tmp_path):
    with override_settings(MEDIA_ROOT=tmp_path):
        yield with_paper(issued(priced_job()))
    # What is issued cannot be deleted, not even by the emptying of the tables between tests.
    thaw(connection)


def test_an_acceptance_appears_on_an_open_page_without_a_hand(visit, revision):
    page = visit("/today/")
    assert page.locator(".answer").count() == 0
    answer_revision(revision, Given(AnswerKind.ACCEPTED, "Ada Client"), now=NOW, today=TODAY)
    page.locator(".answer", has_text="Ada Client accepted Reception screen").wait_for(timeout=MAX_MS)
