"""Sun by place and date: day length, noon height and clear-sky UV index."""

import datetime as dt
import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def day_length_h(latitude_deg: float, date: dt.date) -> float:
    """Hours from sunrise to sunset (upper limb, with refraction), 0 in polar night and 24 at polar day.

    ``latitude_deg`` is north positive, -90 to 90 (ValueError outside). Within 0.03 h of the NREL solar
    position algorithm between 60 S and 60 N.

    >>> round(day_length_h(40.0, dt.date(2025, 6, 21)), 1)
    15.0
    >>> day_length_h(75.0, dt.date(2025, 12, 21)), day_length_h(75.0, dt.date(2025, 6, 21))
    (0.0, 24.0)
    """
    from astral import Observer
    from astral.sun import sunrise, sunset

    observer = Observer(_checked(latitude_deg), 0.0)
    try:
        rise, fall = sunrise(observer, date=date), sunset(observer, date=date)
    except ValueError:
        # The library refuses a day without sunrise: which of the two it is, the noon height tells.
        return 24.0 if abs(float(noon_zenith_deg(latitude_deg, date.timetuple().tm_yday))) < 90.0 else 0.0
    return ((fall - rise).total_seconds() / 3600.0) % 24.0


def declination_rad(day_of_year: ArrayLike) -> Array:
    """Declination of the sun (FAO-56 equation 24), radians; within 0.01 rad of the almanac.

    >>> round(math.degrees(float(declination_rad(172))), 1)      # 21 June
    23.4
    """
    day = np.asarray(day_of_year, dtype=np.float64)
    return np.asarray(0.409 * np.sin(2.0 * math.pi * day / 365.0 - 1.39))


def noon_zenith_deg(latitude_deg: ArrayLike, day_of_year: ArrayLike) -> Array:
    """Angle between the zenith and the sun at solar noon, degrees; over 90 = below the horizon.

    >>> round(float(noon_zenith_deg(40.0, 172)), 1)
    16.6
    """
    latitude = np.asarray(latitude_deg, dtype=np.float64)
    return np.asarray(np.abs(latitude - np.degrees(declination_rad(day_of_year))))


def clear_sky_uvi(zenith_deg: ArrayLike, ozone_du: ArrayLike = 300.0) -> Array:
    """UV index at sea level without cloud: 12.5 mu^2.42 (ozone/300)^-1.23, mu the cosine of the zenith angle.

    Madronich 2007 (Photochemistry and Photobiology 83:1537-1538). 0 with the sun below the horizon.

    >>> clear_sky_uvi([0.0, 60.0, 95.0]).round(3).tolist()
    [12.5, 2.336, 0.0]
    """
    mu = np.clip(np.cos(np.radians(np.asarray(zenith_deg, dtype=np.float64))), 0.0, None)
    return np.asarray(12.5 * mu**2.42 * (np.asarray(ozone_du, dtype=np.float64) / 300.0) ** -1.23)


def _checked(latitude_deg: float) -> float:
    if not -90.0 <= latitude_deg <= 90.0:
        raise ValueError(f"A latitude lies between -90 (south) and 90 (north), got {latitude_deg}.")
    return latitude_deg
