"""Exposures that lie in the box: room, floor, dirt, hot things in reach, a place to lay."""

import numpy as np

from baskwell.science.case.model import Light, Surroundings
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.animal import chance_adult, chance_female
from baskwell.science.history.exposures.events import share_recent
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, either, settled
from baskwell.science.history.exposures.places import here, places
from baskwell.science.history.exposures.timing import share_at_most
from baskwell.science.history.exposures.words import chance_of

TINY = ("bucket", "crate", "tub", "cupboard")
OPEN_GROUND = ("pen", "garden", "greenhouse")


def cramped(facts: Facts) -> Opinion | None:
    """Far less floor than the rules ask for, or too small by word; hours out of the box count against it."""
    place = here(facts)
    area, wanted = facts.found("floor_area_m2"), facts.wanted_low("floor_area_m2")
    if area is not None and wanted is not None:
        small = settled(area < wanted * facts.judgement("cramped_share_of_floor"))
        return Opinion(small * _kept_inside(facts, place), "The floor area is told.", ("floor_area_m2",))
    if place.space is not None:
        return Opinion(
            facts.judgement(f"cramped_{place.space}") * _kept_inside(facts, place),
            "The room is told in a word.",
        )
    if place.container in TINY:
        return facts.likely("cramped_tiny_container", f"It lived in a {place.container}.")
    if place.container in (*OPEN_GROUND, "room", "house", "pond", "balcony"):
        return facts.likely("cramped_large_container", f"It lived in a {place.container}.")
    return None


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
    """Loose sand among the substrates told of, now or earlier."""
    return _substrate(facts, "loose_sand")


def coarse_substrate(facts: Facts) -> Opinion | None:
    """Pieces small enough to swallow among the substrates told of, now or earlier."""
    return _substrate(facts, "coarse_substrate")


def _substrate(facts: Facts, means: str) -> Opinion | None:
    told = [substrate for place in places(facts) for substrate in place.substrate]
    if not told:
        return None
    chance = chance_of(facts, "substrate", told, means)
    return Opinion(chance, "The substrate is told: " + ", ".join(told).replace("_", " ") + ".")


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
    place = here(facts)
    if place.container in OPEN_GROUND and place.outdoor is not False:
        return facts.judgement("no_nest_open_ground")
    if not place.substrate:
        return None
    diggable = chance_of(facts, "substrate", place.substrate, "diggable")
    if diggable.max() == 0:
        bare = chance_of(facts, "substrate", place.substrate, "bare_floor").max() > 0
        return facts.judgement("no_nest_bare_floor" if bare else "no_nest_other_floor")
    return 1.0 - diggable * _deep_enough(facts, place)


def _deep_enough(facts: Facts, place: Surroundings) -> Draws:
    if place.substrate_depth_cm is None:
        return facts.judgement("deep_enough_where_not_told")
    return 1.0 - share_at_most(place.substrate_depth_cm, facts.judgement("nest_depth_cm") - np.float64(1e-9))
