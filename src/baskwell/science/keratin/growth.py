"""Regrowth between trims: a conjugate Bayesian straight line, and when to look again.

Length = level after the last trim + rate x time + error. The rate has a normal prior, the error variance an
inverse gamma prior (normal-inverse-gamma, Gelman et al. 2013, Bayesian Data Analysis, ch. 14, from memory);
each trim starts a new level with a flat prior.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.draws import Draws, Summary
from baskwell.science.keratin.choices import choice, part_kind

MONTH_DAYS = 30.4375


@dataclass(frozen=True)
class Measured:
    """One length on one day, mm."""

    at: dt.date
    length_mm: float


@dataclass(frozen=True)
class GrowthPrior:
    """Prior of the rate (mean, SD, mm a month) and of the error variance (inverse gamma shape, scale mm2).

    Valid where shape > 1: then the mean variance is ``scale / (shape - 1)``.
    """

    rate_mean: float
    rate_sd: float
    shape: float
    scale: float

    @property
    def rate_variance(self) -> float:
        """Variance of the rate in units of the error variance."""
        return self.rate_sd**2 / (self.scale / (self.shape - 1.0))


@dataclass(frozen=True)
class Growth:
    """What the measurements tell: Student's t with ``2 shape`` degrees of freedom.

    ``mean`` and ``spread`` are of (rate in mm a month, last level in mm at ``since``); ``spread``, the
    inverse precision, times ``scale / shape`` is the squared scale. ``repeats``: measurements beyond the
    first of their level, 0 = the rate is the prior alone.
    """

    since: dt.date
    mean: Draws
    spread: Draws
    shape: float
    scale: float
    repeats: int

    def rate(self) -> Summary:
        """Rate in mm a month: median and central 90 %."""
        from scipy.special import stdtrit

        half = float(stdtrit(2 * self.shape, 0.95)) * self._scale_of(np.array([1.0, 0.0]))
        return Summary(float(self.mean[0]), float(self.mean[0]) - half, float(self.mean[0]) + half)

    def chance_over(self, limit_mm: float, day: dt.date) -> float:
        """P(length on a day > limit); the length itself, without the error of measuring it."""
        from scipy.special import stdtr

        row = np.array([_months(self.since, day), 1.0])
        return float(stdtr(2 * self.shape, (float(row @ self.mean) - limit_mm) / self._scale_of(row)))

    def _scale_of(self, row: Draws) -> float:
        return float(np.sqrt(self.scale / self.shape * float(row @ self.spread @ row)))


def prior_of(part: str, evidence: Evidence, taxon_id: str) -> GrowthPrior:
    """The wide prior of a beak or nail: ``growth_*_prior`` of ``trims.csv``, low and high as its 90 %.

    >>> from baskwell.evidence import load_evidence
    >>> prior_of("beak_upper", load_evidence(), "testudo_graeca").rate_mean      # (0.1 + 4 * 0.5 + 1.5) / 6
    0.6
    """
    row = evidence.trims[f"growth_{part_kind(part)}_prior"]
    if row.value is None or row.low is None or row.high is None:
        raise ValueError(f"{row.item_id} has no range: write low, value and high.")
    error = choice(evidence, taxon_id, "measuring_error").value
    shape = choice(evidence, taxon_id, "error_shape").value
    mean = (row.low + 4.0 * row.value + row.high) / 6.0
    return GrowthPrior(mean, (row.high - row.low) / (2.0 * 1.645), shape, error**2 * (shape - 1.0))


def grow(measured: Sequence[Measured], trims: Sequence[dt.date], prior: GrowthPrior) -> Growth:
    """Update the prior by repeated measurements; a measurement on the day of a trim counts as after it.

    >>> days = [dt.date(2026, 1, 1), dt.date(2026, 3, 1), dt.date(2026, 5, 1)]
    >>> seen = [Measured(day, 10.0 + k) for k, day in enumerate(days)]
    >>> grow(seen, [], GrowthPrior(0.6, 0.5, 2.0, 0.25)).repeats
    2

    Raises ValueError where nothing was measured since the last trim, or a length is not over 0.
    """
    _refuse(measured, trims)
    ordered = sorted(measured, key=lambda m: m.at)
    cuts = sorted(set(trims))
    levels = np.array([sum(cut <= m.at for cut in cuts) for m in ordered])
    since = ordered[-1].at
    months = np.array([_months(since, m.at) for m in ordered])
    lengths = np.array([m.length_mm for m in ordered])
    names = np.unique(levels)
    design = np.column_stack([months, *(np.where(levels == name, 1.0, 0.0) for name in names)])
    return _update(design, lengths, prior, since)


def _update(design: Draws, lengths: Draws, prior: GrowthPrior, since: dt.date) -> Growth:
    """The conjugate update: flat levels take one degree of freedom each."""
    n, columns = design.shape
    precision = np.zeros((columns, columns))
    precision[0, 0] = 1.0 / prior.rate_variance
    start = np.zeros(columns)
    start[0] = prior.rate_mean
    after = precision + design.T @ design
    mean = np.linalg.solve(after, precision @ start + design.T @ lengths)
    rest = lengths - design @ mean
    moved = mean - start
    shape = prior.shape + (n - (columns - 1)) / 2.0
    scale = prior.scale + 0.5 * float(rest @ rest + moved @ precision @ moved)
    spread = np.linalg.inv(after)
    keep = [0, columns - 1]
    kept = spread[np.ix_(keep, keep)].astype(np.float64)
    return Growth(since, mean[keep].astype(np.float64), kept, shape, scale, n - (columns - 1))


def _refuse(measured: Sequence[Measured], trims: Sequence[dt.date]) -> None:
    wrong = [m for m in measured if not (np.isfinite(m.length_mm) and m.length_mm > 0)]
    if wrong:
        raise ValueError(f"A length is over 0 mm, got {wrong[0].length_mm} on {wrong[0].at}: measure again.")
    last = max((m.at for m in measured), default=None)
    if last is None or (trims and last < max(trims)):
        raise ValueError("Nothing was measured since the last trim: measure the length now.")


def _months(start: dt.date, day: dt.date) -> float:
    return (day - start).days / MONTH_DAYS


@dataclass(frozen=True)
class NextCheck:
    """When to look again, and why then."""

    day: dt.date
    chance_over: float
    rate: Summary
    sentence: str


def limit_of(healthy_mm: float, evidence: Evidence, taxon_id: str) -> float:
    """The length from which a nail or beak is looked at again: healthy length and ``over_limit``, mm.

    >>> from baskwell.evidence import load_evidence
    >>> limit_of(10.0, load_evidence(), "testudo_graeca")
    11.0
    """
    return healthy_mm + choice(evidence, taxon_id, "over_limit").value


def next_check(
    part: str, growth: Growth, limit_mm: float, today: dt.date, evidence: Evidence, taxon_id: str
) -> NextCheck:
    """The first day from today on which P(over the limit) reaches the chance, or an earlier fixed day.

    Without a repeated measurement the animal is looked at after the weeks of ``interval_start``, then its
    own rate is known; a year is the longest (common practice).
    """
    wanted = choice(evidence, taxon_id, "check_chance").value
    cap, why = _longest(growth, today, evidence, taxon_id)
    day = today
    while day < cap and growth.chance_over(limit_mm, day) < wanted:
        day += dt.timedelta(days=1)
    chance = growth.chance_over(limit_mm, day)
    rate = growth.rate()
    reason = f"it is then over {limit_mm:g} mm with {chance:.0%}" if day < cap or chance >= wanted else why
    told = f"{rate.median:.2g} mm a month ({rate.low:.2g} to {rate.high:.2g})"
    name = part.replace("_", " ")
    sentence = f"Look at {name} again on {day}: {reason}; growth {told}{_of_whom(growth)}."
    return NextCheck(day, chance, rate, sentence)


def _of_whom(growth: Growth) -> str:
    return "" if growth.repeats else ", judged: this animal was not measured twice yet, no rate is published"


def _longest(growth: Growth, today: dt.date, evidence: Evidence, taxon_id: str) -> tuple[dt.date, str]:
    if not growth.repeats:
        weeks = evidence.trims["interval_start"].value or 8.0
        return today + dt.timedelta(weeks=weeks), f"after {weeks:g} weeks its own growth is measured"
    days = choice(evidence, taxon_id, "beak_recheck").value
    return today + dt.timedelta(days=days), "a year is the longest (common practice)"
