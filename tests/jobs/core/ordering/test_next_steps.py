from datetime import date

from jobs.core.measure.dimension_holds import Hold
from jobs.core.measure.findings import Finding
from jobs.core.ordering.next_steps import HeldItem, next_steps
from jobs.core.ordering.release import ReleaseHold

CHECK = ReleaseHold("field_check", "No field check has confirmed the framed wall.", "lead", True)
QUOTE = ReleaseHold("quote", "No quote of this job is accepted.", "estimator", True)
GAP = ReleaseHold("gap/lead", "No lead time.", "office", True)


def dimension(words, wall="nook", run="Base", place=""):
    key = f"{wall}/trim-1"
    return Hold(key, run, "BASE", place or words, words, Finding(f"{key}/{words}", "gap", f"Nobody knows {words}."))


def item(name, day, *dimensions, holds=(CHECK,), walls=("nook",)):
    return HeldItem(7, name.upper(), name, date(2027, 1, day) if day else None, holds, dimensions, walls)


def said(items, step):
    return [(entry.wall, entry.sentence, entry.names, entry.by and entry.by.day) for entry in next_steps(items, step)]


def test_dimensions_of_all_items_at_a_wall_are_one_thing_to_do():
    items = [item("Base", 8, dimension("chord"), dimension("rise")), item("Cap", 5, dimension("rise"))]
    assert said(items, "lead") == [
        ("nook", "Measure or confirm chord, rise.", ("Base", "Cap"), 5),
        ("nook", "Check the framed wall on site.", ("Base", "Cap"), 5),
    ]


def test_of_many_dimensions_it_is_said_how_many():
    many = [dimension(words) for words in ("chord", "rise", "width", "sill")]
    assert said([item("Base", 8, *many, holds=())], "lead")[0][1] == "Measure or confirm 4 dimensions."


def test_two_walls_are_two_things_to_do_and_the_first_to_be_ordered_comes_first():
    items = [item("Base", 8, walls=("nook", "hall")), item("Cap", 5, walls=("hall",)), item("Shoe", None)]
    assert [(wall, by) for wall, _, _, by in said(items, "lead")] == [("hall", 5), ("nook", 8)]


def test_a_template_is_asked_for_by_its_run():
    assert said([item("Base", 8, dimension("", place="template"), holds=())], "lead") == [
        ("nook", "Trace the template of Base and hold it.", ("Base",), 8)
    ]


def test_each_sees_their_own_next_step_and_nobody_the_gaps_that_stand_with_the_item():
    items = [item("Base", 8, dimension("rise"), holds=(QUOTE, CHECK, GAP))]
    assert [entry for _, entry, _, _ in said(items, "estimator")] == ["No quote of this job is accepted."]
    assert said(items, "office") == said(items, "owner") == []
