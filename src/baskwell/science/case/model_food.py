"""What it was fed, the labels of its feeds, and what is in the cupboard."""

from collections.abc import Mapping
from dataclasses import dataclass

from baskwell.science.case.fields import (
    flag,
    identifier,
    identifiers,
    other,
    quantity,
    tables,
    text,
    word,
)
from baskwell.science.case.span import Span

FOOD_GROUPS = (
    "fruit", "greens", "vegetables", "invertebrates", "vertebrates", "fungi", "complete_feed", "pet_food",
)  # fmt: skip
AMOUNT_WORDS = (
    "only", "always", "mostly", "half", "a lot", "sometimes", "a little", "rarely", "treats", "dust", "pinch",
)  # fmt: skip
AMOUNT_ALIASES = {
    "nothing but": "only",
    "every meal": "always",
    "every meal holds some": "always",
    "main item": "mostly",
    "most of it": "mostly",
    "plenty": "a lot",
    "often": "a lot",
    "now and then": "sometimes",
    "few": "a little",
    "some": "a little",
    "seldom": "rarely",
    "hardly ever": "rarely",
}


@dataclass(frozen=True)
class Amount:
    """How much of a food was offered: a word, grams or a share; at most one is set."""

    word: str | None = None
    grams: Span | None = None
    share: Span | None = None


@dataclass(frozen=True)
class DietItem:
    """One food, label or food group of the diet history."""

    food: str = identifier("@foods", "@labels", *FOOD_GROUPS, required=True)
    amount: Amount | None = other("amount", vocabulary=AMOUNT_WORDS, aliases=AMOUNT_ALIASES)
    days_per_week: Span | None = quantity("days a week", 0, 7)
    form: str | None = word("fresh", "dry", "tinned", "frozen", "cooked")
    presentation: str | None = word("whole", "chopped", "mixed", "dish", "hand", "tongs")
    live: bool | None = flag()
    gut_loaded: bool | None = flag()
    treated_with: str = text()
    period: str | None = word("always", "summer", "winter", "before")
    notes: str = text()


@dataclass(frozen=True)
class Supplement:
    """One supplement of the diet history."""

    agent: str = identifier("@agents", required=True)
    amount: Amount | None = other("amount", vocabulary=AMOUNT_WORDS, aliases=AMOUNT_ALIASES)
    days_per_week: Span | None = quantity("days a week", 0, 7)
    strength: str = text()
    times_label_strength: Span | None = quantity("times", 0, 1000)
    months: Span | None = quantity("months", 0, 1500)
    stopped_months_ago: Span | None = quantity("months", 0, 1500)
    notes: str = text()


@dataclass(frozen=True)
class Label:
    """The label of a feed: ingredients in printed order and its guarantees, as fed.

    ``ingredients`` is None where the owner does not know them. ``guaranteed`` maps names such as
    ``crude_protein_min_pct`` to the printed number; a range printed for one nutrient is kept as its
    ``_min_`` and ``_max_`` guarantee.
    """

    ingredients: tuple[str, ...] | None = other("texts")
    guaranteed: Mapping[str, float] = other("guarantees", default=dict)
    notes: str = text()


@dataclass(frozen=True)
class Product:
    """A supplement in the cupboard, with its printed strength."""

    agent: str = identifier("@agents", required=True)
    strength: str = text()
    notes: str = text()


@dataclass(frozen=True)
class Pantry:
    """Foods and products on hand."""

    foods: tuple[str, ...] = identifiers("@foods")
    products: tuple[Product, ...] = tables("Product")
    notes: str = text()
