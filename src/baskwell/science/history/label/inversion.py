"""One list of ingredients with its guarantees, inverted: everything between the text and the reading."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.rows.labels import LabelGuarantee
from baskwell.science.composition_index import CompositionIndex
from baskwell.science.history.label.clues import is_wet, product_clues, share_clues
from baskwell.science.history.label.conflicts import reconcile
from baskwell.science.history.label.content import RATIO, Band, Content, bands_of, content_of
from baskwell.science.history.label.guarantees import Guarantee
from baskwell.science.history.label.materials import Materials, Pools
from baskwell.science.history.label.names import Ingredient, NameIndex
from baskwell.science.history.label.recipe import Moisture, Recipe
from baskwell.science.history.label.sampler import Effort, draw_recipes
from baskwell.science.history.label.supply import Supply, not_told, supplies_of

Array = NDArray[np.float64]

POOL = 1024
NOT_READ = {
    "vitamin_a_iu"
}  # mixes retinol and carotenes at human factors (foods README); both are read apart


@dataclass(frozen=True, eq=False)
class LabelTables:
    """Everything that labels are read with; built once and used for all labels of a case."""

    evidence: Evidence
    names: NameIndex
    materials: Materials
    usual_moisture: LabelGuarantee

    @classmethod
    def from_evidence(cls, evidence: Evidence, index: CompositionIndex | None = None) -> "LabelTables":
        """Build the indexes (about 0.1 s); ``index`` saves the larger half where it exists already."""
        rows = evidence.feed_labels.label_guarantees
        usual = next(row for row in rows if (row.stem, row.side) == ("moisture", "max"))
        return cls(
            evidence, NameIndex.from_evidence(evidence), Materials.from_evidence(evidence, index), usual
        )


@dataclass(frozen=True, eq=False)
class Inversion:
    """What a list and its guarantees leave possible.

    ``shares`` (n_draws, n) are fractions as added; ``draws`` maps each nutrient to its content per kg dry
    matter (Ca:P a ratio, water g per kg as sold) when fed; ``assumed`` maps each nutrient to the part of
    the dry matter whose content no table knows.
    """

    ingredients: tuple[Ingredient, ...]
    shares: Array = field(repr=False)
    draws: Mapping[str, Array] = field(repr=False)
    bands: Mapping[str, Band] = field(repr=False)
    assumed: Mapping[str, float]
    conflicts: tuple[str, ...]
    notes: tuple[str, ...]
    not_knowable: tuple[str, ...]
    effective_samples: float
    r_hat: float


@dataclass(frozen=True)
class Manner:
    """How to invert: effort, salt practice, whether bands are wanted, pools where they exist already."""

    effort: Effort | None = None
    salt_marker: bool = True
    bands: bool = True
    pools: Pools | None = None


def invert(
    ingredients: Sequence[Ingredient],
    guarantees: Sequence[Guarantee],
    tables: LabelTables,
    rng: np.random.Generator,
    n_draws: int,
    manner: Manner = Manner(),
) -> Inversion:
    """Invert a list of at least one ingredient; guarantees may be empty."""
    recipe, conflicts, notes = reconcile(_recipe(ingredients, guarantees, tables, rng, manner))
    drawn = draw_recipes(recipe, rng, manner.effort or Effort(kept=max(8, -(-n_draws // Effort().chains))))
    content, shares = content_of(recipe, drawn, rng, n_draws)
    supplies = supplies_of(ingredients, guarantees, tables.evidence, 1.0 - content.water / 100.0, rng)
    return Inversion(
        ingredients=tuple(ingredients),
        shares=shares,
        draws=_draws(recipe, content, supplies),
        bands=_supplied(bands_of(recipe), supplies) if manner.bands else {},
        assumed=_assumed(recipe, shares),
        conflicts=conflicts,
        notes=notes,
        not_knowable=not_told(tuple(supplies.values())),
        effective_samples=min(drawn.effective_samples, float(n_draws)),
        r_hat=drawn.r_hat,
    )


def _recipe(
    ingredients: Sequence[Ingredient],
    guarantees: Sequence[Guarantee],
    tables: LabelTables,
    rng: np.random.Generator,
    manner: Manner,
) -> Recipe:
    wet = is_wet(ingredients, guarantees)
    printed = [item for item in guarantees if item.nutrient == "water_g" and item.row.side != "min"]
    usual = Guarantee("", 0.0, tables.usual_moisture)
    moisture = None if wet else Moisture.of(printed[0] if printed else None, usual)
    pools = manner.pools or tables.materials.pools(ingredients, rng, POOL)
    clues = (*product_clues(guarantees, wet), *share_clues(ingredients, manner.salt_marker))
    return Recipe.of(ingredients, pools, clues, moisture)


def _draws(recipe: Recipe, content: Content, supplies: Mapping[str, Supply]) -> dict[str, Array]:
    draws = dict(zip(recipe.pools.nutrients, content.per_kg_dry, strict=True))
    for name, supply in supplies.items():
        draws[name] = supply.content(draws[name])
    draws["water_g"] = 10.0 * content.water
    draws[RATIO] = draws["calcium_mg"] / np.maximum(draws["phosphorus_mg"], 1e-9)
    return {name: values for name, values in draws.items() if name not in NOT_READ}


def _supplied(bands: dict[str, Band], supplies: Mapping[str, Supply]) -> dict[str, Band]:
    for name, supply in supplies.items():
        band = bands[name]
        average = supply.band(band.lowest, band.highest)
        bands[name] = Band(*average, *supply.band(band.lowest_any_batch, band.highest_any_batch))
    return bands


def _assumed(recipe: Recipe, shares: Array) -> dict[str, float]:
    dry = shares.mean(axis=0) * (100.0 - recipe.mean[:, recipe.pools.column("water_g")])
    part = dry / max(float(dry.sum()), 1e-9)
    return dict(zip(recipe.pools.nutrients, (part @ recipe.pools.assumed).tolist(), strict=True))
