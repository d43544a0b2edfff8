"""Uncertainty as draws: samplers and the one summary every figure is told by.

An array of draws has shape ``(n_draws,)``; one index is one possible world on every floor of the
calculation.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Draws = NDArray[np.float64]


def pert(rng: np.random.Generator, low: float, mode: float, high: float, n_draws: int) -> Draws:
    """Draw from the PERT distribution of a (low, most likely, high) statement.

    The scaled Beta with shape 4 (Malcolm et al. 1959, Operations Research 7:646-669). ``low == high``
    gives a constant. Raises ValueError unless ``low <= mode <= high``.

    >>> rng = np.random.default_rng(1)
    >>> round(float(pert(rng, 0.0, 1.0, 4.0, 100_000).mean()), 1)   # (0 + 4*1 + 4) / 6
    1.3
    """
    if not low <= mode <= high:
        raise ValueError(f"PERT needs low <= mode <= high, got {low}, {mode}, {high}: put them in order.")
    if low == high:
        return np.full(n_draws, float(low))
    width = high - low
    a = 1.0 + 4.0 * (mode - low) / width
    b = 1.0 + 4.0 * (high - mode) / width
    return low + width * rng.beta(a, b, n_draws)


def lognormal_factor(rng: np.random.Generator, cv: float, n_draws: int) -> Draws:
    """Draw a multiplicative error with mean 1 and coefficient of variation ``cv`` (0 or more).

    >>> rng = np.random.default_rng(1)
    >>> round(float(lognormal_factor(rng, 0.3, 200_000).mean()), 2)
    1.0
    """
    if cv < 0:
        raise ValueError(f"A coefficient of variation cannot be negative, got {cv}.")
    sigma2 = np.log1p(cv * cv)
    return np.exp(rng.normal(-sigma2 / 2.0, np.sqrt(sigma2), n_draws))


@dataclass(frozen=True, slots=True)
class Summary:
    """What is told of a quantity: its median and central 90 % interval, in its own unit."""

    median: float
    low: float
    high: float


def summarise(draws: Draws) -> Summary:
    """Median and central 90 % interval of draws (NaN draws are left out; all NaN is an error).

    >>> summarise(np.arange(101.0))
    Summary(median=50.0, low=5.0, high=95.0)
    """
    kept = draws[~np.isnan(draws)]
    if kept.size == 0:
        raise ValueError("No known draw to summarise: all are NaN.")
    low, median, high = np.quantile(kept, [0.05, 0.5, 0.95])
    return Summary(float(median), float(low), float(high))


def summarise_weighted(draws: Draws, weights: Draws) -> Summary:
    """Median and central 90 % interval of draws that count by their weights (0 or more, not all 0).

    Quantiles of the weighted empirical distribution, linear between draws. Equal weights give nearly what
    ``summarise`` gives.

    >>> summarise_weighted(np.array([1.0, 2.0, 3.0]), np.array([0.0, 1.0, 0.0])).median
    2.0
    """
    total = float(weights.sum())
    if total <= 0 or bool((weights < 0).any()):
        raise ValueError(f"Weights must be 0 or more and not all 0, their sum is {total}.")
    order = np.argsort(draws, kind="stable")
    reached = (np.cumsum(weights[order]) - 0.5 * weights[order]) / total
    low, median, high = np.interp([0.05, 0.5, 0.95], reached, draws[order])
    return Summary(float(median), float(low), float(high))


@dataclass(frozen=True, slots=True)
class Against:
    """Probabilities of lying below, inside and above a wanted range; they add to one."""

    below: float
    inside: float
    above: float


def against(draws: Draws, low: float | None, high: float | None) -> Against:
    """Compare draws with a wanted range; a None end is open.

    >>> against(np.array([1.0, 2.0, 3.0, 4.0]), 2.0, 3.0)
    Against(below=0.25, inside=0.5, above=0.25)
    """
    kept = draws[~np.isnan(draws)]
    below = float(np.mean(kept < low)) if low is not None else 0.0
    above = float(np.mean(kept > high)) if high is not None else 0.0
    return Against(below, 1.0 - below - above, above)
