"""Quality of life scored by people: shares of what can be scored, unknown items as a range."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from baskwell.evidence import Evidence

BEST = 2


@dataclass(frozen=True)
class Scoring:
    """One person's scores of one moment: item -> 0, 1 or 2; an item left out was not scored.

    ``states``: what changes some items in a well animal (winter rest, shed, gravid, recent meal).
    """

    at: dt.datetime
    by: str
    scores: Mapping[str, int]
    states: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Score:
    """A scoring as a share of the best.

    ``share`` is of what was scored (None: nothing was), ``low`` and ``high`` have every unscored item at
    its worst and best.
    """

    at: dt.datetime
    by: str
    share: float | None
    low: float
    high: float
    unscored: tuple[str, ...]


def scored(scoring: Scoring, evidence: Evidence) -> Score:
    """The score of one scoring, unweighted: nothing is known about weights.

    Raises ValueError for an item that is not of ``welfare_items.csv`` or a score that is not 0, 1 or 2.

    >>> from baskwell.evidence import load_evidence
    >>> evidence = load_evidence()
    >>> every = {item.item_id: 1 for item in evidence.welfare.welfare_items}
    >>> scored(Scoring(dt.datetime(2026, 3, 1), "A", every), evidence).share   # 12 of 24
    0.5
    """
    items = [item.item_id for item in evidence.welfare.welfare_items]
    _refuse_wrong(scoring, items)
    got = sum(scoring.scores.values())
    unscored = tuple(item for item in items if item not in scoring.scores)
    best, known = BEST * len(items), BEST * len(scoring.scores)
    share = got / known if known else None
    return Score(scoring.at, scoring.by, share, got / best, (got + BEST * len(unscored)) / best, unscored)


def _refuse_wrong(scoring: Scoring, items: list[str]) -> None:
    for item, score in scoring.scores.items():
        if item not in items:
            raise ValueError(f"'{item}' is not scored: write one of {', '.join(items)}.")
        if score not in range(BEST + 1):
            raise ValueError(f"{item} = {score}: write 0 (bad), 1 or 2 (good), or leave it out.")
