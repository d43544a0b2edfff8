"""Exposures that lie in warmth, moisture and water."""

import numpy as np

from baskwell.science.case.model import Surroundings
from baskwell.science.draws import Draws
from baskwell.science.history.exposures import saying as say
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, either, settled
from baskwell.science.history.exposures.places import here, places
from baskwell.science.history.exposures.words import chance_of

WARM_PLACES = ("basking_surface_c", "warm_side_c", "night_c")


def cold(facts: Facts) -> Opinion | None:
    """Basking place or nights below the range of its kind by more than thermometers and opinions differ.

    Without any temperature, the statement that nothing was heated makes it probable; lights told of that
    hold no heat source make it likelier than not. Otherwise unknown.
    """
    told = {name: chance for name in WARM_PLACES if (chance := _too_cold(facts, name)) is not None}
    if told:
        return Opinion(either(*told.values()), say.told(facts, *told), tuple(told))
    heated = here(facts).heated
    if heated is not None:
        word = "heated, without temperatures" if heated else "not heated"
        return facts.likely("cold_though_heated" if heated else "cold_unheated", f"It was {word}.")
    lamps = [facts.evidence.lamps.get(light.kind) for light in facts.case.history.lights]
    if lamps and not any(lamp is not None and lamp.gives_heat for lamp in lamps):
        return facts.likely("cold_no_heater_listed", "Lights are told of and none of them gives heat.")
    return None


def _too_cold(facts: Facts, name: str) -> Draws | None:
    draws, wanted = facts.found(name), facts.wanted_low(name)
    if draws is None or wanted is None:
        return None
    limit = wanted - facts.judgement("cold_margin_c")
    return np.where(np.isnan(draws), facts.prior("cold"), settled(draws < limit))


def dry_rearing(facts: Facts) -> Opinion | None:
    """Reared or kept dry: below about 60 % humidity for tortoises, below the range of its kind for others."""
    humidity = facts.found("relative_humidity_pct")
    limit = _dry_limit(facts)
    if humidity is not None and limit is not None:
        dry = np.where(np.isnan(humidity), facts.prior("dry_rearing"), settled(humidity < limit))
        return Opinion(
            dry * _without_moist_hide(facts),
            say.told(facts, "relative_humidity_pct"),
            ("relative_humidity_pct",),
        )
    words = {place.relative_humidity_pct for place in places(facts)} & {"low", "high"}
    if "low" in words:
        return Opinion(facts.judgement("dry_by_word") * _without_moist_hide(facts), "Its air is called dry.")
    return facts.likely("dry_though_called_moist", "Its air is called moist.") if words else None


def _dry_limit(facts: Facts) -> Draws | None:
    if facts.taxon.family == "Testudinidae":
        return facts.judgement("dry_rearing_tortoise_pct")
    wanted = facts.wanted_low("relative_humidity_pct")
    return facts.constant(wanted) if wanted is not None else None


def _without_moist_hide(facts: Facts) -> Draws:
    return facts.judgement("dry_despite_moist_hide") if here(facts).moist_hide else facts.constant(1.0)


def no_moist_hide(facts: Facts) -> Opinion | None:
    """No humid hide, as stated."""
    moist = here(facts).moist_hide
    if moist is None:
        return None
    return (
        facts.no("There was a moist hide.")
        if moist
        else facts.yes("It is stated that there was no moist hide.")
    )


def no_water(facts: Facts) -> Opinion | None:
    """No usable water and no soaks."""
    place = here(facts)
    if place.water not in (None, "none"):
        return facts.no("Water was there.")
    soaked = place.soaks_per_week is not None and (place.soaks_per_week.low or 0.0) > 0
    if place.water is None and place.soaks_per_week is None:
        return None
    if place.water is None:
        return facts.likely("no_water_soaks_told", "How often it was soaked is told; a dish is not.")
    return (
        facts.likely("no_water_but_soaks", "No dish, but soaks.")
        if soaked
        else facts.yes("No water is stated.")
    )


def amphibians_or_pond(facts: Facts) -> Opinion | None:
    """An outdoor pond or amphibians, as told; outdoors without either stays possible."""
    contact = facts.case.history.contact
    if contact is not None and chance_of(facts, "other_pets", contact.other_pets, "amphibian").max() > 0:
        return facts.yes("Amphibians are among the animals named.")
    if any(_at_a_pond(place) for place in places(facts)):
        return facts.yes("It had an outdoor pond.")
    if here(facts).outdoor in (True, "part"):
        return facts.likely("amphibians_outdoors", "It lived outdoors; a pond is not told of.")
    return facts.likely("amphibians_indoors", "It lived indoors.") if here(facts).outdoor is False else None


def _at_a_pond(place: Surroundings) -> bool:
    return place.container == "pond" or (place.water == "pond" and place.outdoor is not False)
