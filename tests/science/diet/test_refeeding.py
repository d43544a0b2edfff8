"""Refeeding: starts low, rises in steps, stays below the block of week 1."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.diet import refeeding_kcal, refeeding_most_kcal

EVIDENCE = load_evidence()


def offered(kilograms: float, day: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """What is offered on one day; the same worlds on every day."""
    return refeeding_kcal(np.full(500, kilograms), EVIDENCE, np.random.default_rng(1), day)


@pytest.mark.parametrize("day", [1, 2])
def test_the_first_two_days_are_a_quarter_to_a_half_of_the_resting_rule(day: int) -> None:
    """limits.csv refeed_start_low 0.25 and refeed_start_high 0.5 of 10*kg^0.75."""
    got = offered(0.4, day)
    assert got.min() >= 0.25 * 10 * 0.4**0.75
    assert got.max() <= 0.5 * 10 * 0.4**0.75


@settings(deadline=None)
@given(st.floats(0.01, 100.0), st.integers(1, 20))
def test_it_never_falls_and_never_passes_the_block_of_week_one(kilograms: float, day: int) -> None:
    """limits.csv refeed_week1_block: 0.4 of 32*kg^0.75."""
    today, tomorrow = offered(kilograms, day), offered(kilograms, day + 1)
    assert bool((tomorrow >= today * (1 - 1e-12)).all())
    assert bool((today <= 0.4 * 32 * kilograms**0.75 * (1 + 1e-12)).all())


def test_the_whole_resting_need_is_reached_within_a_week() -> None:
    """X05: the need is reached over 2-5 days, after the two days of the start."""
    assert np.allclose(offered(1.0, 7), 10.0)
    assert offered(1.0, 4).mean() < 10.0


def test_the_books_part_of_the_larger_formula_can_exceed_the_whole_resting_need() -> None:
    """limits.csv, refeed_week1_block: 0.40 of 32 is 12.8, above 10 (why the start is set by the smaller)."""
    assert refeeding_most_kcal(np.array([1.0]), EVIDENCE)[0] == pytest.approx(12.8)


def test_half_of_11_kcal_is_the_published_first_feed() -> None:
    """W21: green iguana, 50 % of the metabolic requirement = 5.5 kcal; our start is at most half as well."""
    assert offered(1.0, 1).max() / 10.0 <= 5.5 / 11.0


def test_there_is_no_day_before_the_first() -> None:
    """Count from 1."""
    with pytest.raises(ValueError, match="count from 1"):
        offered(1.0, 0)
