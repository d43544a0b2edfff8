"""The food tables as arrays: what is known of each food, how far it varies, what to take where it is silent.

Built once a review with ``CompositionIndex.from_evidence`` and passed in; nothing is kept between calls.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.rows.foods import CompositionPrior, Food, Variability

Array = NDArray[np.float64]
Spreads = Mapping[tuple[str, str], Sequence[Variability]]

NORMAL_90 = 1.6448536269514722  # standard normal quantile at 95 %: half of a central 90 % interval
SUFFIXES = ("_g", "_mg", "_ug", "_iu")
PLANTS = ("weed_browse", "leafy_green", "vegetable", "fruit", "legume", "cereal", "forage")
STAND_IN = {"feed_ingredient": "*feed", "pet_food": "*feed", "organ": "*meat"}
COARSE_KINDS = ("between_region_composites", "generic_group_cv_median")
FEW = 5  # rows resting on fewer samples are lower bounds, like composites of whole regions
NOT_FOOD = ("supplement", "oil")
NO_DRY_MATTER = 99.0  # g water per 100 g from which values per dry matter mean nothing
STEEPEST = 0.7  # caps the logit scale of a part that is nearly the whole food


@dataclass(frozen=True)
class CompositionIndex:
    """Foods by nutrients, per 100 g as fed.

    ``centre`` (n_foods, n_nutrients) holds the table value, NaN where not known. A draw is
    ``exp(location + width * z)`` with a standard normal ``z``: that value itself for minerals, vitamins,
    carotenoids and oxalate (mean = table value), its odds of 100 g for parts in grams (median = table
    value, always between 0 and 100). ``silent`` maps (food row, nutrient column) to the prior that the
    evidence gives for an unknown cell; ``keeps`` to the storage loss of a vitamin. ``log_sd`` is the
    relative spread behind ``width``; ``groups`` names the food group of each row.
    """

    food_ids: tuple[str, ...]
    nutrients: tuple[str, ...]
    groups: NDArray[np.str_] = field(repr=False)
    centre: Array = field(repr=False)
    location: Array = field(repr=False)
    width: Array = field(repr=False)
    bounded: NDArray[np.bool_] = field(repr=False)
    silent: Mapping[tuple[int, int], CompositionPrior] = field(repr=False)
    keeps: Mapping[tuple[int, int], CompositionPrior] = field(repr=False)
    log_sd: Array = field(repr=False)
    row: Mapping[str, int] = field(repr=False)
    column: Mapping[str, int] = field(repr=False)

    @classmethod
    def from_evidence(cls, evidence: Evidence) -> "CompositionIndex":
        """Read foods, variability and composition priors into arrays (about 50 ms).

        >>> from baskwell.evidence.loader import load_evidence
        >>> index = CompositionIndex.from_evidence(load_evidence())
        >>> float(index.value("collard_greens", "calcium_mg"))    # USDA SR28 NDB 11161
        232.0
        """
        foods = tuple(evidence.foods.values())
        nutrients = _nutrient_columns()
        centre = _centres(foods, nutrients)
        _set_absent(centre, foods, nutrients, evidence.composition_priors)
        bounded = np.array([name.endswith("_g") for name in nutrients])
        log_sd = _log_sds(foods, nutrients, centre, evidence)
        location, width = _scales(centre, log_sd, bounded)
        return cls(
            food_ids=tuple(food.food_id for food in foods),
            nutrients=nutrients,
            groups=np.array([food.group for food in foods]),
            centre=centre,
            location=location,
            width=width,
            bounded=bounded,
            silent=_cells(foods, nutrients, evidence.composition_priors, ("range", "share_of")),
            keeps=_cells(foods, nutrients, evidence.composition_priors, ("retention",)),
            log_sd=log_sd,
            row={food.food_id: i for i, food in enumerate(foods)},
            column={name: j for j, name in enumerate(nutrients)},
        )

    def rows_of(self, food_ids: Sequence[str]) -> NDArray[np.intp]:
        """Row numbers of foods. Raises KeyError naming the food that the tables do not hold."""
        missing = [food for food in food_ids if food not in self.row]
        if missing:
            raise KeyError(f"food {missing[0]!r} is not in foods.csv: use an id of that table.")
        return np.array([self.row[food] for food in food_ids], dtype=np.intp)

    def columns_of(self, nutrients: Sequence[str]) -> NDArray[np.intp]:
        """Column numbers of nutrients. Raises KeyError naming the column that does not exist."""
        missing = [name for name in nutrients if name not in self.column]
        if missing:
            raise KeyError(f"nutrient {missing[0]!r} is not a column of foods.csv in grams, mg, ug or IU.")
        return np.array([self.column[name] for name in nutrients], dtype=np.intp)

    def value(self, food_id: str, nutrient: str) -> float:
        """The table value per 100 g as fed; NaN where not known."""
        return float(self.centre[self.row[food_id], self.column[nutrient]])

    def similar(self, group: str, nutrient: str) -> tuple[Array, float]:
        """What the known foods of a group hold (group ``*``: of all foods but supplements and oils).

        Gives the sorted values per gram of dry matter (water: per 100 g) and the median log SD of one such
        food by itself, 0 where none holds the nutrient at all.
        """
        chosen = ~np.isin(self.groups, NOT_FOOD) if group == "*" else self.groups == group
        column, water = (
            self.centre[chosen, self.column[nutrient]],
            self.centre[chosen, self.column["water_g"]],
        )
        dry = np.where(water < NO_DRY_MATTER, 1.0 - water / 100.0, np.nan)
        density = column if nutrient == "water_g" else column / dry
        spreads = self.log_sd[chosen, self.column[nutrient]][column > 0]
        within = float(np.median(spreads)) if spreads.size else 0.0
        return np.sort(density[~np.isnan(density)]), within


def _nutrient_columns() -> tuple[str, ...]:
    return tuple(item.name for item in fields(Food) if item.name.endswith(SUFFIXES))


def _centres(foods: Sequence[Food], nutrients: Sequence[str]) -> Array:
    cells = [[getattr(food, name) for name in nutrients] for food in foods]
    return np.array(cells, dtype=np.float64)


def _keys(food: Food) -> tuple[str, ...]:
    """The words by which a prior may speak of a food: its id, its group, its flags, or any food."""
    return (food.food_id, food.group, "*", *(f"flag:{flag}" for flag in food.flags))


def _cells(
    foods: Sequence[Food], nutrients: Sequence[str], priors: Sequence[CompositionPrior], kinds: Sequence[str]
) -> dict[tuple[int, int], CompositionPrior]:
    """The prior of each cell; where several speak of it, the one that does not speak of all foods."""
    rows: dict[str, list[int]] = {}
    for i, food in enumerate(foods):
        for key in _keys(food):
            rows.setdefault(key, []).append(i)
    found: dict[tuple[int, int], CompositionPrior] = {}
    for prior in sorted((p for p in priors if p.kind in kinds), key=lambda p: "*" not in p.foods):
        mine = [i for key in prior.foods for i in rows.get(key, ())]
        for name in prior.nutrients:
            which = range(len(nutrients)) if name == "*" else (nutrients.index(name),)
            found.update({(i, j): prior for i in mine for j in which})
    return found


def _set_absent(
    centre: Array, foods: Sequence[Food], nutrients: Sequence[str], priors: Sequence[CompositionPrior]
) -> None:
    for i, j in _cells(foods, nutrients, priors, ("absent",)):
        if math.isnan(centre[i, j]):
            centre[i, j] = 0.0


def _log_sds(foods: Sequence[Food], nutrients: Sequence[str], centre: Array, evidence: Evidence) -> Array:
    spreads: dict[tuple[str, str], list[Variability]] = {}
    for row in evidence.variability:
        spreads.setdefault((row.food_id, row.nutrient), []).append(row)
    floors, fallback = _spread_priors(foods, nutrients, evidence.composition_priors)
    found = _general_log_sds(foods, nutrients, spreads)
    for i, food in enumerate(foods):
        levels = (food.food_id, *_group_keys(food.group), "*")
        for j, name in enumerate(nutrients):
            if (food.food_id, name) in spreads and centre[i, j] > 0:
                found[i, j] = _log_sd(spreads, levels, name, float(centre[i, j]))
    found = np.maximum(found, floors)
    found[found == 0] = fallback
    for (i, j), prior in _cells(foods, nutrients, evidence.composition_priors, ("purity",)).items():
        found[i, j] = math.log(prior.high) / NORMAL_90
    return found


def _general_log_sds(foods: Sequence[Food], nutrients: Sequence[str], spreads: Spreads) -> Array:
    """What the group of each food says, or else any food; the same for all foods of a group."""
    groups = {food.group for food in foods}
    of_group = {
        group: [_log_sd(spreads, (*_group_keys(group), "*"), name, math.nan) for name in nutrients]
        for group in groups
    }
    return np.array([of_group[food.group] for food in foods])


def _spread_priors(
    foods: Sequence[Food], nutrients: Sequence[str], priors: Sequence[CompositionPrior]
) -> tuple[Array, float]:
    own = [prior for prior in priors if "*" not in prior.nutrients]
    floors = np.zeros((len(foods), len(nutrients)))
    for (i, j), prior in _cells(foods, nutrients, own, ("spread",)).items():
        floors[i, j] = math.log(prior.high) / NORMAL_90
    rest = next(prior for prior in priors if prior.kind == "spread" and "*" in prior.nutrients)
    return floors, math.log(rest.high) / NORMAL_90


def _group_keys(group: str) -> tuple[str, ...]:
    own = STAND_IN.get(group, f"*{group}")
    return (own, "*all_plant") if group in PLANTS else (own,)


def _log_sd(spreads: Spreads, levels: Sequence[str], nutrient: str, value: float) -> float:
    """The first level that is more than a lower bound ends the search; lower bounds never narrow it."""
    widest = 0.0
    for level in levels:
        rows = spreads.get((level, nutrient), ())
        widest = max([widest, *(_row_log_sd(row, value) for row in rows)])
        if widest > 0 and any(not _is_lower_bound(row) for row in rows):
            break
    return widest


def _is_lower_bound(row: Variability) -> bool:
    return row.kind in COARSE_KINDS or (row.n is not None and row.n < FEW)


def _row_log_sd(row: Variability, value: float) -> float:
    if row.cv is not None:
        halved = 0.5 if row.kind == "generic_upper" else 1.0
        return math.sqrt(math.log1p((halved * row.cv) ** 2))
    if row.sd is not None and row.mean:
        return math.sqrt(math.log1p((row.sd / row.mean) ** 2))
    return _range_log_sd(row, value)


def _range_log_sd(row: Variability, value: float) -> float:
    """A printed range is read as the central 90 %; only its width is used, not its place."""
    if row.max is None or row.min is None or row.max <= row.min or row.kind == "detection_limit":
        return 0.0
    if row.min > 0:
        return math.log(row.max / row.min) / (2 * NORMAL_90)
    return max(0.0, math.log(row.max / value)) / NORMAL_90 if value > 0 else 0.0


def _scales(centre: Array, log_sd: Array, bounded: NDArray[np.bool_]) -> tuple[Array, Array]:
    part = np.clip(centre / 100.0, 0.0, 0.9999)
    with np.errstate(divide="ignore"):
        odds = np.log(part / (1.0 - part))
        level = np.log(centre) - log_sd**2 / 2.0
    steep = np.minimum(log_sd / (1.0 - part), STEEPEST)
    return np.where(bounded, odds, level), np.where(bounded, steep, log_sd)
