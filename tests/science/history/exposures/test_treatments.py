"""What was given before: which agent, by which route, how long ago."""

from typing import Any

import pytest

from baskwell.science.case.model import Treatment
from baskwell.science.case.span import Span


def given(agent: str, weeks: float | None = 1.0, **rest: Any) -> tuple[Treatment, ...]:
    """One treatment so many weeks before the examination."""
    when: dict[str, Any] = {} if weeks is None else {"weeks_before": Span.exactly(weeks)}
    return (Treatment(agent=agent, **when, **rest),)


@pytest.mark.parametrize(
    ("treatments", "expected"),
    [
        (given("vitamin_a", 2.0, route="injection"), 1.0),
        (given("vitamin A", 8.0, route="im"), 1.0),
        (given("vitamin_a", 9.0, route="im"), 0.0),
        (given("none", None), 0.0),
    ],
)
def test_vitamin_a_counts_by_injection_within_eight_weeks(
    believe: Any, treatments: tuple[Treatment, ...], expected: float
) -> None:
    """The definition: an injection, in the last eight weeks."""
    assert believe(treatments=treatments)["vita_injection"].mean == expected


def test_a_range_around_the_eighth_week_counts_by_its_share(believe: Any) -> None:
    """Half of 4 to 12 weeks lies within 8."""
    treatments = (Treatment(agent="vitamin_a", route="sc", weeks_before=Span(4.0, 12.0)),)
    assert believe(treatments=treatments)["vita_injection"].mean == pytest.approx(0.5)


def test_two_months_are_rounded_and_count_by_their_share(believe: Any) -> None:
    """1.5 to 2.5 months are 6.52 to 10.87 weeks, of which (8 - 6.52) / 4.35 = 0.34 lies within 8."""
    treatments = (Treatment(agent="vitamin_a", route="im", months_before=Span.exactly(2.0)),)
    assert believe(treatments=treatments)["vita_injection"].mean == pytest.approx(0.34, abs=0.005)


def test_what_is_not_named_may_be_vitamin_a_the_more_so_for_swollen_eyes(believe: Any) -> None:
    """An unnamed injection; the same for swollen eyes (judged shares)."""
    unnamed = believe(treatments=given("unknown", route="injection"))["vita_injection"].mean
    for_eyes = believe(treatments=given("unknown", route="injection", reason="swollen eyes"))
    assert 0.0 < unnamed < for_eyes["vita_injection"].mean < 1.0


def test_other_treatments_say_nothing_of_vitamin_a(believe: Any) -> None:
    """A list that does not name it proves nothing: a missing fact raises and lowers nothing."""
    for treatments in (given("calcium", route="oral"), given("vitamin_a", route="oral")):
        assert believe(treatments=treatments)["vita_injection"].state == "unknown"


@pytest.mark.parametrize("agent", ["ivermectin", "Moxidectin 1 %", "milbemycin"])
def test_ivermectin_and_its_relatives_count(believe: Any, agent: str) -> None:
    """Macrocyclic lactones by their generic names."""
    beliefs = believe(treatments=given(agent))
    assert beliefs["ivermectin_given"].mean == 1.0
    assert beliefs["drug_given"].state == "unknown"  # it has a row of its own


def test_a_wormer_without_a_name_may_be_ivermectin(believe: Any) -> None:
    """By its word, or by the reason it was given for."""
    for treatments in (given("wormer"), given("unknown", reason="worms")):
        assert 0.0 < believe(treatments=treatments)["ivermectin_given"].mean < 1.0
    assert believe(treatments=given("fenbendazole"))["ivermectin_given"].state == "unknown"


def test_aminoglycosides_count_lately(believe: Any) -> None:
    """Two weeks ago and two years ago, against a judged window of 4 to 16 weeks."""
    assert believe(treatments=given("amikacin", 2.0))["aminoglycoside"].mean == 1.0
    assert believe(treatments=given("amikacin", 104.0))["aminoglycoside"].mean == 0.0


@pytest.mark.parametrize(
    ("treatments", "expected"),
    [
        (given("enrofloxacin", 2.0), 1.0),
        (given("enrofloxacin", 5.0), 0.0),
        (given("unknown", 1.0), 1.0),
        (given("none", None), 0.0),
    ],
)
def test_a_drug_counts_for_four_weeks(
    believe: Any, treatments: tuple[Treatment, ...], expected: float
) -> None:
    """The definition: in the last four weeks, named or not."""
    assert believe(treatments=treatments)["drug_given"].mean == expected


@pytest.mark.parametrize("agent", ["vitamin_a", "calcium gluconate", "fluids", "beak trim", ""])
def test_vitamins_minerals_fluids_and_handling_are_no_drugs(believe: Any, agent: str) -> None:
    """They leave the question open."""
    assert believe(treatments=given(agent))["drug_given"].state == "unknown"
