"""What a meter's reading does, against the conjugate normal update."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.span import Span
from baskwell.science.history.light.priors import Priors
from baskwell.science.history.light.reading import believe_reading, pane_after_reading, surprise

EVIDENCE = load_evidence()


def _prior(n_draws: int, spread: float = 0.5) -> tuple[Priors, np.ndarray]:
    priors = Priors(EVIDENCE, 5, n_draws)
    return priors, np.exp(np.random.default_rng(2).normal(0.0, spread, n_draws))


def test_reading_gives_the_conjugate_posterior() -> None:
    """Normal prior N(0, 0.5) on the log, meter error 20 %: mean and variance by hand."""
    priors, expected = _prior(200_000)
    now, _ = believe_reading(priors, "x", expected, expected, Span.exactly(3.0))
    error = np.log1p(0.2**2)
    weight = 0.25 / (0.25 + error)
    assert np.log(now).mean() == pytest.approx(weight * np.log(3.0), abs=0.01)
    assert np.log(now).var() == pytest.approx(0.25 * error / (0.25 + error), rel=0.02)


def test_what_a_lamp_gave_when_new_moves_by_its_covariance() -> None:
    """A new lamp N(1, 0.3), its loss N(-1, 0.4) independent: the share of the surprise is 0.09 / 0.25."""
    n_draws = 200_000
    rng = np.random.default_rng(3)
    new, left = rng.normal(1.0, 0.3, n_draws), rng.normal(-1.0, 0.4, n_draws)
    priors = Priors(EVIDENCE, 5, n_draws)
    _, after = believe_reading(priors, "x", np.exp(new + left), np.exp(new), Span.exactly(1.2))
    expected = 1.0 + 0.09 / (0.25 + np.log1p(0.2**2)) * np.log(1.2)
    assert np.log(after).mean() == pytest.approx(expected, abs=0.02)


def test_reading_under_a_lamp_that_should_give_nothing_speaks_alone() -> None:
    """Prior nil: median the reading, spread the meter's."""
    priors = Priors(EVIDENCE, 5, 100_000)
    now, _ = believe_reading(priors, "x", priors.same(0.0), priors.same(0.0), Span.exactly(2.0))
    assert np.median(now) == pytest.approx(2.0, rel=0.01)
    assert np.log(now).std() == pytest.approx(np.sqrt(np.log1p(0.04)), rel=0.02)


def test_nil_reading_leaves_less_than_a_step_of_the_meter() -> None:
    """light_priors.csv meter_zero: at most 0.1."""
    priors, expected = _prior(4000)
    now, _ = believe_reading(priors, "x", expected, expected, Span.exactly(0.0))
    assert 0.0 <= now.min() <= now.max() <= 0.1


def test_worlds_that_a_reading_rules_out_are_replaced() -> None:
    """A dud lamp in half of the worlds and a reading of 1: no dud is left."""
    priors, expected = _prior(4000)
    expected[::2] = 0.0
    now, _ = believe_reading(priors, "x", expected, expected, Span.exactly(1.0))
    assert now.min() > 0.0


def test_high_reading_rules_a_pane_out_and_a_low_one_speaks_for_it() -> None:
    """Behind glass a meter shows about a tenth (light.csv, CIE206)."""
    priors, open_air = _prior(20_000, spread=0.3)
    pane = (np.arange(20_000) % 10 == 0).astype(float)
    shown = np.where(pane > 0, 0.11, 1.0) * open_air
    assert pane_after_reading(priors, "x", pane, shown, Span.exactly(1.0)).mean() < 0.01
    assert pane_after_reading(priors, "x", pane, shown, Span.exactly(0.11)).mean() > 0.9


def test_surprise_counts_standard_deviations() -> None:
    """A reading at the middle is none, one four spreads away is four."""
    priors, expected = _prior(200_000)
    spread = np.sqrt(0.25 + np.log1p(0.04))
    assert surprise(priors, expected, Span.exactly(1.0)) == pytest.approx(0.0, abs=0.01)
    assert surprise(priors, expected, Span.exactly(float(np.exp(4 * spread)))) == pytest.approx(4.0, abs=0.05)


@given(st.floats(0.01, 30.0))
def test_posterior_lies_between_prior_and_reading(reading: float) -> None:
    """On the log scale, for the mean."""
    priors, expected = _prior(4000)
    now, new = believe_reading(priors, "x", expected, expected * 2.0, Span.exactly(reading))
    low, high = sorted((float(np.log(expected).mean()), float(np.log(max(reading, 0.05)))))
    assert low - 0.05 <= np.log(now).mean() <= high + 0.05
    assert np.log(now).std() < np.log(expected).std()
    assert np.all(new >= now)
