"""Figures of ``trim_choices.csv`` for one animal, and what kind of part a name means."""

from typing import Literal

from baskwell.evidence import Evidence
from baskwell.evidence.covers import cover_reaches
from baskwell.evidence.rows.keratin import TrimChoice

PartKind = Literal["nail", "beak"]


def choice(evidence: Evidence, taxon_id: str, choice_id: str) -> TrimChoice:
    """The first row of a choice that covers the animal.

    >>> from baskwell.evidence import load_evidence
    >>> choice(load_evidence(), "testudo_graeca", "check_chance").value
    0.2

    Raises KeyError where no row does.
    """
    for row in evidence.keratin.trim_choices:
        if row.choice_id == choice_id and cover_reaches(evidence, row.covers, taxon_id):
            return row
    raise KeyError(choice_id)


def part_kind(part: str) -> PartKind:
    """Whether a part is a nail or a beak edge.

    >>> part_kind("nail_front_left_3"), part_kind("beak_upper")
    ('nail', 'beak')

    Raises ValueError for any other part.
    """
    word = part.lower()
    if word.startswith(("nail", "claw")):
        return "nail"
    if word.startswith("beak"):
        return "beak"
    raise ValueError(f"'{part}' is neither nail nor beak: write nail_front_left_3 or beak_upper.")
