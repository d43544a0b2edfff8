"""The gate of weight: stable or rising within noise, and no alarm."""

import datetime as dt
from dataclasses import dataclass

import numpy as np

from baskwell.science.causes.observed import observe
from baskwell.science.draws import Draws
from baskwell.science.quarantine.gates_time import gate
from baskwell.science.quarantine.result import Gate, State
from baskwell.science.quarantine.stay import Stay, counted, known

SMALL_G = 100.0
"""Under this mass the alarms of ``alarm_small`` hold (its taxon text in body_condition.csv)."""


@dataclass(frozen=True)
class Slope:
    """A straight line through log mass: per cent a day, and how likely it falls."""

    pct_per_day: float
    chance_falling: float


def weight_gate(stay: Stay) -> Gate:
    """Four weekly weights that do not fall, no loss alarm, and not thin for its length."""
    days, grams = _weighings(stay)
    window = f"{stay.choice('weighing_window'):g} days"
    needed, span = int(stay.choice("weighings")), stay.choice("weighing_span")
    meet = f"{needed} weighings over {span:g} days on one scale before feeding, stable or rising, not thin."
    alarm = _alarm(stay, days, grams)
    state: State
    if alarm:
        state, words = "not met", alarm
    elif len(days) < needed or days[-1] - days[0] < span:
        state, words = (
            "not known",
            f"{counted(len(days), 'weighing')} in the last {window}: too few for a trend.",
        )
    else:
        state, words = _judge(stay, slope(days, np.log(grams)))
    return gate(stay, "weight", "Weight stable or rising", state, (words, meet), "clear_4")


def _judge(stay: Stay, line: Slope) -> tuple[State, str]:
    told = f"Mass changes by {30 * line.pct_per_day:+.1f} % in 30 days"
    if line.chance_falling >= stay.choice("slope_sure"):
        return "not met", f"{told}, a fall beyond the noise of weighing."
    seen = observe(stay.case, stay.evidence)
    if "emaciation" in seen.present:
        return "not met", f"{told}, but it is thin."
    if "emaciation" not in seen.absent:
        return "not known", f"{told}; whether it is thin for its length was not examined."
    return "met", f"{told}, no fall beyond the noise of weighing; not thin."


def _weighings(stay: Stay) -> tuple[Draws, Draws]:
    """Days (counted from now, 0 or less) and grams in the window, in order of time."""
    first = stay.now - dt.timedelta(days=stay.choice("weighing_window"))
    pairs = [
        ((w.at - stay.now).total_seconds() / 86_400.0, mass)
        for w in stay.case.days.weights
        if w.at is not None and first <= w.at <= stay.now and (mass := known(w.mass_g)) is not None
    ]
    table = np.array(sorted(pairs), dtype=np.float64).reshape(-1, 2)
    return table[:, 0], table[:, 1]


def slope(days: Draws, log_mass: Draws) -> Slope:
    """Least squares; the chance of falling from Student's t with n - 2 degrees of freedom.

    >>> line = slope(np.array([0.0, 7.0, 14.0, 21.0]), np.log(np.array([400.0, 401.0, 400.0, 402.0])))
    >>> line.pct_per_day > 0, line.chance_falling < 0.5
    (True, True)

    Raises ValueError where fewer than three weighings, or all at one time, are given.
    """
    from scipy.special import stdtr

    centred = days - days.mean()
    spread = float((centred**2).sum())
    if days.size < 3 or spread == 0:
        raise ValueError(f"A trend needs three weighings at different times, got {days.size}.")
    rate = float((centred * log_mass).sum()) / spread
    rest = log_mass - log_mass.mean() - rate * centred
    error = float(np.sqrt((rest**2).sum() / (days.size - 2) / spread))
    if error <= 1e-12 * max(abs(rate), 1e-12):
        return Slope(100 * rate, float(rate < 0))
    return Slope(100 * rate, float(stdtr(days.size - 2, -rate / error)))


def _alarm(stay: Stay, days: Draws, grams: Draws) -> str:
    """The first loss alarm that the last weighing sets off; empty where none does."""
    if days.size < 2:
        return ""
    small = grams[-1] < SMALL_G
    rules = (("alarm_small" if small else "alarm_week", 7.0), ("alarm_month", 28.0))
    for item_id, window in rules:
        row = stay.evidence.body_condition[item_id]
        limit = row.low_limit if row.low_limit is not None else row.high_limit
        before = grams[:-1][days[-1] - days[:-1] <= window]
        if limit is None or not before.size:
            continue
        lost = 100.0 * (1.0 - grams[-1] / float(before.max()))
        if lost > limit:
            return f"It lost {lost:.1f} % within {window:g} days, more than {limit:g} % ({item_id})."
    return ""
