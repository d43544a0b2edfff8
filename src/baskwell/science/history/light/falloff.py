"""How UV falls with distance and with hours of use."""

import numpy as np
from numpy.typing import ArrayLike

from baskwell.science.draws import Draws

DAYS_PER_MONTH = 365.25 / 12.0


def relative_irradiance(distance: ArrayLike, lit_length: ArrayLike = 0.0, behind: ArrayLike = 0.0) -> Draws:
    """Irradiance under the middle of a lamp, up to a constant factor: only ratios mean anything.

    A tube of ``lit_length`` L seen from distance d, the receiver facing it: (L/2)/(d^2 + L^2/4) +
    atan(L/(2d))/d, divided by L so that L = 0 is the point source 1/d^2 (light.md section 4; Lambertian
    emitter). ``behind`` moves the source back, as a reflector does. All three in one unit, distances
    above 0; broadcast together.

    >>> ratio = relative_irradiance(45.0, 55.0) / relative_irradiance(30.0, 55.0)
    >>> round(float(ratio), 3)
    0.534
    """
    d = np.asarray(distance, dtype=np.float64) + np.asarray(behind, dtype=np.float64)
    half = np.asarray(lit_length, dtype=np.float64) / 2.0
    ratio = half / d
    # atan(x)/x tends to 1, and 0/0 must not be met on the way.
    safe = np.where(ratio > 0, ratio, 1.0)
    arc = np.where(ratio > 0, np.arctan(safe) / safe, 1.0)
    return np.asarray(0.5 / (d * d + half * half) + 0.5 * arc / (d * d))


def fraction_left(age_months: ArrayLike, hours_per_day: ArrayLike, lost_per_1000h: ArrayLike) -> Draws:
    """UV left after use: (1 - d)^(hours/1000), with d the fraction lost in 1,000 hours, in [0, 1).

    >>> round(float(fraction_left(6.0, 12.0, 0.12)), 2)
    0.76
    """
    hours = np.asarray(age_months, dtype=np.float64) * DAYS_PER_MONTH * np.asarray(hours_per_day)
    return np.asarray((1.0 - np.asarray(lost_per_1000h, dtype=np.float64)) ** (hours / 1000.0))
