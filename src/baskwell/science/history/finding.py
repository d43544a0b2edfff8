"""One finding about past care: what was wanted, what was got, and how sure that is."""

from dataclasses import dataclass, field
from typing import Literal

from baskwell.science.draws import Against, Draws, Summary

Topic = Literal["diet", "light", "heat", "humidity", "space", "substrate", "water", "hygiene"]
Verdict = Literal["fits", "doubtful", "does not fit", "not known"]


@dataclass(frozen=True)
class Wanted:
    """The wanted range and who says so. ``low`` or ``high`` None = that side is not limited.

    ``evidence_ids`` are keys that ``baskwell evidence show`` understands; ``grade`` is the evidence
    grade (``judgement`` for the cautious limits, which win over other tables).
    """

    low: float | None
    high: float | None
    said_by: str
    grade: str
    evidence_ids: tuple[str, ...] = ()


@dataclass(frozen=True)
class Finding:
    """One line of what it lived in.

    ``finding_id`` is stable and names quantity and unit (``retinol_iu_per_kg_dm``,
    ``basking_surface_c``). ``got`` and ``chances`` are None where nothing is known; then ``verdict``
    is "not known" and ``ask`` holds the question that would tell. ``draws`` stay out of any export.
    """

    finding_id: str
    topic: Topic
    name: str
    unit: str
    wanted: Wanted | None
    got: Summary | None
    chances: Against | None
    verdict: Verdict
    sentence: str
    ask: str = ""
    draws: Draws | None = field(default=None, repr=False, compare=False)


def judge(chances: Against | None) -> Verdict:
    """Turn probabilities into one of four words.

    ``fits`` when at least 80 % of the draws lie inside, ``does not fit`` when at least 80 % lie
    outside, ``doubtful`` between, ``not known`` without draws. The 80 % is judgement: four in five.

    >>> judge(Against(0.9, 0.1, 0.0))
    'does not fit'
    >>> judge(None)
    'not known'
    """
    if chances is None:
        return "not known"
    if chances.inside >= 0.8:
        return "fits"
    return "does not fit" if chances.inside <= 0.2 else "doubtful"
