"""Exposures that lie in the light: no UVB, a lamp too old, a lamp that does not reach the animal.

All three look at the same possible worlds as the findings of the light, so that a lamp is not both the
cure and the fault in one world.
"""

import numpy as np

from baskwell.science.case.model import Light
from baskwell.science.draws import Draws, summarise
from baskwell.science.history.diet_recall.sentences import figure
from baskwell.science.history.exposures.facts import Facts
from baskwell.science.history.exposures.opinion import Opinion, all_of, settled
from baskwell.science.history.exposures.saying import told
from baskwell.science.history.exposures.timing import share_at_most

AT_BACK = "uv_index_at_back"
PANES = ("glass", "acrylic")


def no_uvb(facts: Facts) -> Opinion | None:
    """No UVB source and no unfiltered sun.

    A lamp or the sun settles it, and so does the statement that there is none. Lamps named of which none
    gives UVB make it probable, not certain: people leave lamps out. Sun for part of the year only counts
    in part. Whether a lamp was old or blocked is told by its own exposures.
    """
    light = facts.light
    if light.uvb_source == "unknown":
        return None
    if light.uvb_source == "known":
        return facts.no(light.source_because)
    if _sun_for_a_season(facts):
        return facts.likely("no_uvb_sun_for_a_season", light.source_because)
    if light.uvb_source == "none" or light.uv_index is None:
        return facts.yes(light.source_because)
    return Opinion(settled(light.uv_index <= 0.0), light.source_because, (AT_BACK,))


def lamp_old(facts: Facts) -> Opinion | None:
    """The newest UVB lamp beyond the useful life of its type while too little UVB reaches the animal.

    Where a reading of a UV meter stands instead of an age: too little now, enough when new.
    """
    lamps = _uvb_lamps(facts)
    if not lamps:
        return _without_lamp(facts, "lamp_old")
    aged = [_beyond_life(facts, light) for light in lamps if light.age_months is not None]
    if aged:
        unknown = [facts.prior("lamp_old")] * (len(lamps) - len(aged))
        weak = _too_little(facts, facts.light.uv_index)
        old = all_of(*aged, *unknown, *([weak] if weak is not None else []))
        why = f" {told(facts, AT_BACK)}" if weak is not None else ""
        return Opinion(old, f"The age of the UVB lamp is told.{why}", _ids(weak))
    return _spent_by_reading(facts, lamps)


def _spent_by_reading(facts: Facts, lamps: list[Light]) -> Opinion | None:
    weak, dim_when_new = (
        _too_little(facts, facts.light.uv_index),
        _too_little(facts, facts.light.uv_index_new),
    )
    measured = any(light.uv_index_measured is not None for light in lamps)
    if not measured or weak is None or dim_when_new is None:
        return None
    return Opinion(weak * (1.0 - dim_when_new), "The UV index was measured.", (AT_BACK,))


def _beyond_life(facts: Facts, light: Light) -> Draws:
    lamp, age = facts.evidence.lamps[light.kind], light.age_months
    low, high = lamp.useful_life_months_low, lamp.useful_life_months_high
    if age is None or low is None or high is None:
        return facts.prior("lamp_old")
    life = facts.between(f"life of {light.kind}", low, min(max(12.0, low), high), high)
    return 1.0 - share_at_most(age, life)


def lamp_blocked(facts: Facts) -> Opinion | None:
    """UVB through glass, plastic or dense mesh, or out of range: too little even when the lamps were new.

    Known where the barrier or the distance of a lamp is told; a lamp too weak for its place counts as out
    of range. Without a wanted level only a pane of glass or plastic before every lamp settles it.
    """
    lamps = _uvb_lamps(facts)
    if not lamps:
        return _without_lamp(facts, "lamp_blocked")
    if not any(light.barrier is not None or light.distance_cm is not None for light in lamps):
        return None
    dim_when_new = _too_little(facts, facts.light.uv_index_new)
    if dim_when_new is not None:
        return Opinion(dim_when_new, _as_new(facts), (AT_BACK,))
    if all(light.barrier in PANES for light in lamps):
        return facts.yes("A pane stands between every UVB lamp and the animal.")
    return None


def _as_new(facts: Facts) -> str:
    new = facts.light.uv_index_new
    if new is None:
        return told(facts, AT_BACK)
    middle = figure(summarise(new).median)
    return f"{told(facts, AT_BACK)} When new, the lamps gave a UV index of about {middle} there."


def _too_little(facts: Facts, uv_index: Draws | None) -> Draws | None:
    """Whether the UV index lies below what is wanted, draw by draw; None where one of them is not known."""
    wanted = facts.wanted_low(AT_BACK)
    if uv_index is None or wanted is None:
        return None
    return np.where(np.isnan(uv_index), 0.5, settled(uv_index < wanted))


def _ids(draws: Draws | None) -> tuple[str, ...]:
    return (AT_BACK,) if draws is not None else ()


def _uvb_lamps(facts: Facts) -> list[Light]:
    lamps = facts.evidence.lamps
    return [
        light
        for light in facts.case.history.lights
        if light.kind in lamps
        and lamps[light.kind].gives_uvb
        and light.kind != "sun"
        and not _never_on(light)
    ]


def _never_on(light: Light) -> bool:
    return light.hours_per_day is not None and light.hours_per_day.high == 0


def _sun_for_a_season(facts: Facts) -> bool:
    return any(
        place.when in ("summer", "winter") and place.outdoor in (True, "part")
        for place in facts.case.history.periods
    )


def _without_lamp(facts: Facts, exposure_id: str) -> Opinion | None:
    """No lamp told of: what is wrong with lamps stays possible as far as the list may lack one."""
    if not facts.case.history.lights:
        return None
    if facts.light.uvb_source == "known":
        return facts.no("It had open sun, and no UVB lamp is told of.")
    dark = no_uvb(facts)
    if dark is None:
        return None
    missing = (1.0 - dark.probability) * facts.prior(exposure_id)
    return Opinion(missing, "No UVB lamp is among the lights told of.")
