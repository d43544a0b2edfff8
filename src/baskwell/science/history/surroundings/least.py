"""Findings on least sizes: height, depth of water and depth of the ground."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from baskwell.science.case.span import Span
from baskwell.science.draws import Against, Draws, summarise
from baskwell.science.history.finding import Finding, Wanted, judge
from baskwell.science.history.surroundings.room import Room
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.space_rules import Need
from baskwell.science.history.surroundings.spans import stated
from baskwell.science.history.surroundings.wants import wanted_of
from baskwell.science.history.surroundings.wording import (
    Quantity,
    amount,
    figure,
    measured,
    unknown,
    without_rule,
)

HEIGHT = Quantity("height_cm", "space", "height", "cm", "How high is it inside, in cm?")
WATER_DEPTH = Quantity("water_depth_cm", "space", "water depth", "cm", "How deep is the water, in cm?")
GROUND_DEPTH = Quantity(
    "substrate_depth_cm", "substrate", "depth of the ground", "cm", "How deep is the substrate, in cm?"
)


@dataclass(frozen=True)
class _Asking:
    """One rule's least size in each world (NaN where it does not hold), and whose rule it is."""

    least: Draws = field(repr=False)
    name: str
    grade: str
    ids: tuple[str, ...]


def height_finding(scene: Scene, room: Room) -> Finding | None:
    """The finding on height, None where nothing is wanted and nothing was told.

    The rules on room speak first; where none speaks of height, the row of the species does.
    """
    asking = _from_rules(room, lambda need: need.height_cm) or _from_species(scene, "enclosure_height_cm")
    return _finding(scene, HEIGHT, room.floor.height_cm, asking)


def water_depth_finding(scene: Scene, room: Room) -> Finding | None:
    """The finding on the depth of swimming water, None for an animal that needs none."""
    draws = _stated(scene, scene.place.water_depth_cm)
    return _finding(scene, WATER_DEPTH, draws, _from_rules(room, lambda need: need.water_depth_cm))


def ground_depth_finding(scene: Scene) -> Finding | None:
    """The finding on the depth of the substrate, None where nothing is wanted and nothing was told."""
    want, draws = wanted_of(scene, "substrate_depth_cm"), _stated(scene, scene.place.substrate_depth_cm)
    if want is None or want.wanted.low == 0:
        return None if draws is None else without_rule(scene, GROUND_DEPTH, draws, "as told")
    return measured(scene, GROUND_DEPTH, draws, want, "as told")


def _stated(scene: Scene, span: Span | None) -> Draws | None:
    return None if span is None else stated(scene, span, "depths")


def _from_rules(room: Room, part: Callable[[Need], Draws]) -> list[_Asking]:
    return [
        _Asking(part(need), need.name, need.grade, need.row_ids)
        for need in room.needs
        if not np.all(np.isnan(part(need)))
    ]


def _from_species(scene: Scene, parameter: str) -> list[_Asking]:
    want = wanted_of(scene, parameter)
    if want is None or want.low is None:
        return []
    least = np.broadcast_to(np.asarray(want.low, dtype=np.float64), (scene.n_draws,))
    return [_Asking(least, want.wanted.said_by, want.wanted.grade, want.wanted.evidence_ids)]


def _finding(scene: Scene, what: Quantity, draws: Draws | None, asking: list[_Asking]) -> Finding | None:
    if not asking:
        return None if draws is None else without_rule(scene, what, draws, "as told")
    wanted = _wanted(asking)
    if draws is not None:
        return _voted(scene, what, draws, asking, wanted)
    bare = unknown(scene, what)
    more = f"At least {figure(wanted.low or 0.0)} {what.unit} is asked for ({wanted.said_by})."
    return replace(bare, wanted=wanted, sentence=f"{bare.sentence} {more}")


def _wanted(asking: list[_Asking]) -> Wanted:
    """What the middle one of the rules asks for."""
    low = float(np.median([float(np.nanmedian(one.least)) for one in asking]))
    who = asking[0].name if len(asking) == 1 else f"the middle of {len(asking)} rules"
    grade = "/".join(sorted({one.grade for one in asking}))
    return Wanted(float(f"{low:.3g}"), None, who, grade, tuple(id_ for one in asking for id_ in one.ids))


def _voted(scene: Scene, what: Quantity, draws: Draws, asking: list[_Asking], wanted: Wanted) -> Finding:
    """Each rule has one vote; the chance of being inside is the share of rules met over the worlds."""
    table = np.array([one.least for one in asking])
    counted = ~np.isnan(table)
    with np.errstate(invalid="ignore"):
        met = counted & (draws >= table)
    inside = float(np.mean(met.sum(axis=0)[counted.any(axis=0)] / counted.sum(axis=0)[counted.any(axis=0)]))
    chances = Against(1.0 - inside, inside, 0.0)
    passed = int((met.sum(axis=1) >= 0.5 * counted.sum(axis=1)).sum())
    least = f"{figure(wanted.low or 0.0)} {what.unit}"
    rules = f"meets {passed} of {len(asking)} rules" if len(asking) > 1 else "is held against one rule"
    sentence = (
        f"The {what.name} of {amount(summarise(draws), what.unit)} {rules}: at least {least} is asked for "
        f"({wanted.said_by})."
    )
    found = without_rule(scene, what, draws, "as told")
    return replace(found, wanted=wanted, chances=chances, verdict=judge(chances), sentence=sentence)
