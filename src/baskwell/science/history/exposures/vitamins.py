"""Exposures that lie in too much of a vitamin.

From supplements, from foods, from doses by mouth or injection.

A part that nobody told of may still have been given: in the worlds in which nothing told of exceeds, the
usual share stays.
"""

import numpy as np

from baskwell.science.draws import Draws
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, highest, settled
from baskwell.science.history.exposures.recent import lately
from baskwell.science.history.exposures.supplements import Given, supplement
from baskwell.science.history.exposures.treatments import INJECTED
from baskwell.science.history.exposures.words import chance_of


def vitamin_a_oversupplied(facts: Facts) -> Opinion | None:
    """Much preformed vitamin A.

    Nearly daily powder or capsules, or retinol of the foods above the cautious limit.
    """
    limit = _retinol_limit(facts)
    excess = _above(facts, "retinol_iu_per_kg_dm", limit) if limit is not None else None
    return _too_much(facts, "vita_oversupp", "vitamin_a", "retinol_iu_per_kg_dm", excess)


def vitamin_d3_oversupplied(facts: Facts) -> Opinion | None:
    """Much vitamin D3: nearly daily powder or drops, or vitamin D3 of the foods above the cautious limit."""
    limit = facts.evidence.limits["d3_diet_block"].value
    excess = _above(facts, "vitamin_d3_iu_per_kg_dm", limit) if limit is not None else None
    return _too_much(facts, "d3_oversupply", "vitamin_d3", "vitamin_d3_iu_per_kg_dm", excess)


def _too_much(
    facts: Facts, exposure_id: str, agent: str, finding_id: str, excess: Draws | None
) -> Opinion | None:
    given = supplement(facts, agent)
    grounds = [_by_mouth(facts, agent), _dosed(facts, agent)]
    told = [chance for chance in grounds if chance is not None]
    over = excess if excess is not None and excess.max() > 0 else None
    if given is None and over is None and not told:
        return None
    rest = [facts.prior(exposure_id)] if given is None else []
    chance = highest(facts.constant(0.0), *told, *([over] if over is not None else []), *rest)
    return Opinion(
        chance,
        "Vitamins given and those of the foods told of are weighed.",
        (finding_id,) if over is not None else (),
    )


def _by_mouth(facts: Facts, agent: str) -> Draws | None:
    given = supplement(facts, agent)
    if given is None:
        return None
    strong = _strong(facts)
    daily = settled(given.days_per_week >= facts.judgement("oversupply_days"))
    usual = daily * facts.judgement(f"oversupply_daily_{agent}") + (1.0 - daily) * facts.judgement(
        "oversupply_seldom"
    )
    return given.chance * np.maximum(usual, strong * _ever(given))


def _ever(given: Given) -> Draws:
    return settled(given.days_per_week > 0.0)


def _strong(facts: Facts) -> Draws:
    """Whether a supplement was measured at many times its label strength."""
    times = [
        row.times_label_strength
        for row in facts.case.history.supplements
        if row.times_label_strength is not None
    ]
    known = [span.high if span.high is not None else span.low or 0.0 for span in times]
    return settled(facts.judgement("oversupply_times_label") <= max(known, default=0.0))


def _dosed(facts: Facts, agent: str) -> Draws | None:
    """Vitamin given as a treatment: by mouth many times, or D3 by injection.

    Vitamin A injections have a row of their own.
    """
    chances = []
    for row in facts.case.history.treatments:
        if row.route in INJECTED and agent == "vitamin_a":
            continue
        named = chance_of(facts, "agent", [row.agent], agent)
        window = lately(facts, row, "oversupply_weeks", "undated_treatment_recent")
        chances.append(named * window * facts.judgement("oversupply_as_treatment"))
    told = [chance for chance in chances if chance.max() > 0]
    return highest(*told) if told else None


def _retinol_limit(facts: Facts) -> float | None:
    """The level at which a diet is blocked; None for eaters of whole prey, whose normal food lies above it.

    The far lower level at which a plant eater's diet is only warned of is no sign of harm.
    """
    if facts.has_tag("whole_prey", "fish_eater"):
        return None
    return facts.evidence.limits["va_diet_omni_block"].value


def _above(facts: Facts, finding_id: str, limit: float) -> Draws | None:
    draws = facts.found(finding_id)
    return np.where(np.isnan(draws), 0.0, settled(draws > limit)) if draws is not None else None
