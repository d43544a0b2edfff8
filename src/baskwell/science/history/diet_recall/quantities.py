"""The quantities of a diet that are told as findings, each from the mixture in its own unit."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from baskwell.science.draws import Draws
from baskwell.science.history.diet_recall.mixture import Mixture
from baskwell.science.history.diet_recall.plate import ROW, Array
from baskwell.science.history.diet_recall.priors import Priors

UG_RETINOL_PER_IU = 0.3  # README foods, Units and conversions
UG_BETA_CAROTENE_PER_IU = 0.6
UG_OTHER_CAROTENE_PER_IU = 1.2
PERCENT = 10.0  # g per kg in one per cent
UG_PER_MG = 1000.0
MG_PER_PERCENT = 10_000.0  # mg per kg in one per cent
LEAST_PHOSPHORUS = 1e-9  # mg per kg: keeps a ratio finite where a diet of pure salts holds none


@dataclass(frozen=True)
class Quantity:
    """One finding of the diet.

    ``target`` names the nutrient in ``nutrient_targets.csv`` ("" = none); ``rests_on`` the columns of
    ``foods.csv`` it is summed from. ``limit`` is the topic in ``limits.csv``. ``per_target`` turns the unit
    of the target into ``unit``.
    """

    finding_id: str
    name: str
    unit: str
    target: str
    rests_on: tuple[str, ...]
    limit: str = ""
    per_target: float = 1.0


DRY = "% of dry matter"
PER_KG_DRY = "mg per kg dry matter"
IU_PER_KG_DRY = "IU per kg dry matter"
QUANTITIES = (
    Quantity("crude_protein_pct_dm", "Protein", DRY, "crude_protein", ("protein_g",)),
    Quantity("crude_fibre_pct_dm", "Crude fibre", DRY, "crude_fibre", ("crude_fibre_g",)),
    Quantity("fat_pct_dm", "Fat", DRY, "fat", ("fat_g",)),
    Quantity("calcium_pct_dm", "Calcium", DRY, "calcium", ("calcium_mg",), "calcium"),
    Quantity("phosphorus_pct_dm", "Phosphorus", DRY, "phosphorus", ("phosphorus_mg",)),
    Quantity(
        "ca_p_ratio",
        "Calcium to phosphorus",
        "to 1",
        "Ca_to_P",
        ("calcium_mg", "phosphorus_mg"),
        "calcium_to_phosphorus",
    ),
    Quantity(
        "retinol_iu_per_kg_dm",
        "Vitamin A from animal food",
        IU_PER_KG_DRY,
        "vitamin_A",
        ("retinol_ug",),
        "vitamin_a",
    ),
    Quantity(
        "vitamin_a_activity_iu_per_kg_dm",
        "Vitamin A from animal and plant food",
        IU_PER_KG_DRY,
        "vitamin_A",
        ("retinol_ug", "beta_carotene_ug"),
    ),
    Quantity(
        "vitamin_d3_iu_per_kg_dm",
        "Vitamin D3 in food",
        IU_PER_KG_DRY,
        "vitamin_D3",
        ("vitamin_d3_iu",),
        "vitamin_d3",
    ),
    Quantity(
        "vitamin_e_mg_per_kg_dm", "Vitamin E", PER_KG_DRY, "vitamin_E", ("vitamin_e_mg",), per_target=0.67
    ),
    Quantity("thiamin_mg_per_kg_dm", "Thiamin", PER_KG_DRY, "thiamin", ("thiamin_mg",)),
    Quantity("iodine_mg_per_kg_dm", "Iodine", PER_KG_DRY, "iodine", ("iodine_ug",)),
    Quantity("selenium_mg_per_kg_dm", "Selenium", PER_KG_DRY, "selenium", ("selenium_ug",)),
    Quantity("oxalate_mg_per_kg_dm", "Oxalate", PER_KG_DRY, "", ("oxalate_mg",)),
)


def measure(finding_id: str, per_kg: Array, carotene_used: Draws) -> Draws:
    """One quantity from amounts per kg of dry matter (rows of ``plate.NUTRIENTS``), in its finding's unit.

    ``carotene_used`` is the part of the carotenoid vitamin A that the animal can use (see
    ``carotene_used_by``). Raises KeyError for an id that is not among ``QUANTITIES``.

    >>> held = np.zeros((len(ROW), 1)); held[ROW["retinol_ug"]], held[ROW["beta_carotene_ug"]] = 300.0, 600.0
    >>> float(measure("retinol_iu_per_kg_dm", held, np.array([0.5]))[0])             # 300 ug / 0.3
    1000.0
    >>> float(measure("vitamin_a_activity_iu_per_kg_dm", held, np.array([0.5]))[0])  # + half of 600 / 0.6
    1500.0
    """
    return _MEASURES[finding_id](per_kg, carotene_used)


def carotene_used_by(priors: Priors) -> Draws:
    """All for plant eaters; from nothing to all for every other animal (README nutrition, Carotenoids)."""
    if priors.reaches("tag:herbivorous") and not priors.reaches("all-tag:herbivorous"):
        return priors.constant(1.0)
    return priors.anywhere("carotene_used")


def measured(mixture: Mixture, carotene_used: Draws) -> Mapping[str, Draws]:
    """All quantities of a diet by finding id."""
    ids = (quantity.finding_id for quantity in QUANTITIES)
    return {finding_id: measure(finding_id, mixture.per_kg, carotene_used) for finding_id in ids}


def _scaled(column: str, divisor: float) -> Callable[[Array, Draws], Draws]:
    def take(per_kg: Array, _: Draws) -> Draws:
        return np.asarray(per_kg[ROW[column]] / divisor)

    return take


def _ratio(per_kg: Array, _: Draws) -> Draws:
    calcium, phosphorus = per_kg[ROW["calcium_mg"]], per_kg[ROW["phosphorus_mg"]]
    return np.asarray(calcium / np.maximum(phosphorus, LEAST_PHOSPHORUS))


def _activity(per_kg: Array, carotene_used: Draws) -> Draws:
    retinol = per_kg[ROW["retinol_ug"]] / UG_RETINOL_PER_IU
    other = per_kg[ROW["alpha_carotene_ug"]] + per_kg[ROW["beta_cryptoxanthin_ug"]]
    carotene = per_kg[ROW["beta_carotene_ug"]] / UG_BETA_CAROTENE_PER_IU + other / UG_OTHER_CAROTENE_PER_IU
    return np.asarray(retinol + carotene_used * carotene)


_MEASURES: Mapping[str, Callable[[Array, Draws], Draws]] = {
    "crude_protein_pct_dm": _scaled("protein_g", PERCENT),
    "crude_fibre_pct_dm": _scaled("crude_fibre_g", PERCENT),
    "fat_pct_dm": _scaled("fat_g", PERCENT),
    "calcium_pct_dm": _scaled("calcium_mg", MG_PER_PERCENT),
    "phosphorus_pct_dm": _scaled("phosphorus_mg", MG_PER_PERCENT),
    "ca_p_ratio": _ratio,
    "retinol_iu_per_kg_dm": _scaled("retinol_ug", UG_RETINOL_PER_IU),
    "vitamin_a_activity_iu_per_kg_dm": _activity,
    "vitamin_d3_iu_per_kg_dm": _scaled("vitamin_d3_iu", 1.0),
    "vitamin_e_mg_per_kg_dm": _scaled("vitamin_e_mg", 1.0),
    "thiamin_mg_per_kg_dm": _scaled("thiamin_mg", 1.0),
    "iodine_mg_per_kg_dm": _scaled("iodine_ug", UG_PER_MG),
    "selenium_mg_per_kg_dm": _scaled("selenium_ug", UG_PER_MG),
    "oxalate_mg_per_kg_dm": _scaled("oxalate_mg", 1.0),
}
