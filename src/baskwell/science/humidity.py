"""Water in air: saturation pressure, dew point, drying power, and what warming does to dry room air.

Formulas: the Magnus form with the constants of Alduchov & Eskridge (1996, Journal of Applied
Meteorology 35:601-609; ``AE96`` in the environment sources). Against the steam tables it is within
0.3 % (pressure) and 0.02 K (dew point) from 10 to 40 C; it is meant for -40 to 50 C and is not for
frost below 0 C. Temperatures are in C, pressures in Pa, relative humidity (RH) in percent. Every
function takes numbers or arrays that broadcast together and returns an array of their common shape;
NaN stays NaN.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_A_PA, _B, _C = 610.94, 17.625, 243.04
_COLDEST_C = -100.0


def saturation_vapour_pressure_pa(temperature_c: ArrayLike) -> Array:
    """Pressure of water vapour in Pa over water at a temperature in C, shape kept.

    e_s = 610.94 exp(17.625 T / (T + 243.04)) (AE96). Raises ValueError below -100 C, where the
    form has no meaning.

    >>> round(float(saturation_vapour_pressure_pa(25.0)), 1)   # environment/checks.csv C35: 3161.7
    3161.7
    """
    t = np.asarray(temperature_c, dtype=np.float64)
    if np.any(t < _COLDEST_C):
        raise ValueError(f"{np.nanmin(t)} C is below -100 C: check the unit.")
    return np.asarray(_A_PA * np.exp(_B * t / (t + _C)))


def vapour_pressure_pa(temperature_c: ArrayLike, relative_humidity_pct: ArrayLike) -> Array:
    """Pressure of the water vapour in air, in Pa: RH / 100 of the saturation pressure.

    Raises ValueError where RH lies outside 0 to 100 %.

    >>> round(float(vapour_pressure_pa(25.0, 50.0)), 1)   # half of 3161.7 Pa
    1580.9
    """
    return np.asarray(_share(relative_humidity_pct) * saturation_vapour_pressure_pa(temperature_c))


def vapour_pressure_deficit_kpa(temperature_c: ArrayLike, relative_humidity_pct: ArrayLike) -> Array:
    """Drying power of air in kPa: saturation pressure less the pressure that is there.

    0 in saturated air. Raises ValueError where RH lies outside 0 to 100 %.

    >>> round(float(vapour_pressure_deficit_kpa(25.0, 50.0)), 3)
    1.581
    """
    dry = 1.0 - _share(relative_humidity_pct)
    return np.asarray(dry * saturation_vapour_pressure_pa(temperature_c) / 1000.0)


def dew_point_c(temperature_c: ArrayLike, relative_humidity_pct: ArrayLike) -> Array:
    """Temperature in C at which this air begins to condense, from T in C and RH in (0, 100] %.

    T_d = 243.04 g / (17.625 - g), g = ln(RH/100) + 17.625 T / (243.04 + T): the Magnus form solved
    for temperature. Air without water (RH 0) has none: the result is NaN. Raises ValueError where RH
    lies outside 0 to 100 %.

    >>> round(float(dew_point_c(25.0, 50.0)), 3)   # environment/checks.csv C38: 13.858
    13.858
    """
    t = np.asarray(temperature_c, dtype=np.float64)
    share = _share(relative_humidity_pct)
    g = np.log(np.where(share > 0, share, np.nan)) + _B * t / (_C + t)
    return np.asarray(_C * g / (_B - g))


def relative_humidity_after_warming(
    temperature_c: ArrayLike, relative_humidity_pct: ArrayLike, new_temperature_c: ArrayLike
) -> Array:
    """RH in % of air brought from one temperature to another without adding or taking water.

    At constant total pressure the vapour pressure stays; cooling below the dew point would give more
    than 100 %, and is told as 100 % (the rest condenses). Raises ValueError where RH lies outside 0
    to 100 %.

    >>> round(float(relative_humidity_after_warming(20.0, 50.0, 35.0)), 1)   # checks.csv C41
    20.8
    """
    e = vapour_pressure_pa(temperature_c, relative_humidity_pct)
    return np.asarray(np.minimum(100.0, 100.0 * e / saturation_vapour_pressure_pa(new_temperature_c)))


def _share(relative_humidity_pct: ArrayLike) -> Array:
    rh = np.asarray(relative_humidity_pct, dtype=np.float64)
    bad = (rh < 0) | (rh > 100)
    if np.any(bad):
        raise ValueError(f"Relative humidity lies between 0 and 100 %, got {rh[bad].flat[0]}.")
    return rh / 100.0
