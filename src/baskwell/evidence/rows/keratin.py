"""Rows of the tables that trims are reckoned with: one frozen class a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TrimChoice:
    """A judged or practised figure of trims; ``fact_id`` is the row of ``trims.csv`` it belongs to."""

    choice_id: str
    covers: str
    value: float
    low: float | None
    high: float | None
    unit: str
    fact_id: str
    why: str
    grade: str
    source: str


@dataclass(frozen=True)
class KeratinTables:
    """The tables of trims, each named as its file in ``clinical/``."""

    trim_choices: tuple[TrimChoice, ...]
