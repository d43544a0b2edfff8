"""Exposures that lie in the light: no UVB, a lamp too old, a lamp that does not reach the animal."""

import numpy as np

from baskwell.evidence.rows.environment import Lamp
from baskwell.science.case.model import Light
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, all_of, either, settled
from baskwell.science.history.exposures.timing import share_at_most

NO_LAMP = "No UVB lamp is among the lights told of."


def no_uvb(facts: Facts) -> Opinion | None:
    """No UVB source and no unfiltered sun.

    A lamp or sun told of settles it. A list of heat lamps or of window light alone makes it probable, not
    certain: people leave lamps out. ``none`` is certain. Whether the lamp was old or blocked is told by
    its own exposures.
    """
    lights = facts.case.history.lights
    if _in_the_sun(facts) or any(_gives_uvb(facts, light) and not _never_on(light) for light in lights):
        return facts.no("A UVB lamp or unfiltered sun is told of.")
    if not lights:
        return None
    if all(light.kind == "none" or _never_on(light) for light in lights):
        return facts.yes("It is stated that there was no lamp.")
    if any(light.kind == "window" for light in lights):
        return facts.likely(
            "no_uvb_window_only", "Only light through window glass is told of; glass holds UVB back."
        )
    return facts.likely("no_uvb_heat_lamps_only", "Lights are told of and none of them gives UVB.")


def lamp_old(facts: Facts) -> Opinion | None:
    """The newest UVB lamp beyond the useful life of its type and never measured; a reading replaces age."""
    lamps = _uvb_lamps(facts)
    if not lamps:
        return _without_lamp(facts, "lamp_old")
    if any(light.uv_index_measured is not None for light in lamps):
        return _by_reading(facts)
    known = [_beyond_life(facts, light) for light in lamps if light.age_months is not None]
    if not known:
        return None
    unknown = [facts.prior("lamp_old") for light in lamps if light.age_months is None]
    return Opinion(all_of(*known, *unknown), "The age of the UVB lamp is told.")


def _by_reading(facts: Facts) -> Opinion:
    reading, wanted = facts.found("uv_index_at_back"), facts.wanted_low("uv_index_at_back")
    if reading is None or wanted is None:
        return facts.no("The UV index was measured.")
    return Opinion(_low(reading, wanted), "The UV index was measured.", ("uv_index_at_back",))


def _beyond_life(facts: Facts, light: Light) -> Draws:
    lamp, age = facts.evidence.lamps[light.kind], light.age_months
    low, high = lamp.useful_life_months_low, lamp.useful_life_months_high
    if age is None or low is None or high is None:
        return facts.prior("lamp_old")
    life = facts.between(f"life of {light.kind}", low, min(max(12.0, low), high), high)
    return 1.0 - share_at_most(age, life)


def lamp_blocked(facts: Facts) -> Opinion | None:
    """UVB through glass, plastic or dense mesh, or out of range: the best of the lamps counts.

    Known where the barrier or the distance is told. Distance counts as out of range beyond a judged
    multiple of the distance for which the lamp's strength is given.
    """
    if _in_the_sun(facts):
        return facts.no("It had unfiltered sun.")
    lamps = _uvb_lamps(facts)
    if not lamps:
        return _without_lamp(facts, "lamp_blocked")
    told = [chance for light in lamps if (chance := _blocked(facts, light)) is not None]
    if not told:
        return None
    unknown = [facts.prior("lamp_blocked")] * (len(lamps) - len(told))
    return Opinion(all_of(*told, *unknown), "What is between lamp and animal, or how far it is, is told.")


def _blocked(facts: Facts, light: Light) -> Draws | None:
    barrier = facts.judgement(f"blocked_by_{light.barrier}") if light.barrier is not None else None
    far = _out_of_range(facts, light.distance_cm, facts.evidence.lamps[light.kind])
    grounds = [chance for chance in (barrier, far) if chance is not None]
    if not grounds:
        return None
    if len(grounds) == 2:
        return either(*grounds)
    return np.maximum(grounds[0], facts.prior("lamp_blocked") * facts.judgement("blocked_half_told"))


def _out_of_range(facts: Facts, distance: Span | None, lamp: Lamp) -> Draws | None:
    if distance is None or lamp.reference_distance_cm is None:
        return None
    reach = lamp.reference_distance_cm * facts.judgement("lamp_reach")
    return 1.0 - share_at_most(distance, reach)


def _low(draws: Draws, wanted: float) -> Draws:
    return np.where(np.isnan(draws), 0.5, settled(draws < wanted))


def _uvb_lamps(facts: Facts) -> list[Light]:
    return [
        light
        for light in facts.case.history.lights
        if _gives_uvb(facts, light) and light.kind != "sun" and not _never_on(light)
    ]


def _gives_uvb(facts: Facts, light: Light) -> bool:
    lamp = facts.evidence.lamps.get(light.kind)
    return lamp is not None and lamp.gives_uvb


def _never_on(light: Light) -> bool:
    return light.hours_per_day is not None and light.hours_per_day.high == 0


def _in_the_sun(facts: Facts) -> bool:
    """Outdoors always, in part or for a part of the year, or sun among the lights."""
    history = facts.case.history
    places = [*([history.surroundings] if history.surroundings else []), *history.periods]
    outdoors = any(
        place.outdoor in (True, "part") for place in places if getattr(place, "when", None) != "before"
    )
    return outdoors or any(light.kind == "sun" and not _never_on(light) for light in history.lights)


def _without_lamp(facts: Facts, exposure_id: str) -> Opinion | None:
    """No lamp told of: what is wrong with lamps stays possible so far as a lamp may be missing from the list."""
    if _in_the_sun(facts):
        return (
            facts.no("It had unfiltered sun and no lamp is told of.") if facts.case.history.lights else None
        )
    dark = no_uvb(facts)
    if not facts.case.history.lights or dark is None:
        return None
    return Opinion((1.0 - dark.probability) * facts.prior(exposure_id), NO_LAMP)
