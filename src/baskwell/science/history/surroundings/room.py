"""Findings on room: floor, height and water depth against every published rule, conflicts kept."""

from dataclasses import dataclass, field

import numpy as np

from baskwell.science.draws import Against, Draws, summarise
from baskwell.science.history.finding import Finding, Wanted, judge
from baskwell.science.history.surroundings.body_length import BodyLength, read_body_length
from baskwell.science.history.surroundings.floor import Floor, read_floor, read_height
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.space_rules import Need, apply_rules, middle_of
from baskwell.science.history.surroundings.wording import (
    Quantity,
    amount,
    figure,
    named,
    unknown,
    without_rule,
)

FLOOR = Quantity("floor_area_m2", "space", "floor area", "m²", "How long and how wide is it, in cm?")


@dataclass(frozen=True)
class Room:
    """The room an animal had beside what the rules ask for; ``animals`` lived in it together."""

    floor: Floor
    length: BodyLength
    animals: int
    needs: tuple[Need, ...]
    middle_need_m2: Draws | None = field(repr=False)


def animals_together(scene: Scene) -> int:
    """How many animals share the room: those of the case file, or itself and the others with it."""
    contact = scene.case.history.contact
    others = 0
    if contact is not None:
        others = contact.number if contact.number is not None else int(contact.other_reptiles is True)
    return max(scene.case.animal.group_size or 1, 1 + others)


def read_room(scene: Scene) -> Room:
    """Apply every rule that covers the animal in this setting."""
    length, animals = read_body_length(scene), animals_together(scene)
    setting = "outdoor" if scene.outdoors else "indoor"
    rules = [
        row
        for row in scene.tables.space_rules
        if row.setting in ("any", setting) and scene.covered(row.covers)
    ]
    needs = apply_rules(rules, length.by_kind, length.age_months, animals, read_height(scene))
    middle = middle_of([need.floor_m2 for need in needs])
    return Room(read_floor(scene, middle), length, animals, needs, middle)


def floor_finding(scene: Scene, room: Room) -> Finding:
    """One finding on the floor: how many of the published rules it meets, each rule one vote.

    The chance of being inside is the share of rules met, averaged over the possible worlds: conflicts
    between rules show as a doubtful verdict. ``wanted`` is what the middle rule asks for.
    """
    area = room.floor.area_m2
    if area is None:
        return _unknown_floor(scene, room)
    met, counted = _votes(area, room.floor.side_cm, room.needs)
    asking = [need for need in room.needs if not np.all(np.isnan(need.floor_m2))]
    if not counted.any():
        return without_rule(scene, FLOOR, area, room.floor.told)
    inside = float(np.mean(met.sum(axis=0) / np.maximum(1, counted.sum(axis=0))))
    chances = Against(1.0 - inside, inside, 0.0)
    sentence = " ".join(filter(None, [_floor_sentence(room, area, met, counted), *_floor_notes(scene, room)]))
    return Finding(
        named(FLOOR.finding_id, scene.when), FLOOR.topic, FLOOR.name, FLOOR.unit,
        _wanted_floor(room, asking), summarise(area), chances, judge(chances), sentence,
        FLOOR.ask if room.floor.by_word or room.floor.gap else "", area,
    )  # fmt: skip


def _votes(area: Draws, side: Draws | None, needs: tuple[Need, ...]) -> tuple[Draws, Draws]:
    """Which rules are met and which can be judged, world by world: two arrays ``(n_rules, n_draws)``."""
    met, counted = [], []
    for need in needs:
        by_area = ~np.isnan(need.floor_m2)
        by_side = ~np.isnan(need.side_cm) if side is not None else np.zeros(area.shape, bool)
        with np.errstate(invalid="ignore"):
            enough = (~by_area | (area >= need.floor_m2)) & (~by_side | (_long(area, side) >= need.side_cm))
        judged = by_area | by_side
        met.append(enough & judged)
        counted.append(judged)
    empty = np.zeros((0, area.size))
    return (np.array(met, float), np.array(counted, float)) if needs else (empty, empty)


def _long(area: Draws, side: Draws | None) -> Draws:
    return area if side is None else side


def _floor_sentence(room: Room, area: Draws, met: Draws, counted: Draws) -> str:
    judged = counted.mean(axis=1) >= 0.5
    passed = int((met.mean(axis=1)[judged] >= 0.5).sum())
    size = amount(summarise(area), "m²")
    rules = f"{int(judged.sum())} published rule{'s' if judged.sum() != 1 else ''}"
    return f"The floor of {size} {room.floor.told} meets {passed} of {rules} for {_who(room)}{_span(room)}."


def _who(room: Room) -> str:
    count = "one animal" if room.animals == 1 else f"{room.animals} animals"
    lengths = room.length.by_kind
    kind = next((kind for kind in ("SCL", "TL", "SVL") if kind in lengths), None)
    if kind is None:
        return count
    size = amount(summarise(lengths[kind]), "cm")
    return f"{count} of {size} ({room.length.told})"


def _span(room: Room) -> str:
    asked = _asked(room)
    if not asked:
        return ""
    (low, lax), (high, strict) = asked[0], asked[-1]
    if len(asked) == 1:
        return f": {figure(low)} m² ({lax})"
    return f": from {figure(low)} m² ({lax}) to {figure(high)} m² ({strict})"


def _asked(room: Room) -> list[tuple[float, str]]:
    """What each rule asks for in the middle of the worlds in which it holds, laxest first."""
    asking = [need for need in room.needs if not np.all(np.isnan(need.floor_m2))]
    return sorted((float(np.nanmedian(need.floor_m2)), need.name) for need in asking)


def _floor_notes(scene: Scene, room: Room) -> list[str]:
    notes = []
    if room.animals > 1 and any(need.silent_on_further for need in room.needs):
        notes.append("Rules that say nothing of further animals are taken for the animals they name.")
    hours = scene.place.time_out_hours_per_day
    if hours is not None and hours.middle > 0:
        notes.append(f"It also went free for about {figure(hours.middle)} hours a day, which no rule counts.")
    notes.append(room.floor.gap)
    return notes


def _wanted_floor(room: Room, asking: list[Need]) -> Wanted | None:
    asked = _asked(room)
    if not asked:
        return None
    low = float(np.median([value for value, _ in asked]))
    who = f"the middle of {len(asked)} published rules" if len(asked) > 1 else asked[0][1]
    grades = sorted({need.grade for need in asking})
    return Wanted(
        float(f"{low:.3g}"), None, who, "/".join(grades), tuple(id_ for n in asking for id_ in n.row_ids)
    )


def _unknown_floor(scene: Scene, room: Room) -> Finding:
    asked = _asked(room)
    more = f"The published rules for {_who(room)} ask for{_span(room).removeprefix(':')}." if asked else ""
    bare = unknown(scene, FLOOR)
    text = " ".join(filter(None, [bare.sentence, more, room.floor.gap]))
    wanted = _wanted_floor(room, [need for need in room.needs if not np.all(np.isnan(need.floor_m2))])
    return Finding(
        bare.finding_id, bare.topic, bare.name, bare.unit, wanted, None, None, bare.verdict, text, bare.ask
    )
