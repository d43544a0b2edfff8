"""The recipe behind a label: what is unknown about it, and the linear limits on its shares."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from baskwell.science.history.label.clues import LEAST_DRY_PCT, USUAL_DRY_MAX_PCT, Clue
from baskwell.science.history.label.guarantees import Guarantee
from baskwell.science.history.label.materials import Pools
from baskwell.science.history.label.names import Ingredient
from baskwell.science.polytope import OrderedShares

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Moisture:
    """Water left in a feed that is dried, in percent as sold: normal within limits."""

    likely: float
    sd: float
    least: float
    most: float

    @classmethod
    def of(cls, printed: Guarantee | None, usual: Guarantee) -> "Moisture":
        """From the printed moisture; where there is none, from ``usual``, the maximum dry feeds print."""
        said = printed or replace(usual, printed=USUAL_DRY_MAX_PCT)
        least, most = said.limits
        most = min(most, 100.0 if printed else USUAL_DRY_MAX_PCT)
        least = min(max(least, LEAST_DRY_PCT), most)
        return cls(min(max(said.likely, least), most), said.spread, least, most)

    def draw(self, rng: np.random.Generator, size: int) -> Array:
        """Draws of the moisture, by inversion of the truncated normal."""
        from scipy.special import ndtr, ndtri

        low, high = ndtr((np.array([self.least, self.most]) - self.likely) / self.sd)
        level = low + (high - low) * rng.random(size)
        return np.asarray(np.clip(self.likely + self.sd * ndtri(level), self.least, self.most))


@dataclass(frozen=True, eq=False)
class Recipe:
    """Ingredients in order, their composition as pools, and the clues about their shares.

    ``moisture`` is None for a feed that keeps its water. ``poor``, ``mean`` and ``rich`` (n_ingredients,
    n_nutrients) are the 5 %, mean and 95 % composition per 100 g as added.
    """

    ingredients: tuple[Ingredient, ...]
    pools: Pools = field(repr=False)
    clues: tuple[Clue, ...]
    moisture: Moisture | None
    poor: Array = field(repr=False)
    mean: Array = field(repr=False)
    rich: Array = field(repr=False)

    @classmethod
    def of(
        cls, ingredients: Sequence[Ingredient], pools: Pools, clues: Sequence[Clue], moisture: Moisture | None
    ) -> "Recipe":
        """Take the quantiles of the pools and put the recipe together."""
        poor, rich = np.quantile(pools.values, [0.05, 0.95], axis=2)
        mean = pools.values.mean(axis=2)
        return cls(tuple(ingredients), pools, tuple(clues), moisture, poor, mean, rich)

    @property
    def n(self) -> int:
        """How many ingredients."""
        return len(self.ingredients)

    def solids(self, composition: Array) -> Array:
        """What the product is counted on: dry matter fraction if dried, else all, by ingredient (n,)."""
        if self.moisture is None:
            return np.ones(self.n)
        return np.asarray(1.0 - composition[:, self.pools.column("water_g")] / 100.0)

    def average(self) -> "Limits":
        """The limits for ingredients of mean composition and a feed of likely moisture."""
        likely = self.moisture.likely if self.moisture else 0.0
        return self._limits((self.mean, self.mean), (likely, likely))

    def most_lenient(self) -> "Limits":
        """The limits met by some batch: rich where a minimum must be reached, poor under a maximum."""
        if self.moisture is None:
            return self._limits((self.rich, self.poor), (0.0, 0.0))
        return self._limits((self.rich, self.poor), (self.moisture.least, self.moisture.most))

    def _limits(self, compositions: tuple[Array, Array], moistures: tuple[float, float]) -> "Limits":
        rows: list[Array] = []
        owners: list[int] = []
        for q, clue in enumerate(self.clues):
            for lower, composition, moisture in zip((True, False), compositions, moistures, strict=True):
                row = self._row(clue, composition, 1.0 - moisture / 100.0, lower)
                if row is not None:
                    rows.append(row)
                    owners.append(q)
        return Limits(self, np.array(rows).reshape(-1, self.n), np.array(owners, dtype=np.intp))

    def _row(self, clue: Clue, composition: Array, kept: float, lower: bool) -> Array | None:
        """One limit as ``row @ x <= 0``, None where it cannot bind."""
        bound = clue.least if lower else clue.most
        if (lower and bound <= 0.0) or (not lower and bound >= 100.0 * (1 if not clue.nutrient else np.inf)):
            return None
        if clue.nutrient:
            over = kept * composition[:, self.pools.column(clue.nutrient)]
            under = self.solids(self.mean)
        else:
            over, under = 100.0 * np.eye(self.n)[clue.ingredient], np.ones(self.n)
        return bound * under - over if lower else over - bound * under


@dataclass(frozen=True, eq=False)
class Limits:
    """The clues of a recipe as homogeneous limits ``rows @ x <= 0``; ``owners`` (m,) number the clues."""

    recipe: Recipe = field(repr=False)
    rows: Array
    owners: NDArray[np.intp]

    @property
    def shape(self) -> OrderedShares:
        """The polytope of ordered shares under these limits."""
        return OrderedShares.of(self.recipe.n, self.rows, np.zeros(len(self.rows)))

    @property
    def scales(self) -> Array:
        """What one unit of giving way means: a hundredth of it for usual maxima, which yield first."""
        clues = [self.recipe.clues[q] for q in self.owners]
        return np.array([max(clue.high, 1.0) * (100.0 if clue.soft else 1.0) for clue in clues])
