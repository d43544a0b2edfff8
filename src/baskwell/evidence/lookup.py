"""The questions other floors ask of the evidence, in one place."""

from baskwell.evidence.covers import cover_reaches, covers, species_beneath
from baskwell.evidence.nutrients import WantedNutrient, nutrient_candidates, wanted_nutrient
from baskwell.evidence.wanted import WantedRow, limits_for, names_of, uv_zone, wanted_environment

__all__ = [
    "WantedNutrient",
    "WantedRow",
    "cover_reaches",
    "covers",
    "limits_for",
    "names_of",
    "nutrient_candidates",
    "species_beneath",
    "uv_zone",
    "wanted_environment",
    "wanted_nutrient",
]
