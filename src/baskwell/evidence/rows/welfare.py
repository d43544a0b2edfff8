"""Rows of the tables that welfare scoring needs: one frozen class a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WelfareItem:
    """One thing to score 0 (bad), 1 or 2 (good).

    ``acute``: at 0 for some days it calls for a veterinarian by itself. ``changed_by``: states that change
    it in a well animal, so that a 0 is told with the state.
    """

    item_id: str
    name: str
    acute: bool
    changed_by: tuple[str, ...]
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class WelfareChoice:
    """A judged figure of welfare scoring."""

    choice_id: str
    value: float
    unit: str
    why: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class WelfarePrompt:
    """A state of things that calls for a talk with the veterinarian; never a recommendation of more."""

    prompt_id: str
    name: str
    grade: str
    source: str


@dataclass(frozen=True)
class WelfareTables:
    """The tables of welfare scoring, each named as its file in ``clinical/``."""

    welfare_items: tuple[WelfareItem, ...]
    welfare_choices: tuple[WelfareChoice, ...]
    welfare_prompts: tuple[WelfarePrompt, ...]

    def choice(self, choice_id: str) -> float:
        """The value of one judged choice."""
        return next(row.value for row in self.welfare_choices if row.choice_id == choice_id)
