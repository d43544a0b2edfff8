"""From a logger's series to what each zone had, and the findings on hours and degree-hours."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from baskwell.science.draws import Draws
from baskwell.science.history.climate_log import ClimateLog, ClimateSeries
from baskwell.science.history.finding import Finding, Wanted
from baskwell.science.history.surroundings.log_measures import (
    Limits,
    Weighed,
    covers_day_and_night,
    day_maxima,
    day_means,
    hours_and_degree_hours,
    night_minima,
    of_a_typical_day,
    weigh,
)
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.temperature import wanted_zone
from baskwell.science.history.surroundings.wants import Want
from baskwell.science.history.surroundings.wording import Quantity, measured

_STREAM = "log"
_FIRST = ("", "warm_side", "cool_side", "basking_surface")
_NAMES = {
    "": "at the logger",
    "warm_side": "on the warm side",
    "cool_side": "on the cool side",
    "basking_surface": "at the basking place",
}
_LEAST_DAYS = 1.0


@dataclass(frozen=True)
class Logged:
    """What a log says: ``zones`` by finding id (C, or % for humidity), its findings, and what it lacks."""

    zones: Mapping[str, Draws] = field(default_factory=dict, repr=False)
    findings: tuple[Finding, ...] = ()
    gaps: tuple[str, ...] = ()


def read_log(scene: Scene, log: ClimateLog | None) -> Logged:
    """Turn a log into draws for each zone it names, the nights, the humidity, and its own findings.

    A probe whose place is not named tells the nights, the humidity and the hours outside the whole
    gradient, but no zone. One error is drawn for each probe and holds for all its readings.
    """
    if log is None:
        return Logged()
    zones: dict[str, list[Draws]] = {}
    findings: list[Finding] = []
    gaps = [f"{log.name}: {note}" for note in log.notes]
    series = sorted(log.series, key=lambda one: _FIRST.index(one.zone))
    for number, one in enumerate(series):
        found, said, lacks = _read_series(scene, one, first=number == 0)
        findings += found
        gaps += [f"{log.name}: {lack}" for lack in lacks]
        for zone, draws in said.items():
            zones.setdefault(zone, []).append(draws)
    coldest = {zone: np.min(draws, axis=0) for zone, draws in zones.items()}
    return Logged(coldest, tuple(findings), tuple(gaps))


def _read_series(
    scene: Scene, series: ClimateSeries, first: bool
) -> tuple[list[Finding], dict[str, Draws], list[str]]:
    rng = scene.streams[_STREAM]
    offset = rng.standard_normal(scene.n_draws) * scene.tables.instrument("thermometer_logger").model_sd
    start, end = scene.tables.prior("day_starts_h").mode, scene.tables.prior("day_ends_h").mode
    if not np.any(~np.isnan(series.temperature_c)):
        return [], {}, [f"{_where(series)} has no reading."]
    weighed = weigh(series, start, end)
    zones = _zones(scene, series, weighed, offset)
    lacks = _lacks(series)
    if series.days < _LEAST_DAYS or not covers_day_and_night(weighed):
        lacks.append(f"{_where(series)} does not cover a day and a night, so no hours a day can be told.")
        return [], zones, lacks
    findings = _hours_findings(scene, series, weighed, offset, first)
    if not findings:
        lacks.append("No table gives a range by day and by night, so no hours outside can be told.")
    return findings, zones, lacks


def _where(series: ClimateSeries) -> str:
    return f"the probe {series.label!r}" if series.label else "the logger"


def _lacks(series: ClimateSeries) -> list[str]:
    lacks = []
    if not series.zone:
        lacks.append(f"{_where(series)} has no place: name its column 'warm side', 'cool side' or 'basking'.")
    if series.coverage < 0.9:
        lacks.append(f"{_where(series)} covers {series.coverage:.0%} of the time; gaps count for nothing.")
    return lacks


def _zones(scene: Scene, series: ClimateSeries, weighed: Weighed, offset: Draws) -> dict[str, Draws]:
    rng = scene.streams[_STREAM]
    found = {"night_c": of_a_typical_day(night_minima(weighed), offset, rng)}
    if series.zone:
        days = day_maxima(weighed) if series.zone == "basking_surface" else day_means(weighed)
        found[f"{series.zone}_c"] = of_a_typical_day(days, offset, rng)
    found["relative_humidity_pct"] = _humidity(scene, series)
    return {zone: draws for zone, draws in found.items() if draws is not None}


def _humidity(scene: Scene, series: ClimateSeries) -> Draws | None:
    """The mean humidity of a day (its day hours) taken at random, with the logger's error, in %."""
    rng = scene.streams[_STREAM]
    known = ~np.isnan(series.relative_humidity_pct)
    if not known.any():
        return None
    wet = ClimateSeries(
        series.zone, series.label, series.times_s, series.relative_humidity_pct, series.temperature_c
    )
    start, end = scene.tables.prior("day_starts_h").mode, scene.tables.prior("day_ends_h").mode
    error = rng.standard_normal(scene.n_draws) * scene.tables.instrument("hygrometer_logger").model_sd
    draws = of_a_typical_day(day_means(weigh(wet, start, end)), error, rng)
    return None if draws is None else np.clip(draws, 0.0, 100.0)


def _hours_findings(
    scene: Scene, series: ClimateSeries, weighed: Weighed, offset: Draws, first: bool
) -> list[Finding]:
    limits = _limits(scene, series.zone)
    if limits is None:
        return []
    outside, below = hours_and_degree_hours(weighed, limits, offset, scene.streams[_STREAM])
    days = f"over {series.days:.0f} days of the logger"
    ids = "" if first else f"_{series.zone or 'other'}"
    where, ask = _NAMES[series.zone], "Where did the logger lie?"
    hours = Quantity(f"hours_outside_range{ids}", "heat", f"time outside the range {where}", "h a day", ask)
    degree = Quantity(f"degree_hours_below{ids}", "heat", f"cold below the range {where}", "K h a day", ask)
    told = f"{days} (day {limits.day_low:g} to {limits.day_high:g} °C, night from {limits.night_low:g} °C)"
    return [
        measured(scene, hours, outside, _tolerated(scene, "hours_outside_tolerated"), told),
        measured(scene, degree, below, _tolerated(scene, "degree_hours_tolerated"), days),
    ]


def _tolerated(scene: Scene, prior_id: str) -> Want:
    row = scene.tables.prior(prior_id)
    return Want(None, row.high, Wanted(None, row.high, "judgement", row.evidence_grade, (prior_id,)))


def _limits(scene: Scene, zone: str) -> Limits | None:
    """The range a probe is held against: that of its zone, else the whole gradient; nights by the night.

    A night may be as warm as the day: only cold nights count as outside.
    """
    night = wanted_zone(scene, "night_c")
    low = wanted_zone(scene, f"{zone or 'cool_side'}_c")
    high = wanted_zone(scene, f"{zone or 'basking_surface'}_c")
    if night is None or low is None or high is None or night.wanted.low is None or low.wanted.low is None:
        return None
    top = high.wanted.high if high.wanted.high is not None else np.inf
    return Limits(low.wanted.low, top, night.wanted.low, max(top, night.wanted.high or top))
