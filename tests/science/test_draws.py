"""Samplers and summaries that every figure rests on."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from baskwell.science.draws import against, lognormal_factor, pert, summarise, summarise_weighted

N = 200_000


@pytest.mark.parametrize(("low", "mode", "high"), [(0.0, 1.0, 4.0), (2.0, 2.0, 3.0), (0.1, 0.3, 0.3)])
def test_pert_has_its_published_mean(low: float, mode: float, high: float) -> None:
    """Expected: (low + 4 mode + high) / 6 (Malcolm et al. 1959)."""
    draws = pert(np.random.default_rng(1), low, mode, high, N)

    assert draws.mean() == pytest.approx((low + 4 * mode + high) / 6, rel=0.01)
    assert low <= draws.min() and draws.max() <= high


def test_pert_refuses_a_mode_outside_its_range_and_names_it() -> None:
    """The message holds the three values."""
    with pytest.raises(ValueError, match=r"low <= mode <= high, got 2, 1, 3"):
        pert(np.random.default_rng(1), 2, 1, 3, 10)


@pytest.mark.parametrize("cv", [0.0, 0.1, 0.6])
def test_lognormal_factor_keeps_mean_and_spread(cv: float) -> None:
    """Expected: mean 1 and the coefficient of variation asked for."""
    draws = lognormal_factor(np.random.default_rng(2), cv, N)

    assert draws.mean() == pytest.approx(1.0, abs=0.01)
    assert draws.std() == pytest.approx(cv, abs=0.02)


def numbers() -> st.SearchStrategy[NDArray[np.float64]]:
    """Some finite draws."""
    return st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=50).map(np.array)


@given(numbers())
def test_a_summary_is_ordered_and_inside_the_draws(draws: NDArray[np.float64]) -> None:
    """Low, median and high never leave the draws."""
    told = summarise(draws)

    room = 1e-9 * (1 + np.abs(draws).max())
    assert draws.min() - room <= told.low <= told.median + room
    assert told.median - room <= told.high <= draws.max() + room


@given(numbers(), st.floats(-1e6, 1e6), st.floats(0, 1e6))
def test_chances_add_to_one(draws: NDArray[np.float64], low: float, width: float) -> None:
    """Below, inside and above are all there is."""
    chances = against(draws, low, low + width)

    assert chances.below + chances.inside + chances.above == pytest.approx(1.0)
    assert min(chances.below, chances.inside, chances.above) >= -1e-12


def test_weights_shift_the_median() -> None:
    """A draw of weight three counts as three draws."""
    told = summarise_weighted(np.array([0.0, 1.0]), np.array([1.0, 3.0]))

    assert told.median > 0.5


def test_all_unknown_is_an_error_not_a_zero() -> None:
    """No known draw cannot be summarised."""
    with pytest.raises(ValueError, match="No known draw"):
        summarise(np.array([np.nan, np.nan]))
