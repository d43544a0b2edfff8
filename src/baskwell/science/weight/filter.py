"""Mass as a level with a trend, seen through weighings at any times of which some may be slips.

State: logarithm of mass and its slope a day. Between two times the slope wanders as a random walk and
the level follows it and wanders itself (local linear trend in continuous time; Durbin and Koopman 2012,
Time Series Analysis by State Space Methods, ch. 3). A weighing is the level with a Student-t error, so
that one slip of the scale counts little; the mode is found by reweighting (Lange, Little and Taylor
1989, JASA 84:881-896), each step being what the Kalman smoother gives, solved here as one banded system.
On logarithms no percentage depends on the unit of mass.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from baskwell.science.draws import Draws

MOMENT = 3  # decimals of a day: weighings within about a minute and a half are of one moment
MOST_STEPS, SETTLED = 60, 1e-3


@dataclass(frozen=True, slots=True)
class TrendModel:
    """What is assumed; all in shares of mass (logarithm) and days.

    ``level_wander`` and ``slope_wander`` a square root of a day; ``slope_prior`` and ``level_prior``
    standard deviations before any weighing; ``tails`` degrees of freedom, infinite for a normal error.
    """

    level_wander: float
    slope_wander: float
    slope_prior: float
    level_prior: float
    tails: float


@dataclass(frozen=True)
class Track:
    """Weighings with what each counts for: arrays of shape ``(n,)``, days in order of time.

    ``weight`` is the share of a good weighing that each counts for, up to just over 1.
    """

    days: Draws
    log_mass: Draws
    sd: Draws
    weight: Draws
    model: TrendModel

    def joint(self, *days: float) -> tuple[Draws, Draws]:
        """Mean and covariance of ``(level, slope)`` at each of k days, shapes ``(2k,)`` and ``(2k, 2k)``."""
        wanted = np.round(np.asarray(days, dtype=float), MOMENT)
        system = _System.of(np.concatenate([self.days, wanted]), self.model)
        mean, _ = system.solved(self, 1.0)
        _, factor = system.solved(self, information(self.model.tails))
        places = 2 * np.searchsorted(system.grid, wanted)
        index = np.column_stack([places, places + 1]).ravel()
        covariance = _columns(factor, index, mean.size)
        centred = mean[index]
        centred[::2] += self.centre
        return centred, covariance

    @cached_property
    def centre(self) -> float:
        """Where the level is expected before any weighing: the middle of the weighings."""
        return float(np.median(self.log_mass))


@dataclass(frozen=True)
class _System:
    """The banded precision of the states on a grid of days, before any weighing."""

    grid: Draws
    band: Draws

    @classmethod
    def of(cls, days: Draws, model: TrendModel) -> "_System":
        grid = np.unique(days)
        return cls(grid, prior_precision(grid, model))

    def solved(self, track: Track, share: float) -> tuple[Draws, Draws]:
        """States given the weighings at a share of their weight, about the centre; banded Cholesky factor."""
        from scipy.linalg import cho_solve_banded, cholesky_banded

        place = 2 * np.searchsorted(self.grid, track.days)
        counts = share * track.weight / track.sd**2
        size = 2 * self.grid.size
        band = self.band.copy()
        band[0] += np.bincount(place, counts, size)
        pull = np.bincount(place, counts * (track.log_mass - track.centre), size)
        factor = cholesky_banded(band, lower=True, overwrite_ab=True, check_finite=False)
        return cho_solve_banded((factor, True), pull, check_finite=False), factor


def _columns(factor: Draws, index: NDArray[np.intp], size: int) -> Draws:
    from scipy.linalg import cho_solve_banded

    unit = np.zeros((size, index.size))
    unit[index, np.arange(index.size)] = 1.0
    return np.asarray(cho_solve_banded((factor, True), unit, check_finite=False)[index])


def information(tails: float) -> float:
    """What a weighing with heavy tails tells of the level, as a share of its mean weight.

    Fisher information of the Student-t location, (t + 1) / (t + 3): the weights that find the mode
    average 1 and would make intervals too narrow.

    >>> information(4.0), information(np.inf)
    (0.7142857142857143, 1.0)
    """
    return 1.0 if np.isinf(tails) else (tails + 1) / (tails + 3)


def prior_precision(grid: Draws, model: TrendModel) -> Draws:
    """The inverse covariance of the states on a grid of rising days, lower band form ``(4, 2 m)``.

    >>> model = TrendModel(0.1, 0.1, 0.5, 2.0, 4.0)
    >>> prior_precision(np.array([0.0]), model)[0].tolist()   # 1 / 2**2 and 1 / 0.5**2
    [0.25, 4.0]
    """
    step = np.diff(grid)
    slope2, level2 = model.slope_wander**2, model.level_wander**2
    det = level2 * slope2 * step**2 + slope2**2 * step**4 / 12
    i11 = slope2 * step / det
    i12 = -slope2 * step**2 / 2 / det
    i22 = (level2 * step + slope2 * step**3 / 3) / det
    band = np.zeros((4, 2 * grid.size))
    band[0, :2] = model.level_prior**-2, model.slope_prior**-2
    band[0, 2::2] += i11
    band[0, 3::2] += i22
    band[1, 2::2] += i12
    band[0, :-2:2] += i11
    band[0, 1:-2:2] += i11 * step**2 + 2 * i12 * step + i22
    band[1, :-2:2] += i11 * step + i12
    band[1, 1:-2:2] -= i11 * step + i12
    band[2, :-2:2] = -i11
    band[2, 1:-2:2] = -(i12 * step + i22)
    band[3, :-2:2] = -i12
    return band


def follow(days: Draws, log_mass: Draws, sd: Draws, model: TrendModel) -> Track:
    """Weighings (any order, at least one) as a track, slips weighted down.

    Raises ValueError for none, or for a standard deviation that is not above zero.

    >>> model = TrendModel(0.002, 0.0007, 0.007, 2.3, 4.0)
    >>> days = np.arange(8.0)
    >>> mass = np.log(np.array([400.0, 401, 399, 400, 40, 400, 402, 401]))   # one decimal point slipped
    >>> track = follow(days, mass, np.full(8, 0.02), model)
    >>> mean, _ = track.joint(7.0)
    >>> round(float(np.exp(mean[0]))), bool(track.weight[4] < 0.01)
    (401, True)
    """
    if days.size == 0 or not bool((sd > 0).all()):
        raise ValueError(f"{days.size} weighings with errors {sd}: give at least one, and errors above zero.")
    order = np.argsort(days, kind="stable")
    track = Track(np.round(days[order], MOMENT), log_mass[order], sd[order], np.ones(days.size), model)
    if np.isinf(model.tails):
        return track
    system = _System.of(track.days, model)
    for _ in range(MOST_STEPS):
        track, moved = _reweighted(track, system)
        if moved < SETTLED:
            break
    return track


def _reweighted(track: Track, system: _System) -> tuple[Track, float]:
    states, _ = system.solved(track, 1.0)
    level = states[2 * np.searchsorted(system.grid, track.days)] + track.centre
    off2 = ((track.log_mass - level) / track.sd) ** 2
    weight = (track.model.tails + 1) / (track.model.tails + off2)
    moved = float(np.abs(weight - track.weight).max())
    return Track(track.days, track.log_mass, track.sd, weight, track.model), moved
