"""What reading a label yields: shares, nutrients with their bands, and what a label cannot tell."""

from dataclasses import dataclass, field

from baskwell.science.draws import Draws, Summary


@dataclass(frozen=True)
class IngredientShare:
    """One ingredient as printed, the food it was read as ("" = unknown), and its share as fed.

    ``share`` is a fraction of the feed as added, with the water of the ingredient. ``food_id`` is an id of
    ``foods.csv`` or of ``label_materials.csv``.
    """

    printed: str
    food_id: str
    share: Summary
    note: str


@dataclass(frozen=True)
class NutrientReading:
    """One nutrient of the feed: the feasible band (LP) and the distribution, per kg dry matter.

    ``lowest`` and ``highest`` hold for ingredients of average composition, ``lowest_any_batch`` and
    ``highest_any_batch`` for each ingredient at the poor or rich end of its central 90 %. ``draws`` have
    shape (n_draws,) in ``unit`` and hold what is left when the feed is fed: vitamins have lost what
    storage takes. All are None where nothing is known. Water (``water_g``) is per kg of feed as sold.
    """

    nutrient: str
    name: str
    unit: str
    lowest: float | None
    highest: float | None
    got: Summary | None
    note: str
    draws: Draws | None = field(default=None, repr=False, compare=False)
    lowest_any_batch: float | None = None
    highest_any_batch: float | None = None


@dataclass(frozen=True)
class LabelReading:
    """A label inverted. ``conflicts`` are sentences, empty where the label is consistent.

    ``notes`` say how the label was read: spellings taken for others, usual limits that had to yield,
    archetypes that stand in. ``effective_samples`` and ``r_hat`` are of the worst quantity drawn.
    """

    label_id: str
    ingredients: tuple[IngredientShare, ...]
    nutrients: tuple[NutrientReading, ...]
    conflicts: tuple[str, ...]
    not_knowable: tuple[str, ...]
    effective_samples: float
    r_hat: float
    notes: tuple[str, ...] = ()

    def nutrient(self, name: str) -> NutrientReading:
        """The reading of one nutrient, named as the column of ``foods.csv`` or ``ca_p_ratio``.

        Raises KeyError for a name that a label does not yield.
        """
        found = next((reading for reading in self.nutrients if reading.nutrient == name), None)
        if found is None:
            raise KeyError(f"{name!r} is not read from labels: use a column of foods.csv or ca_p_ratio.")
        return found
