"""Rows of the tables that turn words about food into draws: one frozen class a table."""

from dataclasses import dataclass

from baskwell.evidence.rows.foods import Food


@dataclass(frozen=True, slots=True)
class DietPrior:
    """A value that recalling a diet needs and nobody told; (low, most likely, high) of a PERT draw."""

    prior_id: str
    meaning: str
    low: float
    mode: float
    high: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class FoodGroup:
    """A group word of the case file: which groups of ``foods.csv`` it holds, and what to ask.

    ``also_foods`` and ``not_foods`` are food ids that belong, or do not belong, whatever their group.
    ``diet_mix_words`` are the words by which ``diet_mix.csv`` names the group. All four are split by ``;``.
    """

    group_word: str
    name: str
    food_groups: str
    also_foods: str
    not_foods: str
    diet_mix_words: str
    question: str
    grade: str
    source: str

    def holds(self, food: Food) -> bool:
        """Whether a food belongs to the group.

        >>> from baskwell.evidence.loader import load_evidence
        >>> evidence = load_evidence()
        >>> fungi = next(row for row in evidence.diet_tables.food_groups if row.group_word == "fungi")
        >>> fungi.holds(evidence.foods["mushroom_white"])
        True
        """
        if food.food_id in self.not_foods.split(";"):
            return False
        return food.group in self.food_groups.split(";") or food.food_id in self.also_foods.split(";")

    def is_called(self, word: str) -> bool:
        """Whether ``diet_mix.csv`` means this group by a word."""
        return word in self.diet_mix_words.split(";")


@dataclass(frozen=True, slots=True)
class GroupFood:
    """A food that a group word usually stands for; ``covers`` says for which animals."""

    group_word: str
    food_id: str
    covers: str
    weight: float
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class FeedDensity:
    """One nutrient of a complete feed whose label is not known, per kg of dry matter (water: as sold)."""

    feed_id: str
    covers: str
    nutrient: str
    low: float
    mode: float
    high: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class SupplementContent:
    """What a supplement of unknown strength holds; ``basis`` is ``g`` (per gram) or ``dose``."""

    agent_id: str
    nutrient: str
    basis: str
    low: float
    mode: float
    high: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class DietTables:
    """The tables of diet recall, each named as its file in ``history/``."""

    diet_priors: tuple[DietPrior, ...]
    food_groups: tuple[FoodGroup, ...]
    group_foods: tuple[GroupFood, ...]
    feed_densities: tuple[FeedDensity, ...]
    supplement_contents: tuple[SupplementContent, ...]
