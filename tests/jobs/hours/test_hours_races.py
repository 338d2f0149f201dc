"""Two phones at once: one key is one sending, a day has 24 hours, and a wrong entry is taken back once."""

import threading
from itertools import count

import pytest

from catalog.core.ground.document_reader import DocumentError
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services import entering
from jobs.hours.services.correcting import correct_entry
from jobs.hours.services.entry_lines import LineReader
from tests.support.hours import LEAD, NOW, crew, entry_of, line, send
from tests.support.racing import ROUNDS, at_once
from tests.support.racing import emptied as emptied
from tests.support.worked import small_job

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]
_turns = count(1)


@pytest.fixture
def sam(emptied, frozen_clock):
    return crew("Sam Orrin")[0]


def work(sam, minutes, **more):
    return lambda: send(None, line(sam, minutes, elsewhere=f"Haul {next(_turns)}"), is_long_day=True, **more)


def kept(sam):
    return sum(TimeEntry.objects.filter(worker=sam, voided_at=None).values_list("minutes", flat=True))


def afresh():
    TimeEntry.objects.update(reverses=None, corrects=None)
    TimeEntry.objects.all().delete()


def test_one_key_sent_by_two_at_once_is_one_sending(sam):
    for turn in range(ROUNDS):
        lines = line(sam, 60, elsewhere="Yard")
        gave = at_once(*[lambda: send(None, lines, request_key=f"k{turn}")] * 2)  # noqa: B023
        assert sorted(entry.is_new for entry in gave) == [False, True]
        afresh()


def test_two_sendings_do_not_fill_a_day_beyond_24_hours(sam):
    for _ in range(ROUNDS):
        gave = at_once(work(sam, 780), work(sam, 780))
        assert (sum(isinstance(entry, DocumentError) for entry in gave), kept(sam)) == (1, 780)
        afresh()


def test_without_the_worker_held_the_day_is_overfilled(sam, monkeypatch):
    meeting = threading.Barrier(2)

    def unheld(self, worker_ids):
        self._workers = {row.pk: row for row in Worker.objects.filter(pk__in=set(worker_ids))}

    looked = entering.refuse_too_much

    def looks(*wanted, **more):
        looked(*wanted, **more)
        meeting.wait(20)

    monkeypatch.setattr(LineReader, "hold", unheld)
    monkeypatch.setattr(entering, "refuse_too_much", looks)
    at_once(work(sam, 780), work(sam, 780))
    assert kept(sam) == 1560


def test_a_wrong_entry_is_taken_back_by_one_of_two(sam):
    job = small_job()
    for turn in range(ROUNDS):
        wrong = entry_of(job, sam, 480)
        right = line(sam, 420, job=job.key, step="framing")

        def correct(key, wrong=wrong, right=right):
            document = {"request_key": key, "reason": "Seven", "line": right}
            return lambda: correct_entry(wrong, document, LEAD, now=NOW, among=Worker.objects.all())

        gave = at_once(correct(f"a{turn}"), correct(f"b{turn}"))
        assert (sum(isinstance(entry, Exception) for entry in gave), kept(sam)) == (1, 420)
        afresh()
