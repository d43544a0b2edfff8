"""What happened to it, and its winter rest."""

import datetime as dt
from typing import Any

import pytest

from baskwell.science.case.model import Event, Exam, Treatment, WinterRest
from baskwell.science.case.span import Span


@pytest.mark.parametrize("kind", ["attack", "fall", "crush", "hook"])
def test_an_injury_this_month_is_an_injury(believe: Any, kind: str) -> None:
    """Within the shortest judged window of eight weeks."""
    assert believe(events=(Event(kind=kind, weeks_before=Span.exactly(3.0)),))["attack"].mean == 1.0


def test_an_injury_fades_with_time_and_one_without_time_stays_probable(believe: Any) -> None:
    """Ten years ago is beyond the widest judged window of two years."""
    old = believe(events=(Event(kind="fall", months_before=Span.exactly(120.0)),))["attack"].mean
    some = believe(events=(Event(kind="fall", weeks_before=Span.exactly(40.0)),))["attack"].mean
    undated = believe(events=(Event(kind="fall"),))["attack"].mean
    assert old == 0.0
    assert 0.0 < some < undated < 1.0


def test_a_date_counts_from_the_examination(believe: Any) -> None:
    """Two weeks before 14 March 2026, and eleven years before."""
    exam = Exam(date=dt.date(2026, 3, 14))
    recent = (Event(kind="attack", date=dt.date(2026, 2, 28)),)
    long_ago = (Event(kind="attack", date=dt.date(2015, 2, 28)),)
    assert believe(exam=exam, events=recent)["attack"].mean == 1.0
    assert believe(exam=exam, events=long_ago)["attack"].mean == 0.0


@pytest.mark.parametrize("source", ["found", "abandoned"])
def test_found_and_abandoned_animals_may_have_been_at_large(believe: Any, source: str) -> None:
    """Probable, not certain."""
    assert 0.0 < believe(source=source)["escaped"].mean < 1.0


def test_an_escape_told_of_counts_before_where_it_came_from(believe: Any) -> None:
    """It escaped last week and was found."""
    events = (Event(kind="escape", days_before=Span.exactly(7.0)),)
    assert believe(source="found", events=events)["escaped"].mean == 1.0


@pytest.mark.parametrize(("lowest", "low", "high"), [(-4.0, 1.0, 1.0), (5.0, 0.0, 0.05)])
def test_frost_is_below_nought_in_the_winter_rest(
    believe: Any, lowest: float, low: float, high: float
) -> None:
    """Water freezes at 0 C; 3 to 8 C is the usual winter rest (common practice)."""
    rest = (WinterRest(done=True, lowest_c=Span.exactly(lowest)),)
    assert low <= believe(winter_rest=rest)["frost_or_chill"].mean <= high


@pytest.mark.parametrize(
    ("rest", "expected"),
    [
        (WinterRest(done=False), 0.0),
        (WinterRest(done=True, ended_weeks_before=Span.exactly(5.0)), 1.0),
        (WinterRest(done=True, ended_weeks_before=Span.exactly(30.0)), 0.0),
        (WinterRest(ended_weeks_before=Span(4.0, 12.0)), 0.5),  # half of 4 to 12 lies within 8
    ],
)
def test_a_winter_rest_is_recent_within_eight_weeks(believe: Any, rest: WinterRest, expected: float) -> None:
    """The definition says eight weeks."""
    assert believe(winter_rest=(rest,))["winter_rest_recent"].mean == pytest.approx(expected)


def test_an_undated_winter_rest_may_be_recent_and_an_empty_entry_says_nothing(believe: Any) -> None:
    """Something told of it, or nothing."""
    assert 0.0 < believe(winter_rest=(WinterRest(done=True),))["winter_rest_recent"].mean < 1.0
    assert believe(winter_rest=(WinterRest(),))["winter_rest_recent"].state == "unknown"


@pytest.mark.parametrize(
    ("event", "low", "high"),
    [
        (Event(kind="metal"), 1.0, 1.0),
        (Event(kind="hook"), 1.0, 1.0),
        (Event(kind="swallowed", detail="a coin"), 1.0, 1.0),
        (Event(kind="swallowed"), 0.01, 0.5),
    ],
)
def test_metal_is_metal_or_what_may_be_metal(believe: Any, event: Event, low: float, high: float) -> None:
    """What was swallowed is metal with a judged share where it is not told."""
    assert low <= believe(events=(event,))["metal_access"].mean <= high


def test_a_spray_or_a_spill_is_contact_with_a_chemical(believe: Any) -> None:
    """Told as an event or as something given; a poison of unknown kind counts in part."""
    spilled = (Event(kind="chemical", weeks_before=Span.exactly(0.0)),)
    sprayed = (Treatment(agent="permethrin", route="spray", days_before=Span.exactly(1.0)),)
    poisoned = (Event(kind="toxin", weeks_before=Span.exactly(0.0)),)
    assert believe(events=spilled)["chemical_contact"].mean == 1.0
    assert believe(treatments=sprayed)["chemical_contact"].mean == 1.0
    assert 0.0 < believe(events=poisoned)["chemical_contact"].mean < 1.0
