"""Rows of the tables that the feeding steps need: one frozen class a table."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class FeedingChoice:
    """A judged figure that the feeding steps need and no source gives."""

    choice_id: str
    value: float
    unit: str
    why: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class EscalationRule:
    """A row of ``weaning.csv`` as it is reckoned with: for whom, from when, and what then.

    ``age_classes`` empty = any age. ``from_note``: the figures stand in the note of the row.
    """

    rule_id: str
    row_id: str
    covers: str
    age_classes: tuple[str, ...]
    after_winter_rest: bool
    measure: Literal["days", "mass loss", "refused offers"]
    low: float
    high: float
    unit: str
    answer: Literal["assisted feeding", "vet"]
    from_note: bool
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class AppetitePrior:
    """How likely an offer is taken before this animal was tried, worth ``strength`` offers.

    The first row that fits counts; an empty list fits any food or presentation.
    """

    prior_id: str
    covers: str
    food_words: tuple[str, ...]
    presentations: tuple[str, ...]
    chance: float
    strength: float
    why: str
    grade: str
    source: str


@dataclass(frozen=True)
class FeedingTables:
    """The tables of the feeding steps, each named as its file in ``nutrition/``."""

    feeding_choices: tuple[FeedingChoice, ...]
    escalation_rules: tuple[EscalationRule, ...]
    appetite_priors: tuple[AppetitePrior, ...]

    def choice(self, choice_id: str) -> float:
        """The value of one judged choice."""
        return next(row.value for row in self.feeding_choices if row.choice_id == choice_id)
