"""What is assumed of scales, guts and growth for one kind of animal (``weight_choices.csv``)."""

import math
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.covers import cover_reaches
from baskwell.science.weight.filter import TrendModel


@dataclass(frozen=True, slots=True)
class Assumptions:
    """The trend's model; ``reading_sd``: scale and gut fill of one weighing, as a share of mass."""

    model: TrendModel
    reading_sd: float


def choice(evidence: Evidence, taxon_id: str, choice_id: str) -> float:
    """A judged figure for a taxon: of its rows the first that covers the animal.

    >>> from baskwell.evidence import load_evidence
    >>> [choice(load_evidence(), taxon, "gut_fill") for taxon in ("python_regius", "iguana_iguana")]
    [0.04, 0.02]
    """
    rows = evidence.weight.weight_choices
    return next(
        row.value
        for row in rows
        if row.choice_id == choice_id and cover_reaches(evidence, row.covers, taxon_id)
    )


def assume(evidence: Evidence, taxon_id: str) -> Assumptions:
    """The assumptions for a taxon.

    What a scale may be off (``measuring.csv``) is taken as two standard deviations; gut fill adds to it.

    >>> from baskwell.evidence import load_evidence
    >>> round(assume(load_evidence(), "iguana_iguana").reading_sd, 4)   # sqrt(0.01**2 + 0.02**2)
    0.0224
    """
    model = TrendModel(
        level_wander=choice(evidence, taxon_id, "level_wander"),
        slope_wander=choice(evidence, taxon_id, "slope_wander"),
        slope_prior=choice(evidence, taxon_id, "slope_prior"),
        level_prior=choice(evidence, taxon_id, "level_prior") * math.log(10),
        tails=choice(evidence, taxon_id, "slip_tails"),
    )
    scale = next(tool.error or 0.0 for tool in evidence.dosing.measuring if tool.measures == "animal")
    return Assumptions(model, math.hypot(scale / 2, choice(evidence, taxon_id, "gut_fill")))
