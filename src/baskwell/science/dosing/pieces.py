"""How much one dose of a supplement of the history held."""

from collections.abc import Iterator

import numpy as np

from baskwell.science.case.model import Case, Supplement
from baskwell.science.dosing.result import Entry
from baskwell.science.dosing.substances import SUBSTANCES
from baskwell.science.draws import Draws
from baskwell.science.history.diet_recall import DietRecall
from baskwell.science.history.diet_recall.strength import read_strength

WEEK = 7.0


def supplement_doses(
    case: Case, diet: DietRecall, entries: tuple[Entry, ...], nutrient: str, n_draws: int
) -> Iterator[Draws]:
    """One dose of each supplement that still goes on: as printed per piece, or a week's supply over its days.

    Where neither strength nor days are told, one dose cannot be told from the supply and is left out.
    """
    names = {item.key: item.name for item in diet.items if item.is_supplement}
    daily = {entry.name: entry.per_day for entry in entries if entry.origin == "supplement"}
    for row in case.history.supplements:
        supply = daily.get(names.get(row.agent, ""))
        if supply is None:
            continue
        printed = _per_piece(row, nutrient)
        if printed is not None:
            yield np.full(n_draws, printed)
        elif row.days_per_week is not None and (row.days_per_week.high or 0.0) > 0:
            yield supply * WEEK / max(row.days_per_week.middle, 0.1)


def _per_piece(row: Supplement, nutrient: str) -> float | None:
    """IU in one capsule, tablet or drop of a supplement named after the nutrient itself."""
    strength = read_strength(row.strength)
    substance = SUBSTANCES[nutrient]
    if strength is None or strength.per != "dose" or row.agent != nutrient.lower() or not substance.in_iu:
        return None
    times = (row.times_label_strength.high if row.times_label_strength else None) or 1.0
    amount = strength.amount if strength.unit == "IU" else strength.amount / substance.ug_per_unit
    return amount * times
