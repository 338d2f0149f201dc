"""The critical path, in day numbers and on calendars."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.workdays import Closure, WorkCalendar, calendar_with
from jobs.core.schedule.critical_path import Activity, DatedActivity, Link, NetworkError, Times, network, schedule

FIRM = WorkCalendar("firm")
EVERY_DAY = WorkCalendar("every day", weekend=frozenset())


def finish_to_start(**waits: str) -> list[Link]:
    return [Link(before, after) for after, befores in waits.items() for before in befores]


def test_the_textbook_project_of_ten_activities():
    # Anderson, Sweeney, Williams, Camm, Martin: An Introduction to Management Science, table 9.6.
    durations = {"A": 6, "B": 2, "C": 3, "D": 5, "E": 3, "F": 2, "G": 3, "H": 4, "I": 2, "J": 2}
    result = network(
        [Activity(name, days) for name, days in durations.items()],
        finish_to_start(C="A", D="A", E="A", F="C", G="D", H="BE", I="H", J="FGI"),
    )
    # early start, early finish, late start, late finish, float
    table = {
        "A": (0, 6, 0, 6, 0),
        "B": (0, 2, 7, 9, 7),
        "C": (6, 9, 10, 13, 4),
        "D": (6, 11, 7, 12, 1),
        "E": (6, 9, 6, 9, 0),
        "F": (9, 11, 13, 15, 4),
        "G": (11, 14, 12, 15, 1),
        "H": (9, 13, 9, 13, 0),
        "I": (13, 15, 13, 15, 0),
        "J": (15, 17, 15, 17, 0),
    }
    activities = {
        name: (each.early_start, each.early_finish, each.late_start, each.late_finish, each.total_float)
        for name, each in result.times.items()
    }
    assert activities == table
    assert result.length_workdays == 17
    assert set(result.critical) == set("AEHIJ")


# name: (days, what it comes after, early start, early finish, late start, late finish, float)
BUILDING = {
    "A": (2, "", 0, 2, 0, 2, 0),
    "B": (4, "A", 2, 6, 2, 6, 0),
    "C": (10, "B", 6, 16, 6, 16, 0),
    "D": (6, "C", 16, 22, 20, 26, 4),
    "E": (4, "C", 16, 20, 16, 20, 0),
    "F": (5, "E", 20, 25, 20, 25, 0),
    "G": (7, "D", 22, 29, 26, 33, 4),
    "H": (9, "EG", 29, 38, 33, 42, 4),
    "I": (7, "C", 16, 23, 18, 25, 2),
    "J": (8, "FI", 25, 33, 25, 33, 0),
    "K": (4, "J", 33, 37, 34, 38, 1),
    "L": (5, "J", 33, 38, 33, 38, 0),
    "M": (2, "H", 38, 40, 42, 44, 4),
    "N": (6, "KL", 38, 44, 38, 44, 0),
}
PAPER_MILL = {
    "A": (2, "", 0, 2, 0, 2, 0),
    "B": (3, "", 0, 3, 1, 4, 1),
    "C": (2, "A", 2, 4, 2, 4, 0),
    "D": (4, "AB", 3, 7, 4, 8, 1),
    "E": (4, "C", 4, 8, 4, 8, 0),
    "F": (3, "C", 4, 7, 10, 13, 6),
    "G": (5, "DE", 8, 13, 8, 13, 0),
    "H": (2, "FG", 13, 15, 13, 15, 0),
}


@pytest.mark.parametrize("table", [BUILDING, PAPER_MILL], ids=["building", "paper mill"])
def test_two_more_textbook_projects_with_all_their_times(table):
    # MEMORY, not read again: Hillier and Lieberman, Introduction to Operations Research, the building contractor's
    # fourteen activities, 44 weeks; Heizer and Render, Operations Management, the paper mill's eight, 15 weeks.
    # What is remembered is held against the longest path of networkx as well.
    links = finish_to_start(**{name: row[1] for name, row in table.items()})
    result = network([Activity(name, row[0]) for name, row in table.items()], links)
    times = {
        name: (each.early_start, each.early_finish, each.late_start, each.late_finish, each.total_float)
        for name, each in result.times.items()
    }
    assert times == {name: row[2:] for name, row in table.items()}
    graph = nx.DiGraph([(link.before, link.after, {"weight": table[link.before][0]}) for link in links])
    graph.add_edges_from((name, "end", {"weight": row[0]}) for name, row in table.items())
    assert result.length_workdays == nx.dag_longest_path_length(graph)


def test_a_ladder_of_overlapping_activities_with_all_their_times():
    # Worked by hand. Dig 6, lay 4, fill 5: laying starts 2 after digging does and ends 1 after it at the earliest;
    # filling starts 1 after laying does and ends 2 after laying does at the earliest.
    # Forward: dig 0-6; lay starts at 2, but ends no earlier than 7, so 3-7; fill from 4, ends no earlier than 9: 4-9.
    # Backward from 9: fill starts by 4; lay by 3 (fill's start less 1), ends by 7 (fill's end less 2); dig ends by 6.
    result = network(
        [Activity("dig", 6), Activity("lay", 4), Activity("fill", 5)],
        [
            Link("dig", "lay", "SS", 2),
            Link("dig", "lay", "FF", 1),
            Link("lay", "fill", "SS", 1),
            Link("lay", "fill", "FF", 2),
        ],
    )
    assert result.times == {
        "dig": Times(0, 6, 0, 6, 0, 0),
        "lay": Times(3, 7, 3, 7, 0, 0),
        "fill": Times(4, 9, 4, 9, 0, 0),
    }


def test_the_textbook_network_of_seven_arrows():
    # Taylor: Introduction to Management Science, chapter 8, problem 1; each arrow is an activity.
    arrows = {"12": 7, "13": 10, "24": 6, "34": 5, "35": 4, "45": 3, "56": 2}
    links = [Link(arrow, two) for arrow in arrows for two in arrows if arrow[1] == two[0]]
    result = network([Activity(name, days) for name, days in arrows.items()], links)
    assert result.length_workdays == 20
    assert set(result.critical) == {"13", "34", "45", "56"}


def test_start_to_start_lags_let_activities_overlap():
    # Worked by hand: A 10, B 5 starting 6 after A, C 3 starting 1 after B. B ends last, at 11; A ends at 10.
    result = network(
        [Activity("A", 10), Activity("B", 5), Activity("C", 3)],
        [Link("A", "B", "SS", 6), Link("B", "C", "SS", 1)],
    )
    assert result.length_workdays == 11
    assert result.times["A"].early_finish == 10
    assert result.times["B"] == Times(6, 11, 6, 11, 0, 0)
    assert result.times["C"] == Times(7, 10, 8, 11, 1, 1)


def test_finish_to_finish_and_start_to_finish_lags_hold_the_finish():
    result = network(
        [Activity("A", 10), Activity("B", 4), Activity("C", 3)],
        [Link("A", "B", "FF", 2), Link("A", "C", "SF", 8)],
    )
    assert (result.times["B"].early_start, result.times["B"].early_finish) == (8, 12)
    assert (result.times["C"].early_start, result.times["C"].early_finish) == (5, 8)


def test_a_start_no_earlier_day_is_kept():
    assert network([Activity("A", 2, 5)], []).times["A"].early_finish == 7


def test_a_circle_is_named():
    with pytest.raises(NetworkError, match="circle: boards -> tape -> paint -> boards"):
        network(
            [Activity(name, 1) for name in ("layout", "boards", "tape", "paint")],
            [
                Link("layout", "boards"),
                Link("boards", "tape"),
                Link("tape", "paint"),
                Link("paint", "boards"),
            ],
        )


def test_a_circle_is_named_without_the_activities_that_only_wait_for_it():
    with pytest.raises(NetworkError, match=r"circle: x -> y -> x\.") as caught:
        network([Activity(n, 1) for n in "axy"], [Link("x", "y"), Link("y", "x"), Link("y", "a")])
    assert "a ->" not in str(caught.value)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: Activity("", 1), "needs a name"),
        (
            lambda: Activity("A", -1),
            "Activity A: the duration must be a whole number from 0 to 1,000, not -1",
        ),
        (lambda: Activity("A", True), "not True"),
        (lambda: Activity("A", 1.5), r"not 1\.5"),
        (lambda: Link("A", "A"), "cannot wait for itself"),
        (lambda: Link("A", "B", "XX"), "not 'XX'"),
        (lambda: Link("A", "B", lag_workdays=1, lag_elapsed_hours=1), "not both"),
        (lambda: Link("A", "B", lag_elapsed_hours=-1), "not -1"),
        (lambda: DatedActivity("A", 1, FIRM, datetime(2027, 1, 4)), "without a time"),  # noqa: DTZ001
        (lambda: Times(5, 4, 5, 4, 0, 0), "finish before it starts"),
        (lambda: network([], []), "no activities"),
        (lambda: network([Activity("A", 1), Activity("A", 2)], []), "two activities named 'A'"),
        (lambda: network([Activity("A", 1)], [Link("A", "B")]), "no activity 'B'"),
        (
            lambda: network([Activity("A", 1), Activity("B", 1)], [Link("A", "B", lag_elapsed_hours=24)]),
            "hours need a calendar",
        ),
    ],
)
def test_what_cannot_be_used_is_refused_by_name(make, message):
    with pytest.raises(NetworkError, match=message):
        make()


@st.composite
def networks(draw):
    durations = draw(st.lists(st.integers(0, 9), min_size=1, max_size=9))
    names = [f"a{number}" for number in range(len(durations))]
    pairs = [(number, two) for two in range(len(names)) for number in range(two)]
    chosen = draw(st.lists(st.sampled_from(pairs), max_size=14, unique=True)) if pairs else []
    links = [
        Link(
            names[entry],
            names[two],
            draw(st.sampled_from(["FS", "SS", "FF", "SF"])),
            draw(st.integers(-3, 6)),
        )
        for entry, two in chosen
    ]
    return [Activity(name, days) for name, days in zip(names, durations, strict=True)], links


@settings(deadline=None)
@given(networks())
def test_early_and_late_times_agree_with_longest_paths(drawn):
    # networkx.dag_longest_path_length is the reference: a node for each start and finish of an activity.
    activities, links = drawn
    graph = nx.MultiDiGraph()
    for each in activities:
        graph.add_edge("begin", each.name, weight=0)
        graph.add_edge(each.name, "end", weight=each.duration_workdays)
    span = {each.name: each.duration_workdays for each in activities}
    for link in links:
        weight = {
            "FS": span[link.before] + link.lag_workdays,
            "SS": link.lag_workdays,
            "FF": span[link.before] + link.lag_workdays - span[link.after],
            "SF": link.lag_workdays - span[link.after],
        }[link.kind]
        graph.add_edge(link.before, link.after, weight=weight)
    result = network(activities, links)

    def longest(first: str, last: str) -> int:
        on_the_way = ({first} | nx.descendants(graph, first)) & ({last} | nx.ancestors(graph, last))
        best = {first: 0}
        for node in nx.topological_sort(graph.subgraph(on_the_way)):
            for _, onward, weight in graph.subgraph(on_the_way).edges(node, data="weight"):
                best[onward] = max(best.get(onward, weight + best[node]), weight + best[node])
        return best[last]

    assert result.length_workdays == longest("begin", "end")
    for each in activities:
        assert result.times[each.name].early_start == longest("begin", each.name)
        assert result.times[each.name].late_start == result.length_workdays - longest(each.name, "end")


@settings(deadline=None)
@given(networks())
def test_slipping_by_the_free_float_moves_no_other_activity(drawn):
    activities, links = drawn
    result = network(activities, links)
    for each in activities:
        times = result.times[each.name]
        assert 0 <= times.free_float <= times.total_float
        slipped = [
            Activity(other.name, other.duration_workdays, times.early_start + times.free_float)
            if other is each
            else other
            for other in activities
        ]
        after = network(slipped, links)
        assert after.length_workdays == result.length_workdays
        for other in activities:
            if other is not each:
                assert after.times[other.name].early_start == result.times[other.name].early_start


@settings(deadline=None)
@given(networks())
def test_on_a_calendar_without_days_off_the_days_are_the_numbers(drawn):
    activities, links = drawn
    # An event falls on a morning, as in the numbers; finishes differ only in naming the last day worked.
    day_one = date(2027, 1, 1)
    numbers = network(activities, links)
    dated = schedule(
        [DatedActivity(each.name, each.duration_workdays, EVERY_DAY) for each in activities], links, day_one
    )
    for name, times in numbers.times.items():
        assert dated.times[name].early_start == day_one + timedelta(days=times.early_start)
        assert dated.times[name].late_start == day_one + timedelta(days=times.late_start)
        assert dated.times[name].total_float_workdays == times.total_float
        assert dated.times[name].free_float_workdays == times.free_float


@settings(deadline=None)
@given(
    networks(),
    st.lists(st.frozensets(st.dates(date(2027, 1, 1), date(2027, 4, 30)), max_size=25), min_size=2, max_size=2),
    st.lists(st.integers(0, 90), min_size=14, max_size=14),
    st.dates(date(2027, 1, 1), date(2027, 2, 28)),
)
def test_late_days_keep_the_finish_and_a_day_later_does_not(drawn, closed, hours, start):
    # The forward pass alone is the check: hold the start at the late day, then at one day more.
    activities, links = drawn
    calendars = [WorkCalendar("one", closed[0]), WorkCalendar("two", closed[1], frozenset({6}))]
    links = [
        Link(link.before, link.after, link.kind, 0, wait) if wait % 3 == 0 else link
        for link, wait in zip(links, hours, strict=False)
    ]
    dated = [
        DatedActivity(each.name, each.duration_workdays, calendars[number % 2])
        for number, each in enumerate(activities)
    ]
    plan = schedule(dated, links, start)

    def end_when_held(held: DatedActivity, day: date) -> date:
        moved = [
            DatedActivity(each.name, each.duration_workdays, each.calendar, day) if each is held else each
            for each in dated
        ]
        again = schedule(moved, links, start)
        return max(morning_after(each, again.times[each.name].early_start) for each in dated)

    end = max(morning_after(each, plan.times[each.name].early_start) for each in dated)
    for each in dated:
        late = plan.times[each.name].late_start
        assert late >= plan.times[each.name].early_start
        assert end_when_held(each, late) == end
        assert end_when_held(each, each.calendar.forward(late, 1)) > end


def morning_after(activity: DatedActivity, start: date) -> date:
    if activity.duration_workdays == 0:
        return start
    return activity.calendar.forward(start, activity.duration_workdays - 1) + timedelta(days=1)


@pytest.mark.parametrize(
    ("first_coat", "hours", "second_coat"),
    [
        (date(2027, 1, 4), 0, date(2027, 1, 5)),
        (date(2027, 1, 4), 16, date(2027, 1, 5)),
        (date(2027, 1, 4), 17, date(2027, 1, 6)),
        (date(2027, 1, 4), 24, date(2027, 1, 6)),
        (date(2027, 1, 4), 40, date(2027, 1, 6)),
        (date(2027, 1, 4), 48, date(2027, 1, 7)),
        (date(2027, 1, 8), 48, date(2027, 1, 11)),
    ],
)
def test_drying_runs_by_the_clock_and_then_waits_for_a_working_morning(first_coat, hours, second_coat):
    # A coat finished in the evening at 16:00; work starts again at 8:00. Friday to Monday dries 64 hours.
    plan = schedule(
        [DatedActivity("first", 1, FIRM), DatedActivity("second", 1, FIRM)],
        [Link("first", "second", lag_elapsed_hours=hours)],
        first_coat,
    )
    assert plan.times["second"].early_start == second_coat


@pytest.mark.parametrize(
    ("kind", "lag", "finish"),
    [
        # B starts on Mon 11 Jan. In day numbers B is day 1 to 2, and C ends at 1 + lag: with no lag on Fri 8 Jan.
        ("SF", 0, date(2027, 1, 8)),
        ("SF", 1, date(2027, 1, 11)),
        ("SF", -1, date(2027, 1, 7)),
        # B ends at 2, the evening of Mon 11 Jan: a working day before it is Fri 8 Jan.
        ("FF", 0, date(2027, 1, 11)),
        ("FF", -1, date(2027, 1, 8)),
    ],
)
def test_a_finish_that_waits_for_a_monday_morning_holds_from_friday_evening(kind, lag, finish):
    plan = schedule(
        [DatedActivity("A", 1, FIRM), DatedActivity("B", 1, FIRM, date(2027, 1, 11)), DatedActivity("C", 1, FIRM)],
        [Link("A", "B"), Link("B", "C", kind, lag)],
        date(2027, 1, 6),
    )
    assert plan.times["C"].early_finish == finish


@settings(deadline=None)
@given(networks())
def test_on_a_calendar_with_weekends_the_days_are_the_numbers_of_working_days(drawn):
    activities, links = drawn
    numbers = network(activities, links)
    monday = date(2027, 1, 4)
    dated = schedule([DatedActivity(each.name, each.duration_workdays, FIRM) for each in activities], links, monday)
    for name, times in numbers.times.items():
        assert dated.times[name].early_start == FIRM.forward(monday, times.early_start)


def test_a_lag_in_working_days_runs_on_the_calendar_of_the_earlier_activity():
    inspector = calendar_with("inspector", [Closure(date(2027, 1, 5), date(2027, 1, 8))])
    plan = schedule(
        [DatedActivity("inspection", 1, inspector), DatedActivity("boards", 1, FIRM)],
        [Link("inspection", "boards", lag_workdays=1)],
        date(2027, 1, 4),
    )
    assert plan.times["boards"].early_start == date(2027, 1, 12)


def test_moving_the_layout_three_working_days_moves_what_follows_by_three():
    def trim_day(layout_day: date) -> date:
        plan = schedule(
            [
                DatedActivity("layout", 1, FIRM, layout_day),
                DatedActivity("boards", 3, FIRM),
                DatedActivity("trim", 1, FIRM),
            ],
            [Link("layout", "boards"), Link("boards", "trim", lag_workdays=2)],
            date(2027, 1, 4),
        )
        return plan.times["trim"].early_start

    first = date(2027, 1, 6)
    assert FIRM.workdays_between(trim_day(first), trim_day(FIRM.forward(first, 3))) == 3


def test_what_holds_an_activity_is_named():
    plan = schedule(
        [
            DatedActivity("layout", 1, FIRM),
            DatedActivity("boards", 2, FIRM),
            DatedActivity("trim", 1, FIRM, date(2027, 2, 1)),
        ],
        [Link("layout", "boards"), Link("boards", "trim")],
        date(2027, 1, 4),
    )
    assert plan.critical == ("trim",)
    assert [times.held_by for times in plan.times.values()] == ["start", "layout", "start no earlier"]


def test_a_finish_that_cannot_be_kept_shows_as_negative_float():
    plan = schedule([DatedActivity("boards", 5, FIRM)], [], date(2027, 1, 4), finish_by=date(2027, 1, 6))
    boards = plan.times["boards"]
    assert (boards.late_start, boards.late_finish) == (date(2026, 12, 31), date(2027, 1, 6))
    assert (boards.total_float_workdays, boards.critical) == (-2, True)


def test_a_later_finish_by_gives_float():
    plan = schedule([DatedActivity("boards", 5, FIRM)], [], date(2027, 1, 4), finish_by=date(2027, 1, 12))
    assert plan.times["boards"].total_float_workdays == 2


def test_a_calendar_shut_for_years_is_refused_in_words():
    shut = WorkCalendar("mill", frozenset(date(2027, 1, 1) + timedelta(days=n) for n in range(1300)))
    with pytest.raises(NetworkError, match="mill: no working day"):
        schedule([DatedActivity("press", 1, shut)], [], date(2027, 1, 4))
