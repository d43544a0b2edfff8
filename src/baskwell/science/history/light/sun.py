"""The sun as a source of UV: what an animal outdoors meets, and for how long."""

import calendar
import datetime as dt
from dataclasses import dataclass

import numpy as np

from baskwell.science.case.model import Case, Light, Surroundings
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws
from baskwell.science.history.light.lamp import LampLine, stated_fields
from baskwell.science.history.light.priors import Priors
from baskwell.science.history.light.reading import PANES, believe_reading
from baskwell.science.photoperiod import clear_sky_uvi, day_length_h, noon_zenith_deg

OPEN_PLACES = ("garden", "balcony")
"""Containers that say by their name that the animal is outdoors; a pen may stand in a shed."""
_SEASON_MONTHS = {"spring": (3, 4, 5), "summer": (6, 7, 8), "autumn": (9, 10, 11), "winter": (12, 1, 2)}


@dataclass(frozen=True)
class When:
    """Where and when: latitude in degrees north, and the months (1 to 12) that may be meant."""

    latitude_deg: float | None
    months: tuple[int, ...]
    year: int = 2025


def when_of(case: Case, around: Surroundings | None, season: str | None = None) -> When:
    """The latitude stated and the months meant: those of ``season``, else those of the examination.

    All twelve where neither is known. Seasons are those of the hemisphere of the latitude.
    """
    latitude = _latitude(around, case.history.surroundings)
    exam = case.exam
    if season is None and exam.date is not None:
        return When(latitude, (exam.date.month,), exam.date.year)
    if season is None and exam.month is not None:
        return When(latitude, (exam.month,))
    months = _SEASON_MONTHS.get(season or exam.season or "", tuple(range(1, 13)))
    if latitude is not None and latitude < 0 and len(months) < 12:
        months = tuple((month + 5) % 12 + 1 for month in months)
    return When(latitude, months)


def is_outdoors(around: Surroundings | None) -> bool | str | None:
    """True, False, "part", or None where it is not known."""
    if around is None:
        return None
    if around.outdoor is None and around.container in OPEN_PLACES:
        return True
    return around.outdoor


def day_lengths(when: When) -> Span | None:
    """Shortest and longest day of the months meant (at mid-month), in hours; None without a latitude."""
    if when.latitude_deg is None:
        return None
    hours = [day_length_h(when.latitude_deg, dt.date(when.year, month, 15)) for month in when.months]
    return Span(min(hours), max(hours))


def listed_sun(priors: Priors, place: int, light: Light, when: When, hours: Span | None) -> LampLine:
    """The sun as an entry of the lights; ``hours`` where the entry does not give them."""
    name = f"light {place}"
    spent = priors.stated(name, light.hours_per_day or hours, "sun_hours", "part")
    return _line(priors, name, place, light, when, spent)


def sun_outdoors(priors: Priors, name: str, outdoors: bool | str, when: When) -> LampLine:
    """The sun over an animal kept outdoors (True) or out for part of the day ("part")."""
    whole = outdoors is True
    hours = priors.stated(
        name, day_lengths(when) if whole else None, "sun_hours", "outdoor" if whole else "part"
    )
    return _line(priors, name, 0, Light(kind="sun"), when, hours)


def _latitude(*places: Surroundings | None) -> float | None:
    spans = [place.latitude_deg for place in places if place is not None and place.latitude_deg is not None]
    return spans[0].middle if spans else None


def _uv(priors: Priors, name: str, when: When) -> Draws:
    """UV index where and when it basks: noon in a clear sky, less cloud and the hour of day."""
    if when.latitude_deg is None:
        sun = priors.evidence.lamps["sun"]
        return priors.between(f"{name} sun", sun.uvi_low, sun.uvi_mode, sun.uvi_high)
    mid_month = [_day_of_year(when.year, month) for month in when.months]
    days = priors.stream(f"{name} month").choice(mid_month, priors.n_draws)
    noon = clear_sky_uvi(noon_zenith_deg(when.latitude_deg, days), priors.draw(name, "ozone_du"))
    return noon * priors.draw(name, "noon_share") / priors.draw(name, "cloud_divisor")


def _day_of_year(year: int, month: int) -> int:
    return sum(calendar.monthrange(year, before)[1] for before in range(1, month)) + 15


def _line(priors: Priors, name: str, place: int, light: Light, when: When, hours: Draws) -> LampLine:
    passed = priors.draw(name, "transmission", light.barrier or "none")
    useful = _uv(priors, name, when) * passed
    if light.uv_index_measured is not None and light.barrier not in PANES:
        useful, _ = believe_reading(priors, name, useful, useful, light.uv_index_measured)
    one = priors.same(1.0)
    return LampLine(
        place=place,
        kind="sun",
        name=priors.evidence.lamps["sun"].name,
        gives_uvb=bool(np.any(useful > 0)),
        stated=stated_fields(light) | ({"latitude_deg"} if when.latitude_deg is not None else frozenset()),
        barrier=light.barrier,
        uv_index=useful,
        uv_index_new=useful,
        nearest=useful,
        hours_per_day=hours,
        left=one,
        passed=passed,
        reach=one,
    )
