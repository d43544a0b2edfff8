"""Composition of every listed ingredient as a pool of draws, with nothing left open."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.rows.labels import LabelMaterial
from baskwell.science.composition import compose
from baskwell.science.composition_index import CompositionIndex
from baskwell.science.draws import Draws, pert
from baskwell.science.history.label.names import Ingredient

Array = NDArray[np.float64]
Known = Mapping[str, Mapping[str, LabelMaterial]]

FIBRE_RULE = "crude_fibre_per_dietary_fibre"
ANY_FEED = ("cereal", "feed_ingredient", "forage", "legume")


@dataclass(frozen=True, eq=False)
class Pools:
    """Draws of each ingredient, per 100 g as added.

    ``values`` is (n_ingredients, n_nutrients, pool), ``assumed`` (n_ingredients, n_nutrients) marks what no
    table knows and a wide prior stands in for.
    """

    nutrients: tuple[str, ...]
    values: Array = field(repr=False)
    assumed: NDArray[np.bool_] = field(repr=False)

    def column(self, nutrient: str) -> int:
        """The number of a nutrient's column."""
        return self.nutrients.index(nutrient)


@dataclass(frozen=True, eq=False)
class Materials:
    """What is known of feed materials; built once for all labels of a case."""

    index: CompositionIndex
    rows: Known
    fibre_rule: LabelMaterial

    @classmethod
    def from_evidence(cls, evidence: Evidence, index: CompositionIndex | None = None) -> "Materials":
        """Gather the tables; ``index`` is built here where it is not given."""
        rows: dict[str, dict[str, LabelMaterial]] = {}
        for row in evidence.feed_labels.label_materials:
            rows.setdefault(row.material_id, {})[row.nutrient] = row
        return cls(index or CompositionIndex.from_evidence(evidence), rows, rows["*"][FIBRE_RULE])

    def pools(self, ingredients: Sequence[Ingredient], rng: np.random.Generator, size: int) -> Pools:
        """Draw ``size`` compositions of each ingredient.

        >>> from baskwell.evidence.loader import load_evidence
        >>> from baskwell.science.history.label.names import Ingredient
        >>> materials = Materials.from_evidence(load_evidence())
        >>> got = materials.pools([Ingredient("salt", "table_salt")], np.random.default_rng(1), 64)
        >>> float(got.values[0, got.column("protein_g")].max())
        0.0
        """
        nutrients = self.index.nutrients
        values = np.empty((len(ingredients), len(nutrients), size))
        assumed = np.zeros(values.shape[:2], dtype=bool)
        foods = {item.material_id for item in ingredients} & self.index.row.keys()
        drawn = self._foods(sorted(foods), rng, size)
        known = all(item.material_id for item in ingredients)
        anything = np.empty(0) if known else self._anything(rng, size)
        for i, item in enumerate(ingredients):
            if item.material_id in drawn:
                values[i], assumed[i] = drawn[item.material_id]
            elif item.material_id:
                values[i], assumed[i] = self._material(item.material_id, rng, size)
            else:
                values[i], assumed[i] = anything[:, rng.permutation(anything.shape[1])[:size]], True
            if item.water_pct is not None:
                self._dry(values[i], item.water_pct)
        return Pools(nutrients, values, assumed)

    def _foods(
        self, foods: Sequence[str], rng: np.random.Generator, size: int
    ) -> dict[str, tuple[Array, NDArray[np.bool_]]]:
        if not foods:
            return {}
        got = compose(self.index, foods, self.index.nutrients, rng, size)
        found = {}
        for i, food in enumerate(foods):
            values, assumed = got.values[:, i].T.copy(), got.assumed[i].copy()
            self._complete(food, values, assumed, rng)
            found[food] = values, assumed
        return found

    def _complete(
        self, food: str, values: Array, assumed: NDArray[np.bool_], rng: np.random.Generator
    ) -> None:
        """Fill blanks of ``foods.csv`` from ``label_materials.csv``; known cells are never touched."""
        own = self.rows.get(food, {})
        for j, nutrient in enumerate(self.index.nutrients):
            if assumed[j] and nutrient in own:
                values[j], assumed[j] = _drawn(own[nutrient], rng, values.shape[1]), False
        fibre, total = (self.index.nutrients.index(n) for n in ("crude_fibre_g", "total_dietary_fibre_g"))
        if assumed[fibre] and not assumed[total]:
            values[fibre] = values[total] * _drawn(self.fibre_rule, rng, values.shape[1])

    def _material(
        self, material: str, rng: np.random.Generator, size: int
    ) -> tuple[Array, NDArray[np.bool_]]:
        own = self.rows[material]
        values = np.zeros((len(self.index.nutrients), size))
        assumed = np.zeros(len(self.index.nutrients), dtype=bool)
        for j, nutrient in enumerate(self.index.nutrients):
            if nutrient in own:
                values[j] = _drawn(own[nutrient], rng, size)
            elif nutrient not in ("carbohydrate_g", "water_g") and "*" not in own:
                values[j], assumed[j] = self._of_any_food(nutrient, rng, size), True
        self._balance(values, own, assumed)
        return values, assumed

    def _balance(self, values: Array, own: Mapping[str, LabelMaterial], assumed: NDArray[np.bool_]) -> None:
        """Keep the parts of a material within its whole; what is left over is carbohydrate."""
        place = self.index.nutrients.index
        parts = [place(name) for name in ("protein_g", "fat_g", "ash_g")]
        room = 100.0 - values[place("water_g")]
        whole = values[parts].sum(axis=0)
        values[parts] *= np.minimum(1.0, room / np.maximum(whole, 1e-9))
        left = np.maximum(room - values[parts].sum(axis=0), 0.0)
        values[place("carbohydrate_g")] = left
        values[place("crude_fibre_g")] = np.minimum(values[place("crude_fibre_g")], left)
        if "*" not in own:
            values[assumed] *= room / 100.0

    def _of_any_food(self, nutrient: str, rng: np.random.Generator, size: int) -> Draws:
        known, _ = self.index.similar("*", nutrient)
        return np.interp(rng.random(size), np.linspace(0.0, 1.0, known.size), known)

    def _anything(self, rng: np.random.Generator, size: int) -> Array:
        """At least ``size`` draws, each of one feed material: what an unknown ingredient may be."""
        foods = [
            f for f, group in zip(self.index.food_ids, self.index.groups, strict=True) if group in ANY_FEED
        ]
        bulk = [name for name, own in self.rows.items() if "*" not in own and "water_g" in own]
        bulk = [name for name in bulk if name not in self.index.row and name != "*"]
        each = -(-size // (len(foods) + len(bulk)))
        blocks = [values for values, _ in self._foods(foods, rng, each).values()]
        blocks += [self._material(name, rng, each)[0] for name in bulk]
        return np.concatenate(blocks, axis=1)

    def _dry(self, values: Array, water_pct: float) -> None:
        """Take water out of a food until ``water_pct`` is left, keeping its dry matter."""
        water = self.index.nutrients.index("water_g")
        dry = 100.0 - values[water]
        values *= (100.0 - water_pct) / np.maximum(dry, 1.0)
        values[water] = water_pct


def _drawn(row: LabelMaterial, rng: np.random.Generator, size: int) -> Draws:
    return pert(rng, row.low, row.mode, row.high, size)
