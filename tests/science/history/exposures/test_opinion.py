"""How grounds add up."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.history.exposures.opinion import all_of, either, highest, odds_times

shares = st.floats(0, 1)


@given(shares, shares)
def test_either_is_the_rule_of_independent_chances(one: float, other: float) -> None:
    """The sum less the product: the textbook rule for two independent events."""
    assert either(np.array([one]), np.array([other]))[0] == pytest.approx(one + other - one * other)


@given(shares, shares)
def test_all_is_below_each_and_highest_above_each(one: float, other: float) -> None:
    """A product of shares and a maximum."""
    first, second = np.array([one]), np.array([other])
    assert all_of(first, second)[0] <= min(one, other) + 1e-15
    assert highest(first, second)[0] == max(one, other)


@given(st.floats(0.001, 0.999), st.floats(0.01, 100))
def test_odds_are_multiplied(share: float, factor: float) -> None:
    """Odds after = odds before times factor, by the definition of odds."""
    after = odds_times(np.array([share]), np.array([factor]))[0]
    assert after / (1 - after) == pytest.approx(share / (1 - share) * factor, rel=1e-6)
