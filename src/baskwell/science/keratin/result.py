"""What trims are told by: cuts per part, two ways to do it, what to prepare, and what only a vet does."""

from dataclasses import dataclass
from typing import Literal

PartState = Literal["cut", "slice", "leave", "refused", "asks"]


@dataclass(frozen=True)
class Cut:
    """One cut: from, to and how much, mm; ``session`` counts from 1."""

    part: str
    session: int
    from_mm: float
    to_mm: float

    @property
    def cut_mm(self) -> float:
        """How much is taken, mm."""
        return self.from_mm - self.to_mm


@dataclass(frozen=True)
class PartPlan:
    """What may be done to one part.

    ``cut``: measured and planned; ``slice``: the quick is not seen, one thin slice at a time; ``leave``:
    nothing is to be cut; ``refused``: it cannot be computed, or is for a veterinarian; ``asks``: something
    must be looked at first. ``safe_mm``: the most that may be cut; ``over_mm``: beyond its target length;
    both None where not known. ``remains_mm``: what stays over its target until the quick has drawn back.
    """

    part: str
    state: PartState
    safe_mm: float | None
    over_mm: float | None
    remains_mm: float | None
    staged: tuple[Cut, ...]
    at_once: tuple[Cut, ...]
    sentence: str
    said_by: str


@dataclass(frozen=True)
class Option:
    """One way to do all parts: how many sessions, of which minutes, by how many people, over how many weeks.

    ``minutes`` low and high of the longest session; a session longer than ``sittings_of`` minutes is
    split into ``sittings``.
    """

    name: str
    cuts: tuple[Cut, ...]
    sessions: int
    minutes: tuple[float, float]
    sittings: int
    people: int
    weeks: float
    sentence: str


@dataclass(frozen=True)
class VetOnly:
    """A case for a veterinarian alone; ``applies`` None where nobody looked, or it shows only on the day."""

    case: str
    applies: bool | None
    sentence: str
    fact_id: str
    said_by: str


@dataclass(frozen=True)
class Advice:
    """What to prepare or to mind, with its row of ``trims.csv``."""

    topic: str
    sentence: str
    fact_id: str
    grade: str
    said_by: str


@dataclass(frozen=True)
class TrimPlan:
    """The plan: parts, the staged and the one-session way side by side, and what belongs to them."""

    parts: tuple[PartPlan, ...]
    staged: Option | None
    at_once: Option | None
    prepare: tuple[Advice, ...]
    vet_only: tuple[VetOnly, ...]
    gaps: tuple[str, ...]
