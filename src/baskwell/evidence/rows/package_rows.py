"""Rows of the tables that speak about the package itself: grades, units, choices, exceptions."""

from dataclasses import dataclass
from typing import Literal

GradeClass = Literal[
    "measured",
    "published",
    "extrapolated",
    "common practice",
    "judgement",
    "memory",
    "own",
    "definition",
    "none",
]


@dataclass(frozen=True, slots=True)
class Grade:
    """What a grade word means; ``area`` empty = in every area."""

    area: str
    grade: str
    class_: GradeClass
    meaning: str


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit or the head of one (``IU/kg`` of ``IU/kg animal``), and the range that can be meant."""

    unit: str
    quantity: str
    same_as: str
    physical_low: float | None
    physical_high: float | None


@dataclass(frozen=True, slots=True)
class Preference:
    """Which row is used where sources disagree: the choice, what decided it and where that is written."""

    table: str
    subject: str
    topic: str
    preferred: tuple[str, ...]
    instead_of: tuple[str, ...]
    why: str
    said_by: str


@dataclass(frozen=True, slots=True)
class KnownException:
    """A finding of the checks that is known and accepted, until a date or an event."""

    rule: str
    table: str
    row_key: str
    column: str
    reason: str
    until: str
