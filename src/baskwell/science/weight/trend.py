"""Where mass stands, where it goes, and how likely it fell by more than so much."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from baskwell.science.draws import Summary
from baskwell.science.weight.assumptions import Assumptions
from baskwell.science.weight.filter import Track, follow
from baskwell.science.weight.weighings import Z90, Weighing

DAY_S = 86_400.0
LARGEST = 700.0


@dataclass(frozen=True)
class MassTrend:
    """Mass over time of one animal. Summaries are medians with central 90 % intervals.

    ``level_g`` in g at ``now``; ``pct_per_week`` gain (+) or loss (-) in % a week; ``counts`` the share of a
    good weighing that each one counts for.
    """

    now: dt.datetime
    weighings: tuple[Weighing, ...]
    counts: tuple[float, ...]
    level_g: Summary
    pct_per_week: Summary
    track: Track = field(repr=False, compare=False)

    @property
    def last(self) -> Weighing:
        """The last weighing."""
        return self.weighings[-1]

    def day(self, at: dt.datetime) -> float:
        """Days from the first weighing."""
        return (at - self.weighings[0].at).total_seconds() / DAY_S

    def forecast(self, days: float) -> Summary:
        """Mass in g that many days after ``now`` if nothing changes what moves it."""
        mean, covariance = self.track.joint(self.day(self.now) + days)
        return _exp(mean[0], covariance[0, 0])

    def loss(self, start: dt.datetime, end: dt.datetime) -> Summary:
        """Loss between two times in % of the mass at the first; below zero is gain."""
        mean, variance = self._fall(start, end)
        spread = Z90 * math.sqrt(variance)
        return Summary(_lost(mean), _lost(mean - spread), _lost(mean + spread))

    def chance_of_loss(self, pct: float, start: dt.datetime, end: dt.datetime) -> float:
        """Probability that more than ``pct`` % (0 to under 100) was lost between two times."""
        from scipy.special import ndtr

        mean, variance = self._fall(start, end)
        limit = -math.log1p(-pct / 100)
        return float(ndtr((mean - limit) / math.sqrt(variance))) if variance > 0 else float(mean > limit)

    def _fall(self, start: dt.datetime, end: dt.datetime) -> tuple[float, float]:
        """Mean and variance of the fall of the logarithm of mass."""
        if end <= start:
            return 0.0, 0.0
        mean, covariance = self.track.joint(self.day(start), self.day(end))
        fall = covariance[0, 0] + covariance[2, 2] - 2 * covariance[0, 2]
        return float(mean[0] - mean[2]), max(float(fall), 0.0)


def mass_trend(weighings: Sequence[Weighing], assumed: Assumptions, now: dt.datetime) -> MassTrend | None:
    """The trend of weighings, the first of which sets day 0; None where there is none.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.weight.assumptions import assume
    >>> start = dt.datetime(2026, 3, 1, 9)
    >>> told = [Weighing(start + dt.timedelta(days=7 * k), 400 * 0.98**k, 0.0) for k in range(5)]
    >>> trend = mass_trend(told, assume(load_evidence(), "terrapene_carolina"), told[-1].at)
    >>> round(trend.pct_per_week.median)
    -2
    """
    if not weighings:
        return None
    ordered = tuple(sorted(weighings, key=lambda one: one.at))
    days = np.array([(one.at - ordered[0].at).total_seconds() / DAY_S for one in ordered])
    log_mass = np.log([one.grams for one in ordered])
    sd = np.hypot(assumed.reading_sd, [one.spread for one in ordered])
    track = follow(days, log_mass, sd, assumed.model)
    mean, covariance = track.joint((now - ordered[0].at).total_seconds() / DAY_S)
    return MassTrend(
        now=now,
        weighings=ordered,
        counts=tuple(track.weight.tolist()),
        level_g=_exp(mean[0], covariance[0, 0]),
        pct_per_week=_weekly(mean[1], covariance[1, 1]),
        track=track,
    )


def _exp(mean: float, variance: float) -> Summary:
    spread = Z90 * math.sqrt(variance)
    return Summary(*(math.exp(_held(value)) for value in (mean, mean - spread, mean + spread)))


def _held(exponent: float) -> float:
    """Years after the last weighing mass may be anything: held to what a number can be."""
    return min(max(exponent, -LARGEST), LARGEST)


def _weekly(mean: float, variance: float) -> Summary:
    spread = Z90 * math.sqrt(variance)
    return Summary(*(100 * math.expm1(_held(7 * slope)) for slope in (mean, mean - spread, mean + spread)))


def _lost(fall: float) -> float:
    return -100 * math.expm1(_held(-fall))
