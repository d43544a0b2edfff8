"""Rows of the tables that turn words about food into draws: one frozen class a table."""

from dataclasses import dataclass


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
    ``diet_mix_words`` are the words by which ``diet_mix.csv`` names the group.
    """

    group_word: str
    name: str
    food_groups: tuple[str, ...]
    also_foods: tuple[str, ...]
    not_foods: tuple[str, ...]
    diet_mix_words: tuple[str, ...]
    question: str
    grade: str
    source: str


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
