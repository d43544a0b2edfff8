"""From facts to a belief about every exposure.

Statements first, then rules, then verdicts, else the usual share.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.draws import Draws
from baskwell.science.history.belief import Exposure
from baskwell.science.history.exposures.facts import Facts, gather
from baskwell.science.history.exposures.judged import is_weighed, odds_factor, verdict
from baskwell.science.history.exposures.opinion import Opinion, moved
from baskwell.science.history.exposures.parts import DietPart, LightPart, SurroundingsPart
from baskwell.science.history.exposures.rules import RULES

NOT_TOLD = "Nothing told of bears on it; the usual share among surrendered animals stands in."
CONTRADICTED = "It is stated and denied at once; ask again."


def believe_exposures(
    case: Case,
    evidence: Evidence,
    diet: DietPart | None,
    light: LightPart,
    surroundings: SurroundingsPart,
    n_draws: int,
    rng: np.random.Generator,
) -> tuple[Exposure, ...]:
    """Believe in every exposure of ``clinical/exposures.csv`` as far as the case says.

    Each ``probability`` has shape ``(n_draws,)``. In order of weight: what the owner states or denies
    outright settles an exposure; else its rule reads it from the facts; a verdict of a veterinarian or
    the source ("diet judged right") moves the odds of what is not settled; where nothing bears on it, it
    is "unknown" and carries the share of ``clinical/exposure_priors.csv``. A fact that is missing raises
    and lowers nothing. Raises KeyError for a taxon that ``clinical/taxa.csv`` does not hold. Source of
    the weights: judgement, ``clinical/exposure_judgements.csv``.
    """
    facts = gather(case, evidence, diet, light, surroundings, n_draws, rng)
    return tuple(_believe(facts, exposure_id) for exposure_id in RULES)


def _believe(facts: Facts, exposure_id: str) -> Exposure:
    opinion = _outright(facts, exposure_id)
    if opinion is None and _contradicted(facts, exposure_id):
        return _unknown(facts, exposure_id, CONTRADICTED)
    if opinion is None:
        opinion = _weighed(facts, exposure_id)
    if opinion is None:
        return _unknown(facts, exposure_id, NOT_TOLD)
    probability = _whole(opinion.probability, facts.n_draws)
    return Exposure(exposure_id, "known", opinion.because, probability, opinion.finding_ids)


def _unknown(facts: Facts, exposure_id: str, because: str) -> Exposure:
    return Exposure(exposure_id, "unknown", because, facts.prior(exposure_id))


def _outright(facts: Facts, exposure_id: str) -> Opinion | None:
    stated = exposure_id in facts.case.history.stated_exposures
    denied = exposure_id in facts.case.history.denied_exposures
    if stated == denied:
        return None
    return facts.yes("The owner states it.") if stated else facts.no("The owner denies it.")


def _contradicted(facts: Facts, exposure_id: str) -> bool:
    history = facts.case.history
    return exposure_id in history.stated_exposures and exposure_id in history.denied_exposures


def _weighed(facts: Facts, exposure_id: str) -> Opinion | None:
    """The rule's opinion, moved by a verdict; a verdict alone moves the usual share."""
    opinion, found = RULES[exposure_id](facts), verdict(facts, exposure_id)
    if found is None or (opinion is not None and is_weighed(opinion)):
        return opinion
    word, topic = found
    why = f"The {topic} was judged {word} without saying how."
    before = opinion or Opinion(facts.prior(exposure_id), "")
    after = moved(before.probability, odds_factor(facts, word))
    if opinion is not None and np.array_equal(after, opinion.probability):
        return opinion
    return replace(before, probability=after, because=" ".join(filter(None, (before.because, why))))


def _whole(probability: Draws, n_draws: int) -> Draws:
    """Spread one value over all draws and shave rounding off the ends of [0, 1]."""
    return np.clip(np.broadcast_to(probability, (n_draws,)), 0.0, 1.0).copy()


def stated_and_denied(case: Case) -> Sequence[str]:
    """Exposure ids that one history both states and denies."""
    return sorted({*case.history.stated_exposures} & {*case.history.denied_exposures})
