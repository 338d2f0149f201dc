"""What an order line states. The radii are those of the worked example of the dental screen: 132.600 in on the convex
framing face, half an inch of board out from it and 4-1/8 in further in; its chord of 14 ft gives the sweep."""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal
from functools import cache

import pytest

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from jobs.core.ordering.order_lines import OrderStatement, mark_of, read_statement, statement_of
from quoting.core.quotes.work_up import WorkUp, work_up
from tests.documents import job_file
from tests.support.worked import TODAY

IN = 25.4


@cache
def dental() -> WorkUp:
    return work_up(job_file("larkmoor-dental"), TODAY)


def stated(of_kind: str) -> OrderStatement:
    result = dental()
    purchase = next(entry for entry in result.takeoff.purchases if entry.kind == of_kind)
    return statement_of(result.read.book.materials[purchase.material], purchase, result.walls)


def test_made_trim_states_the_radius_at_its_back_on_either_face() -> None:
    radiuses = {radius.side: radius for radius in stated("trim").radii}
    sweep_rad = 2 * math.asin(84 / 132.6)
    assert radiuses["convex"].radius_mm / IN == pytest.approx(133.1, abs=1e-4)
    assert radiuses["concave"].radius_mm / IN == pytest.approx(132.6 - 3.625 - 0.5, abs=1e-4)
    assert radiuses["convex"].arc_length_mm / IN == pytest.approx(133.1 * sweep_rad, abs=1e-3)
    assert "finished face" in radiuses["convex"].measured_at


def test_its_quantity_counts_the_pieces_of_all_runs() -> None:
    trim = stated("trim")
    assert (trim.unit, trim.quantity) == ("pieces", Decimal(len(trim.piece_lengths_mm)))
    assert {run.run for run in trim.runs} and all(run.piece_lengths_mm for run in trim.runs)


def test_what_comes_in_packs_states_its_packs() -> None:
    track = stated("track")
    assert track.runs == () and track.quantity == sum(pack.count for pack in track.packs)


def test_a_statement_reads_back_as_it_was_kept() -> None:
    for kind in ("trim", "track"):
        statement = stated(kind)
        statement = replace(statement, runs=tuple(replace(run, missing=()) for run in statement.runs))
        back = read_statement(write(statement))
        assert back == statement and back.mark == statement.mark == mark_of(write(statement))


def test_whatever_the_maker_is_told_changes_the_mark() -> None:
    statement = stated("trim")
    first, *rest = statement.runs
    changes = [
        replace(first, grade="stain" if first.grade != "stain" else "paint"),
        replace(first, piece_lengths_mm=(first.piece_lengths_mm[0] + 1.0, *first.piece_lengths_mm[1:])),
        replace(first, radii=(replace(first.radii[0], radius_mm=first.radii[0].radius_mm + 0.01), *first.radii[1:])),
        replace(first, radii=(replace(first.radii[0], measured_at="framing face"), *first.radii[1:])),
        replace(first, splices_allowed=not first.splices_allowed),
    ]
    marks = {replace(statement, runs=(change, *rest)).mark for change in changes}
    assert statement.mark not in marks and len(marks) == len(changes)


def test_what_nobody_said_is_a_sentence_that_names_wall_and_run() -> None:
    statement = stated("trim")
    silent = replace(statement, runs=(replace(statement.runs[0], missing=("grade",)), *statement.runs[1:]))
    assert any(
        "choose paint or stain" in sentence and statement.runs[0].run in sentence
        for sentence in silent.missing_sentences
    )


@pytest.mark.parametrize("wrong", [True, -1.0, "12 ft", None])
def test_a_length_that_is_none_is_refused_by_its_place(wrong: object) -> None:
    stored = write(stated("trim"))
    stored["runs"][0]["piece_lengths_mm"] = [wrong]
    with pytest.raises(DocumentError, match=r"runs\[0\].piece_lengths_mm\[0\]"):
        read_statement(stored)
