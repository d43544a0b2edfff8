"""How figures are said: rounding never hides and never invents."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.paper.words import (
    about_in_twenty,
    in_twenty,
    say,
    say_got,
    say_outside,
    say_range,
    step_of,
    twentieths,
)
from baskwell.science.draws import Against, Summary

finite = st.floats(-1e9, 1e9, allow_nan=False)


def _summary(values: list[float]) -> Summary:
    low, median, high = sorted(values)
    return Summary(median, low, high)


summaries = st.lists(finite, min_size=3, max_size=3).map(_summary)


@given(finite)
def test_a_number_said_in_four_digits_is_within_half_a_thousandth(value: float) -> None:
    """Four significant digits keep the relative error at or under 0.05 %."""
    told = float(say(value).replace(",", ""))
    assert math.isclose(told, value, rel_tol=5.0001e-4, abs_tol=1e-9)


@given(summaries)
def test_rounding_an_interval_moves_its_ends_by_less_than_a_sixth_of_its_width(got: Summary) -> None:
    """The step is at most an eighth of the width, and rounding moves a number by half a step."""
    step = step_of(got)
    if step is not None and step > 1e-6:
        width = got.high - got.low
        assert step <= width / 8 * (1 + 1e-9)


@given(summaries)
def test_what_was_got_is_said_without_minus_zero_and_without_exponents(got: Summary) -> None:
    """People read plain digits."""
    told = say_got(got)
    assert "e" not in told
    assert "-0 " not in f"{told} "


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        (0.7, 2.6, "0.7 to 2.6"),
        (None, 0.0, "at most 0"),
        (30.0, 30.0, "30"),
        (12500.0, None, "at least 12,500"),
    ],
)
def test_a_wanted_range_is_said_as_stated(low: float | None, high: float | None, told: str) -> None:
    """Published limits are not rounded away."""
    assert say_range(low, high) == told


@given(st.floats(0, 1))
def test_dots_are_the_nearest_twentieth(probability: float) -> None:
    """No dot is more than half a twentieth from the truth."""
    assert abs(twentieths(probability) / 20 - probability) <= 0.025 + 1e-12


def test_certainty_is_never_claimed() -> None:
    """Words stop at under one and over nineteen."""
    assert in_twenty(0.0) == "under 1 in 20"
    assert in_twenty(1.0) == "over 19 in 20"


@given(st.lists(st.floats(0, 1), min_size=3, max_size=3).map(_summary))
def test_a_probability_in_words_always_names_twenty(chance: Summary) -> None:
    """Never a bare per cent."""
    told = about_in_twenty(chance)
    assert told.endswith("in 20")
    assert "%" not in told


def test_a_wide_interval_says_that_it_is_anything() -> None:
    """From nothing to certainty is said to be just that."""
    assert about_in_twenty(Summary(0.5, 0.0, 1.0)) == "anything from 0 to 20 in 20"


def test_outside_names_the_likelier_side() -> None:
    """Too high wins over too low when it is likelier."""
    assert say_outside(Against(0.1, 0.2, 0.7)) == "too high, 14 in 20"


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_what_is_no_number_is_said_in_words(value: float) -> None:
    """NaN and infinity never reach the page as such."""
    assert say(value) in ("not known", "no limit")
