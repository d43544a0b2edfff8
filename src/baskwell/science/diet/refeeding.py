"""How feeding begins after starving: a part of the resting need first, the whole of it some days later."""

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.rows.dosing import EnergyChoice
from baskwell.science.diet.relations import kcal_a_day
from baskwell.science.draws import Draws

RESTING, CLINICAL = "E02", "E01"  # the formulas that the refeeding limits name: 10*kg^0.75 and 32*kg^0.75
WEEK = 7


def refeeding_kcal(mass_kg: Draws, evidence: Evidence, rng: np.random.Generator, day: int) -> Draws:
    """Energy to offer on a day of refeeding (1 = the first, after warming and fluids), in kcal.

    Days 1-2 a drawn part between ``refeed_start_low`` and ``refeed_start_high`` of 10*kg^0.75, then in even
    steps to the whole within the days of X05; in week 1 never above ``refeed_week1_block``. ``mass_kg``
    (n_draws,) in kg, above 0. Raises ValueError for a day before the first.

    >>> from baskwell.evidence import load_evidence
    >>> offered = refeeding_kcal(np.full(1000, 1.0), load_evidence(), np.random.default_rng(1), 1)
    >>> bool(offered.min() >= 2.5 and offered.max() <= 5.0)         # 0.25 to 0.5 of 10 kcal
    True
    """
    if day < 1:
        raise ValueError(f"Day {day} of refeeding: count from 1, the first day it is fed.")
    mass = np.asarray(mass_kg, dtype=np.float64)
    low, high = (_limit(evidence, name) for name in ("refeed_start_low", "refeed_start_high"))
    start = rng.uniform(low, high, mass.size)
    ramp = _choice(evidence, "ramp")
    days = rng.uniform(ramp.low or 1.0, ramp.high or 1.0, mass.size)
    done = np.clip((day - (_choice(evidence, "start").high or 0.0)) / days, 0.0, 1.0)
    offered = (start + (1.0 - start) * done) * kcal_a_day(evidence.energy[RESTING], mass, evidence=evidence)
    return np.minimum(offered, refeeding_most_kcal(mass, evidence)) if day <= WEEK else offered


def refeeding_most_kcal(mass_kg: Draws, evidence: Evidence) -> Draws:
    """The most energy a day in week 1 (limit ``refeed_week1_block``, 0.4 of 32*kg^0.75), in kcal.

    >>> from baskwell.evidence import load_evidence
    >>> round(float(refeeding_most_kcal(np.array([1.0]), load_evidence())[0]), 1)
    12.8
    """
    clinical = kcal_a_day(evidence.energy[CLINICAL], mass_kg, evidence=evidence)
    return np.asarray(_limit(evidence, "refeed_week1_block") * clinical)


def _limit(evidence: Evidence, limit_id: str) -> float:
    value = evidence.limits[limit_id].value
    if value is None:
        raise ValueError(f"limits.csv row {limit_id} has no value: refeeding needs it.")
    return value


def _choice(evidence: Evidence, use: str) -> EnergyChoice:
    return next(choice for choice in evidence.dosing.energy_choices if choice.use == use)
