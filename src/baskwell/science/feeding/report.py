"""Everything that feeding tells of one case."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.feeding.acceptance import Acceptance, Offer, acceptances
from baskwell.science.feeding.escalation import Escalation, Fast, escalate
from baskwell.science.feeding.faeces import Passages, passages
from baskwell.science.feeding.fasting import read_fast
from baskwell.science.feeding.intake import Intake, measured_intake
from baskwell.science.feeding.offer import NextOffer, next_offers
from baskwell.science.weight.assumptions import assume
from baskwell.science.weight.trend import mass_trend
from baskwell.science.weight.weighings import usable_weighings


@dataclass(frozen=True)
class FeedingReport:
    """Intake, beliefs, the next offers in order, the fast and what it calls for, and passages at ``now``."""

    now: dt.datetime
    intakes: tuple[Intake, ...]
    beliefs: tuple[Acceptance, ...]
    offers: tuple[NextOffer, ...]
    fast: Fast
    escalation: Escalation
    passages: Passages
    gaps: tuple[str, ...]


def feeding_report(
    case: Case,
    evidence: Evidence,
    value: Mapping[str, float],
    rng: np.random.Generator,
    n_draws: int,
    now: dt.datetime,
    others: Mapping[Offer, tuple[float, float]] | None = None,
) -> FeedingReport:
    """What was eaten, what to offer next, and whether to get help.

    ``value`` weighs foods by what they bring (0 or more), as the diet finds it; each is considered in every
    way that it was shown, or in no special way. ``others``: offers to other animals of the kind.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal
    >>> now, rng = dt.datetime(2026, 3, 14), np.random.default_rng(1)
    >>> case = Case(Animal("terrapene_ornata", age_class="adult"))
    >>> told = feeding_report(case, load_evidence(), {"kale": 1.0}, rng, 500, now)
    >>> told.offers[0].food, told.escalation.answer
    ('kale', 'offer differently')
    """
    intakes, gaps = measured_intake(case, evidence, rng, n_draws, now)
    shown = {one.food for one in intakes}
    wanted = [(food, "") for food in value if food not in shown]
    beliefs = acceptances(intakes, wanted, evidence, case.animal.taxon, others)
    weighings, _ = usable_weighings(case, now)
    trend = mass_trend(weighings, assume(evidence, case.animal.taxon), now)
    fast = read_fast(case, evidence, intakes, trend, now)
    return FeedingReport(
        now=now,
        intakes=intakes,
        beliefs=tuple(beliefs.values()),
        offers=next_offers(tuple(beliefs.values()), value, rng, n_draws),
        fast=fast,
        escalation=escalate(fast, evidence, case.animal.taxon),
        passages=passages(case, now),
        gaps=gaps,
    )
