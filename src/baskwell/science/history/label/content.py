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
    average, lenient = feasible_shape(recipe.average()), feasible_shape(recipe.most_lenient())
    names = recipe.pools.nutrients
    dry = np.maximum(100.0 - recipe.mean[:, recipe.pools.column("water_g")], 1e-3)
    under = np.repeat(dry[None, :], len(names), axis=0)
    ends = [
        *_ends(average, recipe.mean.T, recipe.mean.T, under),
        *_ends(lenient, recipe.poor.T, recipe.rich.T, under),
    ]
    bands = {name: Band(*(GRAMS * float(end[j]) for end in ends)) for j, name in enumerate(names)}
    bands["water_g"] = _water_band(recipe, average, lenient)
    bands |= _ratio_band(recipe, average, lenient)
    return bands


def _ends(shape: OrderedShares, poor: Array, rich: Array, under: Array) -> tuple[Array, Array]:
    return least_ratios(shape, poor, under), -least_ratios(shape, -rich, under)


def _water_band(recipe: Recipe, average: OrderedShares, lenient: OrderedShares) -> Band:
    if recipe.moisture is not None:
        least, most = 10.0 * recipe.moisture.least, 10.0 * recipe.moisture.most
        return Band(least, most, least, most)
    place, one = recipe.pools.column("water_g"), np.ones((1, recipe.n))
    mean, poor, rich = (x[None, :, place] for x in (recipe.mean, recipe.poor, recipe.rich))
    ends = (*_ends(average, mean, mean, one), *_ends(lenient, poor, rich, one))
    return Band(*(10.0 * float(end[0]) for end in ends))


def _ratio_band(recipe: Recipe, average: OrderedShares, lenient: OrderedShares) -> dict[str, Band]:
    """Ca:P by mass; no band where a feasible feed may hold no phosphorus at all."""
    calcium, phosphorus = recipe.pools.column("calcium_mg"), recipe.pools.column("phosphorus_mg")
    if (recipe.poor[:, phosphorus] <= 0).any():
        floor = np.maximum(recipe.poor[:, phosphorus], 1e-3 * recipe.rich[:, phosphorus].max())
    else:
        floor = recipe.poor[:, phosphorus]
    if floor.max() <= 0:
        return {}
    mean = np.maximum(recipe.mean[:, phosphorus], floor)[None, :]
    ca = (recipe.poor[None, :, calcium], recipe.mean[None, :, calcium], recipe.rich[None, :, calcium])
    rich = np.maximum(recipe.rich[None, :, phosphorus], floor)
    return {
        RATIO: Band(
            float(least_ratios(average, ca[1], mean)[0]),
            float(-least_ratios(average, -ca[1], mean)[0]),
            float(least_ratios(lenient, ca[0], rich)[0]),
            float(-least_ratios(lenient, -ca[2], floor[None, :])[0]),
        )
    }
