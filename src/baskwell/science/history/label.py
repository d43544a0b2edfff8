"""What is in that pellet: ingredient order and guaranteed analysis inverted to composition."""

from dataclasses import dataclass, field

from baskwell.science.draws import Draws, Summary


@dataclass(frozen=True)
class IngredientShare:
    """One ingredient as printed, the food it was read as ("" = unknown), and its share as fed."""

    printed: str
    food_id: str
    share: Summary
    note: str


@dataclass(frozen=True)
class NutrientReading:
    """One nutrient of the feed: the feasible band (LP) and the distribution, per kg dry matter."""

    nutrient: str
    name: str
    unit: str
    lowest: float | None
    highest: float | None
    got: Summary | None
    note: str
    draws: Draws | None = field(default=None, repr=False, compare=False)


@dataclass(frozen=True)
class LabelReading:
    """A label inverted. ``conflicts`` are sentences, empty where the label is consistent."""

    label_id: str
    ingredients: tuple[IngredientShare, ...]
    nutrients: tuple[NutrientReading, ...]
    conflicts: tuple[str, ...]
    not_knowable: tuple[str, ...]
    effective_samples: float
    r_hat: float
