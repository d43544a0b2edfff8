"""What a logged series says: hours outside a range, degree-hours, nights and days, with their spread."""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial

import numpy as np
from numpy.typing import NDArray

from baskwell.science.draws import Draws
from baskwell.science.history.climate_log.series import SECONDS_PER_DAY, SECONDS_PER_HOUR, ClimateSeries

Mask = NDArray[np.bool_]
Whole = NDArray[np.int64]

_MOST_BLOCKS = 120
_OFFSETS = 17
_LONGEST_STEP = 1.5
_LEAST_NIGHT_H = 4.0


@dataclass(frozen=True)
class Limits:
    """The range by day and by night in C; an open side is infinite."""

    day_low: float
    day_high: float
    night_low: float
    night_high: float


@dataclass(frozen=True)
class Weighed:
    """The known temperatures of a series, each with the hours it stands for.

    A reading stands for half the time to each neighbour, at most 1.5 usual steps, so that gaps stand
    for nothing. ``day`` numbers calendar days from 0, ``night`` the nights from noon to noon.
    """

    celsius: Draws = field(repr=False)
    hours: Draws = field(repr=False)
    is_day: Mask = field(repr=False)
    day: Whole = field(repr=False)
    night: Whole = field(repr=False)
    day_hours: float


def weigh(series: ClimateSeries, day_starts_h: float, day_ends_h: float) -> Weighed:
    """Give every known reading its hours, and part them into day and night by the clock."""
    known = ~np.isnan(series.temperature_c)
    times, celsius = series.times_s[known], series.temperature_c[known]
    hour = times % SECONDS_PER_DAY / SECONDS_PER_HOUR
    is_day = (hour >= day_starts_h) & (hour < day_ends_h)
    day = times // SECONDS_PER_DAY
    night = (times - SECONDS_PER_DAY // 2) // SECONDS_PER_DAY
    return Weighed(
        celsius, _hours(times), is_day, day - day.min(), night - night.min(), day_ends_h - day_starts_h
    )


def _hours(times: Whole) -> Draws:
    if times.size < 2:
        return np.ones(times.size)
    pauses = np.diff(times).astype(np.float64)
    step = float(np.median(pauses))
    pauses = np.minimum(pauses, _LONGEST_STEP * step) / SECONDS_PER_HOUR
    ends = step / SECONDS_PER_HOUR
    return np.asarray((np.r_[ends, pauses] + np.r_[pauses, ends]) / 2.0)


def covers_day_and_night(weighed: Weighed) -> bool:
    """Whether readings stand for at least four hours of day and four of night."""
    by_day = float(weighed.hours[weighed.is_day].sum())
    return min(by_day, float(weighed.hours.sum()) - by_day) >= _LEAST_NIGHT_H


def hours_and_degree_hours(
    weighed: Weighed, limits: Limits, offset_k: Draws, rng: np.random.Generator
) -> tuple[Draws, Draws]:
    """Hours outside the range and degree-hours below it, per day, in each possible world.

    ``offset_k`` is the error of the logger in each world, added to every reading. Days are weighed
    anew in each world (the Bayesian bootstrap: Rubin 1981, Annals of Statistics 9:130-134), so a log of
    few unlike days gives a wide answer. Day and night count their hours of the clock, each by its own
    mean: a gap at night does not make the nights lighter. Both results have the shape of ``offset_k``.
    """
    last = int(weighed.day.max()) + 1
    blocks = weighed.day * min(_MOST_BLOCKS, last) // last
    shares = rng.standard_exponential((offset_k.size, int(blocks.max()) + 1))
    outside, below = np.zeros(offset_k.size), np.zeros(offset_k.size)
    by_time = (
        (weighed.is_day, weighed.day_hours, limits.day_low, limits.day_high),
        (~weighed.is_day, 24.0 - weighed.day_hours, limits.night_low, limits.night_high),
    )
    for part, lasts_h, low, high in by_time:
        half = _Half(weighed.celsius[part], weighed.hours[part], blocks[part], shares, offset_k)
        outside += lasts_h * half.mean(partial(_is_outside, low=low, high=high))
        below += lasts_h * half.mean(partial(_degrees_below, low=low))
    return outside, below


def _is_outside(celsius: Draws, low: float, high: float) -> Draws:
    return ((celsius < low) | (celsius > high)).astype(np.float64)


def _degrees_below(celsius: Draws, low: float) -> Draws:
    return np.maximum(0.0, low - celsius)


@dataclass(frozen=True)
class _Half:
    """The readings of the days or of the nights, with the block of days each belongs to."""

    celsius: Draws
    hours: Draws
    blocks: Whole
    shares: Draws
    offset_k: Draws

    def mean(self, measure: Callable[[Draws], Draws]) -> Draws:
        """Mean of a measure over time in each world: on a grid of offsets, then straight between them."""
        n_blocks = self.shares.shape[1]
        grid = np.linspace(float(self.offset_k.min()), float(self.offset_k.max()), _OFFSETS)
        held = self.shares @ np.bincount(self.blocks, self.hours, n_blocks)
        table = [np.bincount(self.blocks, self.hours * measure(self.celsius + k), n_blocks) for k in grid]
        means = self.shares @ np.stack(table, axis=1) / held[:, None]
        place = (self.offset_k - grid[0]) / max(grid[1] - grid[0], np.finfo(float).tiny)
        left = np.minimum(place.astype(np.int64), _OFFSETS - 2)
        rows, share = np.arange(place.size), place - left
        return np.asarray(means[rows, left] * (1.0 - share) + means[rows, left + 1] * share)


def night_minima(weighed: Weighed) -> Draws:
    """The lowest reading of every night of which half is covered, in C."""
    return _per_span(weighed, ~weighed.is_day, weighed.night, 24.0 - weighed.day_hours, np.minimum)


def day_maxima(weighed: Weighed) -> Draws:
    """The highest reading of every day of which half is covered, in C."""
    return _per_span(weighed, weighed.is_day, weighed.day, weighed.day_hours, np.maximum)


def day_means(weighed: Weighed) -> Draws:
    """The mean of every day (its day hours) of which half is covered, in C."""
    hours, days = weighed.hours[weighed.is_day], weighed.day[weighed.is_day]
    held = np.bincount(days, hours)
    total = np.bincount(days, hours * weighed.celsius[weighed.is_day])
    enough = held >= weighed.day_hours / 2
    return np.asarray(total[enough] / held[enough])


def _per_span(weighed: Weighed, part: Mask, numbers: Whole, lasts_h: float, pick: np.ufunc) -> Draws:
    numbers, celsius, hours = numbers[part], weighed.celsius[part], weighed.hours[part]
    if not numbers.size:
        return np.empty(0)
    starts = np.flatnonzero(np.r_[True, np.diff(numbers) > 0])
    enough = np.add.reduceat(hours, starts) >= lasts_h / 2
    return np.asarray(pick.reduceat(celsius, starts)[enough])


def of_a_typical_day(values: Draws, offset: Draws, rng: np.random.Generator) -> Draws | None:
    """A value of one day taken at random in each world, with the logger's error; None without a day."""
    return None if not values.size else np.asarray(rng.choice(values, offset.size) + offset)
