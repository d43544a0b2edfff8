"""Temperatures at the basking place, the warm side, the cool side and at night: reported or inferred."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from baskwell.evidence.lookup import limits_for, wanted_environment
from baskwell.science.draws import Draws
from baskwell.science.history.finding import Finding, Wanted
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.spans import stated_temperature
from baskwell.science.history.surroundings.wants import Want, source_name, wanted_of
from baskwell.science.history.surroundings.wording import Quantity, figure, measured

ALARM_CHANCE = 0.2
"""The chance from which an alarm level is spoken of: what ``judge`` calls not ruled out (judgement)."""

ASK_THERMOMETER = "With what was it read: dial, digital or infrared thermometer, or a logger?"

ZONES = {
    "basking_surface_c": Quantity(
        "basking_surface_c", "heat", "basking place", "°C", "How warm is the warmest place it can lie on?"
    ),
    "warm_side_c": Quantity(
        "warm_side_c", "heat", "warm side", "°C", "How warm is the air on the warm side by day?"
    ),
    "cool_side_c": Quantity("cool_side_c", "heat", "cool side", "°C", "How warm is the cool side by day?"),
    "night_c": Quantity(
        "night_c", "heat", "temperature at night", "°C", "How cold does it get there at night?"
    ),
}


@dataclass(frozen=True)
class ZoneReading:
    """What one zone had: draws in C, or None where nothing tells; and how it is known, in words."""

    draws: Draws | None
    told: str
    inferred: bool = False


def read_zone(scene: Scene, zone: str, logged: Mapping[str, Draws], sd_k: Draws) -> ZoneReading:
    """The temperature of one zone: logged, else reported, else what an unheated place has, else unknown.

    ``sd_k`` is the standard deviation of the thermometer's error in each world: one instrument for all
    zones, with an error of its own in each. Lamps and heaters without a temperature tell nothing: the
    result is unknown, never fine.
    """
    error = scene.streams[zone].standard_normal(scene.n_draws) * sd_k
    if zone in logged:
        return ZoneReading(logged[zone], "by the logger")
    span = getattr(scene.place, zone)
    if span is not None:
        kind = scene.place.thermometer or "unknown"
        return ZoneReading(stated_temperature(scene, span, zone) + error, f"as reported ({kind} thermometer)")
    return _unheated(scene, zone)


def heat_conflict(scene: Scene) -> str:
    """A sentence where "not heated" and a heat source are both stated, else ""."""
    lamps = scene.evidence.lamps
    warm = [lamps[light.kind].name for light in scene.case.history.lights if lamps[light.kind].gives_heat]
    if scene.place.heated is not False or not warm:
        return ""
    return f"It is said to have had no heat and also {warm[0]}: no temperature was inferred from either."


def _unheated(scene: Scene, zone: str) -> ZoneReading:
    """Air temperature of a place without heat.

    Outdoors the sun warms the ground by day, so there only nights and winters are inferred.
    """
    if scene.place.heated is not False or heat_conflict(scene):
        return ZoneReading(None, "")
    time = "night" if zone == "night_c" else "day"
    indoors = scene.prior(f"room_{time}_c", zone)
    season = f"{scene.when}_" if scene.when in ("summer", "winter") else ""
    outdoors = scene.prior(f"outdoor_{season}{time}_c", zone)
    half = scene.streams[zone].random(scene.n_draws) < 0.5
    if scene.outdoors is not True and scene.place.outdoor != "part":
        return ZoneReading(indoors, "as an unheated place in a room has", inferred=True)
    if time == "day" and scene.when != "winter":
        return ZoneReading(None, "")
    if scene.outdoors:
        return ZoneReading(outdoors, "as an unheated place outdoors has", inferred=True)
    return ZoneReading(
        np.where(half, indoors, outdoors), "as an unheated place has, partly outdoors", inferred=True
    )


def wanted_zone(scene: Scene, zone: str) -> Want | None:
    """The wanted range of a zone; the warm side falls back on the lawful least air temperature by day."""
    want = wanted_of(scene, zone.removesuffix("_c") + "_C")
    if want is None and zone == "warm_side_c":
        floor = wanted_of(scene, "day_air_temperature_minimum_C")
        if floor is not None and floor.wanted.low is not None:
            low = floor.low
            said = floor.wanted
            return Want(low, None, Wanted(said.low, None, said.said_by, said.grade, said.evidence_ids))
    return want


def zone_finding(scene: Scene, zone: str, reading: ZoneReading) -> tuple[Finding, str]:
    """The finding of one zone, and the alarm sentence that goes with it ("" where there is none)."""
    want = wanted_zone(scene, zone)
    alarm = "" if reading.draws is None or reading.inferred else _alarm(scene, zone, reading.draws)
    finding = measured(scene, ZONES[zone], reading.draws, want, reading.told, *filter(None, [alarm]))
    if finding.verdict == "doubtful" and scene.place.thermometer is None and "reported" in reading.told:
        finding = replace(finding, ask=ASK_THERMOMETER)
    return finding, alarm


def _alarm(scene: Scene, zone: str, draws: Draws) -> str:
    level, who = alarm_level(scene, zone)
    chance = float(np.mean(draws > level)) if level is not None else 0.0
    if level is None or chance < ALARM_CHANCE:
        return ""
    sure = "is" if chance >= 0.5 else "may be"
    return (
        f"ALARM: the {ZONES[zone].name} {sure} above {figure(level)} °C ({who}). "
        "Measure it again now and turn the heat down; it must always be able to leave."
    )


def alarm_level(scene: Scene, zone: str) -> tuple[float | None, str]:
    """The temperature in C above which harm is near, and who says so; (None, "") where no table says.

    The lower of the alarm limit (for the basking place) and the critical maximum of the taxon.
    """
    found: list[tuple[float, str]] = []
    if zone == "basking_surface_c":
        limits = limits_for(scene.evidence, scene.taxon_id, "hot_spot", "alarm")
        found += [(limit.value, "alarm level, judgement") for limit in limits if limit.value is not None]
    for row in wanted_environment(scene.evidence, scene.taxon_id, "critical_max_C"):
        if row.low is not None:
            found.append((row.low, f"critical maximum, {source_name(scene.evidence, row.source_ids[0])}"))
    return min(found, default=(None, ""))
