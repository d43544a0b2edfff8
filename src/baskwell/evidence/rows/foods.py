"""Rows of the foods tables: one frozen class a table, one attribute a column."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Food:
    """Composition of one food per 100 g as fed; None is not known, never zero."""

    food_id: str
    name: str
    group: str
    water_g: float | None
    energy_kcal: float | None
    protein_g: float | None
    fat_g: float | None
    crude_fibre_g: float | None
    total_dietary_fibre_g: float | None
    ndf_g: float | None
    ash_g: float | None
    carbohydrate_g: float | None
    sugars_g: float | None
    calcium_mg: float | None
    phosphorus_mg: float | None
    magnesium_mg: float | None
    potassium_mg: float | None
    sodium_mg: float | None
    iron_mg: float | None
    zinc_mg: float | None
    copper_mg: float | None
    manganese_mg: float | None
    selenium_ug: float | None
    iodine_ug: float | None
    retinol_ug: float | None
    beta_carotene_ug: float | None
    alpha_carotene_ug: float | None
    beta_cryptoxanthin_ug: float | None
    lutein_zeaxanthin_ug: float | None
    vitamin_a_iu: float | None
    vitamin_d3_iu: float | None
    vitamin_e_mg: float | None
    thiamin_mg: float | None
    vitamin_c_mg: float | None
    oxalate_mg: float | None
    flags: tuple[str, ...]
    source_id: str
    source_ref: str
    adf_g: float | None
    quality: str
    fill_refs: str


@dataclass(frozen=True, slots=True)
class Variability:
    """Spread of one nutrient of a food, food group (*group) or in general (*)."""

    food_id: str
    nutrient: str
    n: int | None
    mean: float | None
    sd: float | None
    se: float | None
    min: float | None
    max: float | None
    cv: float | None
    basis: Literal["as_fed", "dm"]
    kind: str
    source_id: str
    source_ref: str
    note: str


@dataclass(frozen=True, slots=True)
class Measure:
    """A household measure in grams."""

    food_id: str
    measure: str
    amount: float
    grams: float
    grams_per_unit: float
    n: int | None
    sd_g: float | None
    low_g: float | None
    high_g: float | None
    source_id: str
    source_ref: str
    quality: str


@dataclass(frozen=True, slots=True)
class LabelArchetype:
    """An invented label typical of the trade."""

    label_id: str
    type: str
    basis: Literal["as_fed"]
    ingredients: tuple[str, ...]
    crude_protein_min_pct: float | None
    crude_fat_min_pct: float | None
    crude_fibre_max_pct: float | None
    moisture_max_pct: float
    ash_max_pct: float | None
    calcium_min_pct: float | None
    calcium_max_pct: float | None
    phosphorus_min_pct: float | None
    vitamin_a_min_iu_per_kg: float | None
    vitamin_d3_min_iu_per_kg: float | None
    vitamin_c_min_mg_per_kg: float | None
    other: str
    status: Literal["invented, typical of trade"]
    notes: str


@dataclass(frozen=True, slots=True)
class CompositionPrior:
    """What to take where ``foods.csv`` or ``variability.csv`` is silent.

    ``kind``: ``absent`` (zero by nature, not an assumption), ``range`` (PERT low-mode-high),
    ``share_of`` (that share of ``of_nutrient``), ``spread`` (90 % of foods lie within this many times
    either way), ``purity`` (the same for a pure salt, instead of any other spread), ``retention`` (share
    of the vitamin left when fed). ``nutrient`` holds columns of ``foods.csv`` (``*`` = any) and
    ``applies_to`` food ids, food groups, ``flag:...``, ``label`` or ``*``, split by ``;``.
    """

    prior_id: str
    kind: Literal["absent", "purity", "range", "retention", "share_of", "spread"]
    nutrient: str
    applies_to: str
    low: float
    mode: float
    high: float
    unit: str
    of_nutrient: Literal["carbohydrate_g", "total_dietary_fibre_g", ""]
    evidence_grade: Literal["B", "C"]
    source_id: str
    note: str

    @property
    def nutrients(self) -> tuple[str, ...]:
        """The nutrients it speaks of."""
        return tuple(self.nutrient.split(";"))

    @property
    def foods(self) -> tuple[str, ...]:
        """The foods, groups or flags it speaks of."""
        return tuple(self.applies_to.split(";"))


@dataclass(frozen=True, slots=True)
class FoodOrigin:
    """Where a food row comes from: number in the US table, names in the two others."""

    food_id: str
    name: str
    group: str
    ndb: int | None
    ifct_fill: str
    swiss_fill: str
    flags: tuple[str, ...]
