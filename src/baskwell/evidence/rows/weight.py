"""Rows of the tables that the weight trend needs: one frozen class a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WeightChoice:
    """A judged figure of the weight trend; of one choice the first row that covers the animal counts."""

    choice_id: str
    covers: str
    value: float
    unit: str
    why: str
    grade: str
    source: str


@dataclass(frozen=True)
class WeightTables:
    """The tables of the weight trend, each named as its file in ``clinical/``."""

    weight_choices: tuple[WeightChoice, ...]
