"""Exposures from what was given before."""

import numpy as np

from baskwell.science.case.model import Treatment
from baskwell.science.draws import Draws
from baskwell.science.history.exposures import saying as say
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, highest
from baskwell.science.history.exposures.recent import lately
from baskwell.science.history.exposures.words import chance_of, mentions, plain

INJECTED = ("injection", "sc", "im", "iv", "icoelomic")
NOTHING_GIVEN = "The owner says that nothing was given."


def vitamin_a_injection(facts: Facts) -> Opinion | None:
    """Vitamin A injected within eight weeks. A mixed vitamin or an unnamed injection counts in part."""
    chances = [_vitamin_a_injected(facts, given) for given in facts.case.history.treatments]
    return _in_window(facts, chances, "vita_injection_weeks", "vitamin A by injection")


def _vitamin_a_injected(facts: Facts, given: Treatment) -> Draws:
    vitamin = chance_of(facts, "agent", [given.agent], "vitamin_a")
    if _unnamed(facts, given):
        told = chance_of(facts, "reason", [given.reason], "vitamin_a")
        vitamin = np.maximum(told, facts.judgement("vitamin_a_in_unnamed_injection")) * (
            given.route in INJECTED
        )
    if given.route is None:
        injected = facts.judgement("injected_where_route_not_told") * (plain(given.agent) != "cod liver oil")
        return vitamin * np.maximum(injected, "injection" in plain(given.agent))
    return vitamin * (given.route in INJECTED)


def ivermectin_given(facts: Facts) -> Opinion | None:
    """Ivermectin or a related wormer within the time it can harm.

    An unnamed drug against parasites in part.
    """
    chances = []
    for given in facts.case.history.treatments:
        chance = chance_of(facts, "agent", [given.agent], "ivermectin_like")
        if _unnamed(facts, given) and mentions(facts, "reason", given.reason, "parasites"):
            chance = facts.judgement("ivermectin_in_unnamed_parasite_drug")
        chances.append(chance)
    return _in_window(facts, chances, "ivermectin_weeks", "ivermectin or a related drug")


def aminoglycoside_given(facts: Facts) -> Opinion | None:
    """Gentamicin, amikacin or a related antibiotic lately."""
    chances = [
        chance_of(facts, "agent", [given.agent], "aminoglycoside") for given in facts.case.history.treatments
    ]
    return _in_window(facts, chances, "aminoglycoside_weeks", "an aminoglycoside antibiotic")


def drug_given(facts: Facts) -> Opinion | None:
    """A drug in the last four weeks.

    Vitamins, minerals, fluids and handling are none; ivermectin has its own row.
    """
    chances = [facts.constant(float(_is_other_drug(facts, given))) for given in facts.case.history.treatments]
    return _in_window(facts, chances, "drug_weeks", "a drug")


def _is_other_drug(facts: Facts, given: Treatment) -> bool:
    if not plain(given.agent):
        return False
    others = ("not_a_drug", "nothing", "chemical")
    if any(mentions(facts, "agent", given.agent, other) for other in others):
        return False
    return float(chance_of(facts, "agent", [given.agent], "ivermectin_like").min()) < 1.0


def _unnamed(facts: Facts, given: Treatment) -> bool:
    return not plain(given.agent) or mentions(facts, "agent", given.agent, "not_named")


def _in_window(facts: Facts, chances: list[Draws], window_id: str, what: str) -> Opinion | None:
    """Weigh each treatment with the share of its time inside the window and take the most telling one."""
    treatments = facts.case.history.treatments
    telling = [(given, chance) for given, chance in zip(treatments, chances, strict=True) if chance.max() > 0]
    if telling:
        recent = [
            chance * lately(facts, given, window_id, "undated_treatment_recent") for given, chance in telling
        ]
        names = "; ".join(say.given(facts, given) for given, _ in telling)
        return Opinion(highest(*recent), f"Given before: {names}. That is, or may be, {what}.")
    if treatments and all(mentions(facts, "agent", given.agent, "nothing") for given in treatments):
        return facts.no(NOTHING_GIVEN)
    return None
