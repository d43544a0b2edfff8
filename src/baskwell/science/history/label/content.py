"""From drawn recipes to what the feed holds, and the bands that no recipe leaves."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from baskwell.science.history.label.conflicts import feasible_shape
from baskwell.science.history.label.recipe import Recipe
from baskwell.science.history.label.sampler import Drawn
from baskwell.science.polytope import OrderedShares, least_ratios

Array = NDArray[np.float64]

RATIO = "ca_p_ratio"
GRAMS = 1000.0  # per kilogram
PERCENT = 100.0
LEAST_PHOSPHORUS = 1e-3  # of the richest ingredient: keeps the ratio finite where one holds none


@dataclass(frozen=True, eq=False)
class Content:
    """What drawn feeds hold: ``per_kg_dry`` (nutrients, draws) and ``water`` (draws,) in % as sold."""

    per_kg_dry: Array = field(repr=False)
    water: Array = field(repr=False)


@dataclass(frozen=True)
class Band:
    """Lowest and highest content: of average ingredients, and of any batch of them."""

    lowest: float
    highest: float
    lowest_any_batch: float
    highest_any_batch: float


def content_of(recipe: Recipe, drawn: Drawn, rng: np.random.Generator, n_draws: int) -> tuple[Content, Array]:
    """Content of ``n_draws`` of the drawn recipes, taken at random, and their shares (n_draws, n).

    Where the composition of several ingredients rests on one shared assumption, a draw takes the same
    entry for all of them: ignorance does not average out over the list.
    """
    chosen = _choose(len(drawn.shares), n_draws, rng)
    shares, entries, moisture = drawn.shares[chosen], drawn.entries[chosen], drawn.moisture[chosen]
    together = rng.integers(0, recipe.pools.values.shape[2], n_draws)
    free = recipe.pools.assumed & ~np.isin(recipe.pools.nutrients, [clue.nutrient for clue in recipe.clues])
    whole = np.zeros((len(recipe.pools.nutrients), n_draws))
    for i, pool in enumerate(recipe.pools.values):
        held = pool[:, entries[:, i]]
        held[free[i]] = pool[free[i]][:, together]
        whole += held * shares[:, i]
    water = whole[recipe.pools.column("water_g")]
    dry = np.maximum(100.0 - water, 1e-6)
    return Content(whole / dry * GRAMS, moisture if recipe.moisture else water.copy()), shares


def _choose(available: int, wanted: int, rng: np.random.Generator) -> NDArray[np.intp]:
    """Numbers of draws in random order, each as often as needed and no oftener."""
    rounds = [rng.permutation(available) for _ in range(-(-wanted // available))]
    return np.concatenate(rounds)[:wanted]


def bands_of(recipe: Recipe) -> dict[str, Band]:
    """The band of every nutrient and of Ca:P, per kg dry matter; of water, grams per kg as sold."""
    average = _ends(feasible_shape(recipe.average()), recipe, recipe.mean, recipe.mean)
    any_batch = _ends(feasible_shape(recipe.most_lenient()), recipe, recipe.poor, recipe.rich)
    names = (*recipe.pools.nutrients, RATIO)
    bands = {name: Band(*average[j].tolist(), *any_batch[j].tolist()) for j, name in enumerate(names)}
    if recipe.moisture is not None:
        least, most = 10.0 * recipe.moisture.least, 10.0 * recipe.moisture.most
        bands["water_g"] = Band(least, most, least, most)
    return bands


def _ends(shape: OrderedShares, recipe: Recipe, poor: Array, rich: Array) -> Array:
    """Lowest and highest of every nutrient, then of Ca:P, over the shares of one polytope: (k, 2)."""
    water, calcium, phosphorus = (
        recipe.pools.column(name) for name in ("water_g", "calcium_mg", "phosphorus_mg")
    )
    under = np.repeat(np.maximum(100.0 - recipe.mean[None, :, water], 1e-3), poor.shape[1], axis=0)
    under[water] = PERCENT  # moisture is told of the feed as mixed
    least_p = max(LEAST_PHOSPHORUS * float(rich[:, phosphorus].max()), 1e-6)
    over = np.vstack([poor.T, poor[:, calcium], -rich.T, -rich[:, calcium]])
    divisors = [np.maximum(side[:, phosphorus], least_p) for side in (rich, poor)]
    ends = least_ratios(shape, over, np.vstack([under, divisors[0], under, divisors[1]]))
    low, high = ends.reshape(2, -1)
    scale = np.append(np.full(poor.shape[1], GRAMS), 1.0)
    return np.asarray(np.column_stack([low, -high]) * scale[:, None] + 0.0)
