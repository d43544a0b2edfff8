"""Sun by place and date against published tables and an independent solar position algorithm."""

import datetime as dt
import math
from importlib import import_module

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.photoperiod import clear_sky_uvi, day_length_h, declination_rad, noon_zenith_deg

DATES = st.dates(dt.date(1990, 1, 1), dt.date(2040, 12, 31))


@pytest.mark.parametrize(
    ("latitude", "date", "expected", "tolerance"),
    [
        (39.742476, dt.date(2015, 1, 2), 9.43, 0.02),  # checks.csv C24, SPA08
        (39.742476, dt.date(2015, 8, 2), 14.2253, 0.02),  # C25, SPA08
        (39.742476, dt.date(2015, 1, 2), 9 + 26 / 60, 2 / 60),  # C26, USNO 07:22 to 16:48, a minute each
        (-35.0, dt.date(1996, 7, 5), 9.8803, 0.02),  # C27, SPA08
        (-35.0, dt.date(2004, 12, 4), 14.385, 0.02),  # C28, SPA08
        (40.0, dt.date(2025, 6, 21), 15.017, 0.02),  # C31, pvlib
        (40.0, dt.date(2025, 12, 21), 9.328, 0.02),
        (25.0, dt.date(2025, 6, 21), 13.694, 0.02),  # C32
        (25.0, dt.date(2025, 12, 21), 10.585, 0.02),
        (60.0, dt.date(2025, 6, 21), 18.869, 0.03),  # C33
        (60.0, dt.date(2025, 12, 21), 5.870, 0.03),
        (30.0, dt.date(2025, 6, 21), 14.080, 0.02),  # C30, the SPA side
    ],
)
def test_day_length_is_the_published_one(
    latitude: float, date: dt.date, expected: float, tolerance: float
) -> None:
    """environment/checks.csv, area photoperiod."""
    assert day_length_h(latitude, date) == pytest.approx(expected, abs=tolerance)


def test_declination_gives_the_fao_day_length() -> None:
    """checks.csv C29 (FAO-56 example 9): 11.7 h at 20 S on day 246, geometric sunrise."""
    hour_angle = math.acos(-math.tan(math.radians(-20.0)) * math.tan(float(declination_rad(246))))
    assert 24.0 / math.pi * hour_angle == pytest.approx(11.7, abs=0.05)


def test_day_length_agrees_with_the_solar_position_algorithm() -> None:
    """The library pvlib (NREL SPA) as an oracle, four days a year between 50 S and 60 N."""
    from pvlib.solarposition import sun_rise_set_transit_spa

    pd = import_module("pandas")
    for latitude in (-50.0, -20.0, 0.0, 35.0, 52.0, 60.0):
        days = pd.DatetimeIndex(["2024-02-10", "2024-03-20", "2024-08-01", "2024-11-05"], tz="UTC")
        spa = sun_rise_set_transit_spa(days, latitude, 0.0)
        hours = (spa["sunset"] - spa["sunrise"]).dt.total_seconds() / 3600.0
        ours = [day_length_h(latitude, day.date()) for day in days]
        assert ours == pytest.approx(hours.to_list(), abs=0.03)


@pytest.mark.parametrize(
    ("zenith", "ozone", "expected", "tolerance"),
    [
        (0.0, 300.0, 12.5, 0.01),  # checks.csv C13, MADRONICH07
        (60.0, 300.0, 2.336, 0.01),  # C14
        (48.19, 344.0, 3.96, 0.02),  # C15
    ],
)
def test_clear_sky_uv_index_is_the_published_one(
    zenith: float, ozone: float, expected: float, tolerance: float
) -> None:
    """environment/checks.csv, area uv."""
    assert float(clear_sky_uvi(zenith, ozone)) == pytest.approx(expected, abs=tolerance)


def _solar_rows() -> list[tuple[float, int, float]]:
    days = {"21 June": 172, "equinox": 80, "21 December": 355}
    rows = [fact for fact in load_evidence().light_facts if fact.topic == "solar_noon_clear"]
    return [
        (float(fact.item.split()[1]), day, fact.low)
        for fact in rows
        for name, day in days.items()
        if fact.item.endswith(name)
    ]


@pytest.mark.parametrize(("latitude", "day", "expected"), _solar_rows())
def test_noon_uv_index_by_latitude_is_that_of_the_table(latitude: float, day: int, expected: float) -> None:
    """light.csv, topic solar_noon_clear; printed to a tenth, and the equinox day is a day off."""
    assert float(clear_sky_uvi(noon_zenith_deg(latitude, day))) == pytest.approx(expected, abs=0.16)


def test_independent_spectrum_lies_within_a_tenth_of_the_formula() -> None:
    """light.md section 7: 3.96 by formula, 3.69 from the AM1.5 spectrum."""
    assert float(clear_sky_uvi(48.19, 344.0)) == pytest.approx(3.69, rel=0.08)


def test_polar_day_and_night_are_whole() -> None:
    """North and south, where the library finds no sunrise."""
    june, december = dt.date(2025, 6, 21), dt.date(2025, 12, 21)
    assert [day_length_h(70.0, june), day_length_h(70.0, december)] == [24.0, 0.0]
    assert [day_length_h(-70.0, june), day_length_h(-70.0, december)] == [0.0, 24.0]


@pytest.mark.parametrize("latitude", [-91.0, 120.0, float("nan")])
def test_impossible_latitudes_are_refused(latitude: float) -> None:
    """The sentence says which end is which."""
    with pytest.raises(ValueError, match="between -90"):
        day_length_h(latitude, dt.date(2025, 1, 1))


@given(st.floats(-90.0, 90.0), DATES)
def test_day_length_is_always_a_share_of_a_day(latitude: float, date: dt.date) -> None:
    """From pole to pole on any date."""
    assert 0.0 <= day_length_h(latitude, date) <= 24.0


@given(st.floats(0.0, 60.0))
def test_summer_days_lengthen_toward_the_pole(latitude: float) -> None:
    """Northern midsummer is longer one degree further north."""
    date = dt.date(2025, 6, 21)
    assert day_length_h(latitude + 1.0, date) > day_length_h(latitude, date)


@given(st.floats(0.0, 180.0), st.floats(200.0, 500.0))
def test_clear_sky_uv_index_falls_with_zenith_and_ozone(zenith: float, ozone: float) -> None:
    """A lower sun and more ozone give less."""
    here = float(clear_sky_uvi(zenith, ozone))
    assert float(clear_sky_uvi(zenith + 1.0, ozone)) <= here
    assert float(clear_sky_uvi(zenith, ozone + 10.0)) <= here
    assert np.isfinite(here)
    assert here >= 0.0
