"""What a UV index meter's reading does to what was believed of a lamp."""

import numpy as np

from baskwell.science.case.span import Span
from baskwell.science.draws import Draws
from baskwell.science.history.light.priors import Priors

PANES = ("glass", "acrylic")
"""Barriers behind which useful UVB is nil whatever a meter shows."""


def believe_reading(
    priors: Priors, name: str, expected: Draws, when_new: Draws, reading: Span
) -> tuple[Draws, Draws]:
    """Draws of the UV index now, and of that of the same lamp when new, after a reading.

    On the logarithmic scale the prior and the meter's error are taken as normal; each draw moves toward
    the reading by the weight of the variances (the perturbed-observation update of Burgers, van Leeuwen &
    Evensen 1998, Monthly Weather Review 126:1719, exact for normal variables), so one index stays one
    possible world; ``when_new`` moves by its covariance. Worlds that the reading rules out (no UVB at all)
    are replaced by others. A reading of nil leaves what lies below one step of the meter. Where the
    lamp's kind should give nothing, only the reading speaks.
    """
    observed = _observed(priors, name, reading)
    if float(observed.max()) <= 0.0:
        nil = priors.draw(name, "meter_zero_uvi")
        return nil, np.maximum(nil, when_new)
    error = float(np.sqrt(np.log1p(priors.one("meter_cv") ** 2)))
    heard = np.log(np.maximum(observed, _least(priors)))
    heard = heard + priors.stream(f"{name} meter error").normal(0.0, error, priors.n_draws)
    possible = np.flatnonzero(expected > 0)
    if possible.size == 0:
        return np.exp(heard), np.exp(heard)
    others = priors.stream(f"{name} refill").choice(possible, priors.n_draws)
    kept = np.where(expected > 0, np.arange(priors.n_draws), others)
    now, new = np.log(expected[kept]), np.log(when_new[kept])
    missed = (heard - now) / (now.var() + error**2)
    after = np.exp(now + now.var() * missed)
    return after, np.maximum(after, np.exp(new + float(np.mean((now - now.mean()) * new)) * missed))


def surprise(priors: Priors, expected: Draws, reading: Span) -> float:
    """How many standard deviations a reading lies from what the lamp was expected to give.

    0 for a nil reading or an expectation of nil: those are told in other words.
    """
    some = expected[expected > 0]
    if reading.middle <= 0 or some.size < 2:
        return 0.0
    believed = np.log(some)
    spread = np.sqrt(believed.var() + np.log1p(priors.one("meter_cv") ** 2))
    return float(abs(np.log(reading.middle) - believed.mean()) / spread)


def pane_after_reading(priors: Priors, name: str, pane: Draws, shown: Draws, reading: Span) -> Draws:
    """Which draws still have a pane in the way after a reading, 1 or 0.

    ``pane`` marks them before, ``shown`` is what a meter would show in each draw. By Bayes: the share of
    panes times how well the reading fits behind one, against the same without.
    """
    if reading.middle <= 0 or not 0 < pane.mean() < 1:
        return pane
    error = np.log1p(priors.one("meter_cv") ** 2)
    miss = np.log(reading.middle) - np.log(np.maximum(shown, _least(priors)))
    fit = np.exp(-0.5 * (miss**2 - float(np.min(miss**2))) / error)
    share = float((fit * pane).sum() / fit.sum())
    return (priors.stream(f"{name} pane").random(priors.n_draws) < share).astype(np.float64)


def _observed(priors: Priors, name: str, reading: Span) -> Draws:
    low = reading.low if reading.low is not None else 0.0
    high = reading.high if reading.high is not None else 2.0 * low
    return priors.stream(f"{name} reading").uniform(low, high, priors.n_draws)


def _least(priors: Priors) -> float:
    return priors.row("meter_zero_uvi").high / 2.0
