"""Exposures from what happened to the animal, and from its winter rest."""

from baskwell.science.case.model import WinterRest
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, either, highest, settled
from baskwell.science.history.exposures.recent import lately
from baskwell.science.history.exposures.saying import happened
from baskwell.science.history.exposures.timing import share_at_most, share_below
from baskwell.science.history.exposures.words import chance_of, mentions

INJURIES = ("attack", "fall", "crush", "hook")


def share_recent(facts: Facts, kinds: tuple[str, ...], window_id: str) -> Draws | None:
    """Probability that an event of some kinds lies within a window; None where no such event is told."""
    chances = [
        lately(facts, event, window_id, "undated_event_recent")
        for event in facts.case.history.events
        if event.kind in kinds
    ]
    return highest(*chances) if chances else None


def attack(facts: Facts) -> Opinion | None:
    """Attacked, dropped, run over or hooked within the time that a wound shows."""
    return _event(facts, INJURIES, "injury_weeks")


def escaped(facts: Facts) -> Opinion | None:
    """Lost or at large: an escape told of, or found outdoors."""
    told = _event(facts, ("escape",), "escape_weeks")
    if told is not None:
        return told
    if facts.case.history.source == "found":
        return facts.likely("at_large_found", "It was found.")
    if facts.case.history.source == "abandoned":
        return facts.likely("at_large_abandoned", "It was abandoned.")
    return None


def frost_or_chill(facts: Facts) -> Opinion | None:
    """Frost or deep chilling: a chilling told of, the lowest of the winter rest, or measured nights."""
    grounds = {
        "a chilling is told of": share_recent(facts, ("chilling",), "chill_weeks"),
        "the lowest temperature of its winter rest is told": _frost_in_winter_rest(facts),
        "its nights were measured": _deep_cold_nights(facts),
    }
    known = {why: chance for why, chance in grounds.items() if chance is not None}
    if not known:
        return None
    because = " and ".join(known)
    ids = ("night_c",) if grounds["its nights were measured"] is not None else ()
    return Opinion(either(*known.values()), because[0].upper() + because[1:] + ".", ids)


def _frost_in_winter_rest(facts: Facts) -> Draws | None:
    lowest = [rest.lowest_c for rest in facts.case.history.winter_rest if rest.lowest_c is not None]
    if not lowest:
        return None
    limit = facts.judgement("frost_c")
    return either(*(share_below(span, limit) for span in lowest), facts.judgement("chilled_otherwise"))


def _deep_cold_nights(facts: Facts) -> Draws | None:
    nights = facts.found("night_c")
    if nights is None or "night_c" in facts.lived.place.inferred:
        return None
    limit = facts.judgement("deep_cold_hibernator_c" if facts.has_tag("hibernator") else "deep_cold_c")
    return either(settled(nights < limit), facts.judgement("chilled_otherwise"))


def winter_rest_recent(facts: Facts) -> Opinion | None:
    """A winter rest that ended in the last eight weeks."""
    rests = [
        chance
        for rest in facts.case.history.winter_rest
        if (chance := _ended_lately(facts, rest)) is not None
    ]
    if not rests:
        return None
    return Opinion(highest(*rests), "Its last winter rest is told of.")


def _ended_lately(facts: Facts, rest: WinterRest) -> Draws | None:
    if rest.done is False:
        return facts.constant(0.0)
    if rest.ended_weeks_before is not None:
        return share_at_most(rest.ended_weeks_before, facts.judgement("winter_rest_weeks"))
    told = rest.done or rest.outcome or rest.weeks or rest.lowest_c or rest.mass_after_g
    return facts.judgement("winter_rest_undated") if told else None


def metal_access(facts: Facts) -> Opinion | None:
    """Metal swallowed or in reach: told as such, a hook, or named in what was swallowed."""
    if any(event.kind in ("metal", "hook") for event in facts.case.history.events):
        return facts.yes("Metal or a hook is told of.")
    swallowed = [
        event.detail
        for event in facts.case.history.events
        if event.kind in ("swallowed", "toxin", "passed_stone")
    ]
    named = chance_of(facts, "detail", swallowed, "metal")
    if named.max() > 0:
        return Opinion(named, "Metal is named in what it swallowed.")
    if any(event.kind == "swallowed" for event in facts.case.history.events):
        return facts.likely("metal_where_swallowed", "It swallowed something; what is not told exactly.")
    return None


def chemical_contact(facts: Facts) -> Opinion | None:
    """A chemical in contact: told as such, an unnamed poison, or a spray used on the animal."""
    grounds = [
        share_recent(facts, ("chemical",), "chemical_weeks"),
        _poisoned_by_chemical(facts),
        _sprayed(facts),
    ]
    known = [chance for chance in grounds if chance is not None and chance.max() > 0]
    return Opinion(either(*known), "A chemical, poison or spray is told of.") if known else None


def _poisoned_by_chemical(facts: Facts) -> Draws | None:
    poison = share_recent(facts, ("toxin",), "chemical_weeks")
    return poison * facts.judgement("chemical_where_poison") if poison is not None else None


def _sprayed(facts: Facts) -> Draws:
    chances = [
        chance_of(facts, "agent", [given.agent], "chemical")
        * lately(facts, given, "chemical_weeks", "undated_treatment_recent")
        for given in facts.case.history.treatments
    ]
    return highest(facts.constant(0.0), *chances)


def poisoned_prey_told(facts: Facts) -> bool:
    """Whether an event names treated or poisoned prey."""
    return any(mentions(facts, "detail", event.detail, "prey_poison") for event in facts.case.history.events)


def _event(facts: Facts, kinds: tuple[str, ...], window_id: str) -> Opinion | None:
    recent = share_recent(facts, kinds, window_id)
    events = [event for event in facts.case.history.events if event.kind in kinds]
    return Opinion(recent, happened(events)) if recent is not None else None
