"""Exposures that lie in the box: room, floor, dirt, hot things in reach, a place to lay."""

from collections.abc import Callable

import numpy as np

from baskwell.evidence.rows.surroundings import Substrate
from baskwell.science.case.model import Light, Surroundings
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.animal import chance_adult, chance_female
from baskwell.science.history.exposures.events import share_recent
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, either, settled
from baskwell.science.history.exposures.places import here, places
from baskwell.science.history.exposures.saying import told
from baskwell.science.history.exposures.timing import share_at_most

OPEN_GROUND = ("pen", "garden", "greenhouse")


def cramped(facts: Facts) -> Opinion | None:
    """Far less floor than the middle rule asks for; hours out of the box count against it.

    The floor is what was measured, or what a word or the kind of container stands for. Where no rule
    covers the animal only the plainest words count.
    """
    place, share = here(facts), facts.lived.place.floor_share
    if share is not None:
        small = np.where(
            np.isnan(share), facts.prior("cramped"), settled(share < facts.judgement("cramped_share"))
        )
        return Opinion(small * _kept_inside(facts, place), told(facts, "floor_area_m2"), ("floor_area_m2",))
    if place.space == "too_small_to_turn":
        return facts.yes("It could not turn round.")
    return facts.no("It roamed freely.") if place.space == "free_roaming" else None


def _kept_inside(facts: Facts, place: Surroundings) -> Draws:
    if place.time_out_hours_per_day is None:
        return facts.constant(1.0)
    enough = 1.0 - share_at_most(place.time_out_hours_per_day, facts.judgement("hours_out_enough"))
    return 1.0 - enough * facts.judgement("hours_out_mend")


def wet_dirty(facts: Facts) -> Opinion | None:
    """Dirty by word."""
    word = here(facts).cleanliness
    return facts.likely(f"wet_dirty_{word}", f"Its place is called {word}.") if word is not None else None


def loose_sand(facts: Facts) -> Opinion | None:
    """Fine loose material among the substrates told of, now or earlier."""
    return _substrate(facts, "loose_sand", lambda row: row.fine_loose)


def coarse_substrate(facts: Facts) -> Opinion | None:
    """Pieces small enough to swallow among the substrates told of, now or earlier."""
    return _substrate(facts, "coarse_substrate", lambda row: row.coarse_swallowable)


def _substrate(facts: Facts, exposure_id: str, has: Callable[[Substrate], bool | None]) -> Opinion | None:
    """Whether a material has a property; a word that no table holds leaves a "no" open."""
    told = [word for place in places(facts) for word in place.substrate]
    rows = [row for place in (facts.lived.place, *facts.lived.periods.values()) for row in place.substrates]
    if not rows:
        return None
    names = "The substrate is told: " + ", ".join(dict.fromkeys(row.name for row in rows)) + "."
    answers = {has(row) for row in rows}
    if True in answers:
        return facts.yes(names)
    if None in answers or len(rows) < len(told):
        return None
    return facts.no(names)


def unguarded_heat(facts: Facts) -> Opinion | None:
    """Something hot in reach or without a thermostat, or a burn told of."""
    burnt = share_recent(facts, ("burn",), "injury_weeks")
    if burnt is not None:
        return Opinion(burnt * facts.judgement("unguarded_where_burnt"), "A burn is told of.")
    lights = [light for light in facts.case.history.lights if _hot(facts, light)]
    told = [chance for light in lights if (chance := _unguarded(facts, light)) is not None]
    if told:
        unknown = [facts.prior("unguarded_heat")] if len(told) < len(lights) else []
        return Opinion(either(*told, *unknown), "Guard and thermostat of the heat sources are told.")
    if here(facts).heated is False and not lights:
        return facts.no("Nothing was heated.")
    if lights or not facts.case.history.lights:
        return None
    return facts.likely("unguarded_none_listed", "No heat source is among the lights told of.")


def _hot(facts: Facts, light: Light) -> bool:
    lamp = facts.evidence.lamps.get(light.kind)
    return lamp is not None and lamp.gives_heat and lamp.class_ != "sun"


def _unguarded(facts: Facts, light: Light) -> Draws | None:
    if light.kind == "hot_rock":
        return facts.judgement("unguarded_hot_rock")
    if light.guarded is False:
        return facts.constant(1.0)
    if light.thermostat is False:
        return facts.judgement(
            "unguarded_mat_no_thermostat" if light.kind == "heat_mat" else "unguarded_no_thermostat"
        )
    if light.guarded:
        return facts.constant(0.0)
    return facts.judgement("unguarded_with_thermostat") if light.thermostat else None


def female_without_nest(facts: Facts) -> Opinion | None:
    """A mature female without a place to lay.

    Nought for males and young; what is told of the floor is weighed for the rest.
    """
    female, adult = chance_female(facts), chance_adult(facts)
    for chance, because in ((female, "It is a male."), (adult, "It is too young to lay.")):
        if chance is not None and chance.max() == 0:
            return facts.no(because)
    without = _no_nest(facts)
    if without is None or female is None:
        return None
    adult = adult if adult is not None else facts.judgement("adult_share")
    return Opinion(without * female * adult, "A female; what is told of floor and place is weighed.")


def _no_nest(facts: Facts) -> Draws | None:
    place, rows = here(facts), facts.lived.place.substrates
    if place.container in OPEN_GROUND and place.outdoor is not False:
        return facts.judgement("no_nest_open_ground")
    if not rows:
        return None
    if not any(row.diggable for row in rows):
        return facts.judgement("no_nest_undiggable")
    return 1.0 - _deep_enough(facts, place)


def _deep_enough(facts: Facts, place: Surroundings) -> Draws:
    if place.substrate_depth_cm is None:
        return facts.judgement("deep_enough_where_not_told")
    return 1.0 - share_at_most(place.substrate_depth_cm, facts.judgement("nest_depth_cm") - np.float64(1e-9))
