"""What the animal weighs, and the least it may weigh: doses are reckoned with the least."""

import datetime as dt
import math
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, lognormal_factor, pert

G_PER_KG = 1000.0


@dataclass(frozen=True)
class BodyMass:
    """Mass draws in kg, shape ``(n_draws,)``, the least that it may be, and where it comes from."""

    least_kg: float
    words: str
    kg: Draws = field(repr=False, compare=False)


def body_mass(
    case: Case, evidence: Evidence, rng: np.random.Generator, n_draws: int, now: dt.datetime
) -> BodyMass | None:
    """The last weighing up to ``now``, or else the mass stated; None where neither is a mass above zero.

    The least is the low end of what is stated less the error of the scale (``measuring.csv``), so that no
    dose rests on a rounding up.
    """
    told, words = _last(case, now)
    if told is None or not _is_mass(told.low):
        return None
    error = scale_error(evidence)
    low = float(told.low or 0.0) / G_PER_KG
    high = (told.high if _is_mass(told.high) else told.low) or 0.0
    middle = pert(rng, low, (low + max(high / G_PER_KG, low)) / 2, max(high / G_PER_KG, low), n_draws)
    factor = np.clip(lognormal_factor(rng, error / 2, n_draws), 1 - error, 1 + error)
    return BodyMass(low * (1 - error), words, middle * factor)


def scale_error(evidence: Evidence) -> float:
    """How far the scale may be off, as a share of the mass."""
    rows = evidence.dosing.measuring
    return next(tool.error or 0.0 for tool in rows if tool.measures == "animal")


def _last(case: Case, now: dt.datetime) -> tuple[Span | None, str]:
    dated = [w for w in case.days.weights if w.mass_g is not None and w.at is not None and w.at <= now]
    if dated:
        last = max(dated, key=lambda weight: weight.at or now)
        return last.mass_g, f"weighed on {last.at:%d %B %Y}"
    return case.animal.mass_g, "as stated"


def _is_mass(grams: float | None) -> bool:
    return grams is not None and math.isfinite(grams) and grams > 0
