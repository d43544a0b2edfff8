"""Composition of foods as draws: the table value, how far foods vary, and what is not known.

All values are per 100 g **as fed** in the unit of the nutrient's name; the order of preference of the
spread is that of the foods README (the food's own row, its group, any food; region composites and very
small samples are lower bounds).
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence.rows.foods import CompositionPrior
from baskwell.science.composition_index import Array, CompositionIndex
from baskwell.science.draws import Draws, pert

DRY_PARTS = ("protein_g", "fat_g", "ash_g")
ENOUGH = 3  # known foods that a group needs before it speaks for an unknown one


@dataclass(frozen=True)
class Composition:
    """Draws of foods by nutrients with no gap left open.

    ``values`` has shape (n_draws, n_foods, n_nutrients), per 100 g as fed. ``assumed``
    (n_foods, n_nutrients) marks the cells that no table knows and a wide prior stands in for;
    ``borrowed`` those among them for which nothing is known but other foods.
    """

    food_ids: tuple[str, ...]
    nutrients: tuple[str, ...]
    values: Array = field(repr=False)
    assumed: NDArray[np.bool_] = field(repr=False)
    borrowed: NDArray[np.bool_] = field(repr=False)


def draw_composition(
    index: CompositionIndex,
    food_ids: Sequence[str],
    nutrients: Sequence[str],
    rng: np.random.Generator,
    n_draws: int,
) -> Array:
    """Draw (n_draws, n_foods, n_nutrients) per 100 g as fed; NaN where the tables do not know.

    Minerals, vitamins, carotenoids and oxalate are log-normal with the table value as their mean; parts
    in grams are logit-normal, so always between 0 and 100. A table value of 0 stays 0. A wetter lot holds
    less of everything: all else is diluted by the water drawn, and protein, fat and ash never exceed the
    dry matter. Vitamins of dry complete feeds are lowered by an unknown time in storage. Raises KeyError
    on an unknown food or nutrient.

    >>> from baskwell.evidence.loader import load_evidence
    >>> index = CompositionIndex.from_evidence(load_evidence())
    >>> rng = np.random.default_rng(1)
    >>> drawn = draw_composition(index, ["collard_greens"], ["calcium_mg", "iodine_ug"], rng, 20_000)
    >>> drawn.shape, round(float(drawn[:, 0, 0].mean()), -1), bool(np.isnan(drawn[:, 0, 1]).all())
    ((20000, 1, 2), 230.0, True)
    """
    rows, columns = index.rows_of(food_ids), index.columns_of(nutrients)
    block = np.ix_(rows, columns)
    centre = index.centre[block]
    cells = np.empty((*centre.shape, n_draws))
    cells[...] = np.where(centre > 0, 0.0, centre)[:, :, None]
    for i, row in enumerate(rows.tolist()):
        _draw_food(index, row, columns, cells[i], rng)
    return cells.transpose(2, 0, 1)


def compose(
    index: CompositionIndex,
    food_ids: Sequence[str],
    nutrients: Sequence[str],
    rng: np.random.Generator,
    n_draws: int,
) -> Composition:
    """Like ``draw_composition``, with a wide prior in place of every unknown cell, marked as assumed.

    The prior is the evidence's own (``foods/composition_priors.csv``) or else the spread of the known
    foods of the group per dry matter, smallest to largest (of all foods where the group knows fewer than
    three), widened by how far one such food varies itself. Foods that share a prior share its draws:
    ignorance does not average out over a mixed diet.

    >>> from baskwell.evidence.loader import load_evidence
    >>> index = CompositionIndex.from_evidence(load_evidence())
    >>> got = compose(index, ["mealworm"], ["calcium_mg", "retinol_ug"], np.random.default_rng(1), 1000)
    >>> got.assumed.tolist()
    [[False, True]]
    >>> bool(got.values[:, 0, 1].max() <= 30.0)        # below the detection limit, yet not zero
    True
    """
    asked = tuple(nutrients)
    needed = asked if "water_g" in asked else ("water_g", *asked)
    values = draw_composition(index, food_ids, needed, rng, n_draws)
    filler = _Filler(index, rng, n_draws)
    rows, columns = index.rows_of(food_ids), index.columns_of(needed)
    assumed = np.isnan(index.centre[np.ix_(rows, columns)])
    borrowed = assumed.copy()
    water = needed.index("water_g")
    for i, j in sorted(np.argwhere(assumed).tolist(), key=lambda cell: cell[1] != water):
        own = filler.own_prior(int(rows[i]), needed[j])
        borrowed[i, j] = own is None
        values[:, i, j] = filler.borrow(int(rows[i]), needed[j], values[:, i, water]) if own is None else own
    for i in np.flatnonzero(assumed.any(axis=1)).tolist():
        _fit(index, columns, values[:, i, :].T, 100.0 - values[:, i, water])
    keep = slice(len(needed) - len(asked), None)
    return Composition(tuple(food_ids), asked, values[:, :, keep], assumed[:, keep], borrowed[:, keep])


def storage_left(
    priors: Sequence[CompositionPrior], nutrient: str, rng: np.random.Generator, n_draws: int
) -> Draws:
    """Share of a printed vitamin left when a dry feed of unknown age is fed (1 where nothing is lost).

    >>> from baskwell.evidence.loader import load_evidence
    >>> left = storage_left(load_evidence().composition_priors, "retinol_ug", np.random.default_rng(1), 500)
    >>> bool(0.4 <= left.min() and left.max() <= 1.0)
    True
    """
    for prior in priors:
        if prior.kind == "retention" and nutrient in prior.nutrients and "label" in prior.foods:
            return pert(rng, prior.low, prior.mode, prior.high, n_draws)
    return np.ones(n_draws)


def _draw_food(
    index: CompositionIndex,
    row: int,
    columns: NDArray[np.intp],
    cells: Array,
    rng: np.random.Generator,
) -> None:
    """Fill the known cells (n_nutrients, n_draws) of one food: its water first, all else diluted by it."""
    n_draws = cells.shape[1]
    water = _draw_cell(index, row, index.column["water_g"], rng, n_draws)
    dry = 100.0 - water
    dilution = dry / dry.mean() if np.isfinite(dry).all() else np.ones(n_draws)
    for j, column in enumerate(columns.tolist()):
        if index.centre[row, column] > 0:
            is_water = column == index.column["water_g"]
            cells[j] = water if is_water else _draw_cell(index, row, column, rng, n_draws) * dilution
    _fit(index, columns, cells, dry)


def _fit(index: CompositionIndex, columns: NDArray[np.intp], cells: Array, dry: Draws) -> None:
    """Scale protein, fat and ash down in the worlds in which they would exceed the dry matter."""
    parts = np.array(
        [j for j, c in enumerate(columns.tolist()) if index.nutrients[c] in DRY_PARTS], dtype=np.intp
    )
    total = np.nansum(cells[parts], axis=0)
    over = total > dry
    if over.any():
        cells[np.ix_(parts, np.flatnonzero(over))] *= dry[over] / total[over]


def _draw_cell(
    index: CompositionIndex, row: int, column: int, rng: np.random.Generator, n_draws: int
) -> Draws:
    drawn = rng.standard_normal(n_draws)
    drawn *= index.width[row, column]
    drawn += index.location[row, column]
    np.exp(drawn, out=drawn)
    if index.bounded[column]:
        drawn *= 100.0 / (1.0 + drawn)
    prior = index.keeps.get((row, column))
    if prior is not None:
        drawn *= pert(rng, prior.low, prior.mode, prior.high, n_draws)
    return drawn


class _Filler:
    """Fills unknown cells; one draw for each (prior or group, nutrient), shared by its foods."""

    def __init__(self, index: CompositionIndex, rng: np.random.Generator, n_draws: int) -> None:
        self._index = index
        self._rng = rng
        self._n_draws = n_draws
        self._shared: dict[tuple[str, str], Draws] = {}

    def own_prior(self, row: int, nutrient: str) -> Draws | None:
        prior = self._index.silent.get((row, self._index.column[nutrient]))
        if prior is None or prior.kind == "range":
            return None if prior is None else self._from_range(prior, nutrient)
        whole = float(self._index.centre[row, self._index.column[prior.of_nutrient]])
        return None if np.isnan(whole) else whole * self._from_range(prior, nutrient)

    def _from_range(self, prior: CompositionPrior, nutrient: str) -> Draws:
        key = (prior.prior_id, nutrient)
        if key not in self._shared:
            self._shared[key] = pert(self._rng, prior.low, prior.mode, prior.high, self._n_draws)
        return self._shared[key]

    def borrow(self, row: int, nutrient: str, water_g: Draws) -> Draws:
        key = (str(self._index.groups[row]), nutrient)
        if key not in self._shared:
            self._shared[key] = self._similar(*key)
        density = self._shared[key]
        return density if nutrient == "water_g" else density * (1.0 - water_g / 100.0)

    def _similar(self, group: str, nutrient: str) -> Draws:
        """Draws between the least and the most of the similar foods, each varying by itself too."""
        known, within = self._index.similar(group, nutrient)
        if known.size < ENOUGH:
            known, within = self._index.similar("*", nutrient)
        level = self._rng.random(self._n_draws)
        density = np.interp(level, np.linspace(0.0, 1.0, known.size), known)
        density *= np.exp(within * self._rng.standard_normal(self._n_draws))
        return np.minimum(density, 100.0) if nutrient.endswith("_g") else density
