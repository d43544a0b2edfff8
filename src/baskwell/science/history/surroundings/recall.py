"""What its surroundings were: the whole history of heat, humidity, room, ground and care."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.rows.surroundings import Substrate
from baskwell.science.case.model import Case
from baskwell.science.case.model_care import Period, Surroundings
from baskwell.science.draws import Draws
from baskwell.science.history.climate_log import ClimateLog
from baskwell.science.history.finding import Finding
from baskwell.science.history.surroundings.care import care_findings, read_substrates, substrate_finding
from baskwell.science.history.surroundings.least import (
    ground_depth_finding,
    height_finding,
    water_depth_finding,
)
from baskwell.science.history.surroundings.logged import Logged, read_log
from baskwell.science.history.surroundings.moisture import drying_power_kpa, humidity_finding, read_humidity
from baskwell.science.history.surroundings.room import Room, floor_finding, read_room
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.spans import instrument_sd
from baskwell.science.history.surroundings.temperature import (
    ZONES,
    ZoneReading,
    heat_conflict,
    read_zone,
    zone_finding,
)
from baskwell.science.history.surroundings.wording import with_sentence

_MOVES = ("container", "outdoor")
_BEARS_ON = {
    "heated": tuple(ZONES),
    "tank": ("floor_area_m2", "height_cm"),
    "floor_cm": ("floor_area_m2",),
    "floor_m2": ("floor_area_m2",),
    "space": ("floor_area_m2",),
    "container": (*ZONES, "relative_humidity_pct", "floor_area_m2"),
    "outdoor": (*ZONES, "relative_humidity_pct", "outdoor_shelter"),
}
"""Findings that a field bears on, where they are not called like it."""


@dataclass(frozen=True)
class PlaceReading:
    """What one place had, as draws of shape ``(n_draws,)``; a zone of which nothing is known is missing.

    ``zones`` holds the temperatures in C by finding id and ``relative_humidity_pct`` in %;
    ``inferred`` names those that no one measured. ``drying_power_kpa`` is the vapour pressure deficit
    on the warm side, ``floor_m2`` the floor, ``floor_share`` the floor over what the middle rule asks
    for; None = not known. ``substrates`` are the materials in order of time.
    """

    zones: Mapping[str, Draws] = field(repr=False)
    inferred: tuple[str, ...]
    drying_power_kpa: Draws | None = field(repr=False)
    floor_m2: Draws | None = field(repr=False)
    floor_share: Draws | None = field(repr=False)
    animals: int
    substrates: tuple[Substrate, ...]


@dataclass(frozen=True)
class SurroundingsHistory:
    """The surroundings judged: findings, what could not be used, and the draws behind them.

    ``findings`` of other seasons carry ``@summer``, ``@winter`` or ``@before`` in their id. ``alarms``
    are sentences that must be shown before all else; ``questions`` what to ask, the plainest first.
    ``body_length_cm`` is by kind (SCL, SVL, TL). ``place`` is the usual place, ``periods`` the others.
    """

    findings: tuple[Finding, ...]
    gaps: tuple[str, ...]
    questions: tuple[str, ...]
    alarms: tuple[str, ...]
    place: PlaceReading
    periods: Mapping[str, PlaceReading]
    body_length_cm: Mapping[str, Draws] = field(repr=False)


@dataclass(frozen=True)
class _View:
    """One scene judged."""

    findings: tuple[Finding, ...]
    gaps: tuple[str, ...]
    alarms: Mapping[str, str]
    reading: PlaceReading
    room: Room


def recall_surroundings(
    case: Case, evidence: Evidence, rng: np.random.Generator, n_draws: int, climate: ClimateLog | None
) -> SurroundingsHistory:
    """Judge where an animal lived, from what was told and from a logger's file.

    A log stands above what was reported, and says so. What is not known becomes a question, never a
    fit. Other seasons and earlier places (``history.periods``) are judged where they differ.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal
    >>> flint = Case(Animal("terrapene_ornata"))
    >>> past = recall_surroundings(flint, load_evidence(), np.random.default_rng(1), 100, None)
    >>> {finding.verdict for finding in past.findings}
    {'not known'}
    """
    usual = case.history.surroundings or Surroundings()
    scene = Scene.of(case, evidence, usual, "", n_draws, rng)
    view = _look(scene, read_log(scene, climate))
    others = [_look_elsewhere(case, evidence, period, n_draws, rng) for period in case.history.periods]
    findings = view.findings + tuple(f for other in others for f in other.findings)
    missing = _missing_log(usual, climate)
    return SurroundingsHistory(
        findings=findings,
        gaps=tuple(dict.fromkeys((*missing, *view.gaps, *(gap for other in others for gap in other.gaps)))),
        questions=tuple(dict.fromkeys(finding.ask for finding in findings if finding.ask)),
        alarms=tuple(dict.fromkeys(alarm for seen in (view, *others) for alarm in _alarms(seen))),
        place=view.reading,
        periods={
            period.when or "before": other.reading
            for period, other in zip(case.history.periods, others, strict=True)
        },
        body_length_cm=view.room.length.by_kind,
    )


def _alarms(view: _View) -> tuple[str, ...]:
    """The alarms of the findings that are told."""
    return tuple(view.alarms[one.finding_id] for one in view.findings if one.finding_id in view.alarms)


def _missing_log(usual: Surroundings, climate: ClimateLog | None) -> tuple[str, ...]:
    if not usual.climate_log or climate is not None:
        return ()
    return (f"The climate log {usual.climate_log} was not given, so temperatures are as told.",)


def _look(scene: Scene, logged: Logged) -> _View:
    sd = instrument_sd(scene, "temperature", scene.place.thermometer)
    readings = {zone: read_zone(scene, zone, logged.zones, sd) for zone in ZONES}
    heat = [zone_finding(scene, zone, reading) for zone, reading in readings.items()]
    warm = readings["warm_side_c"].draws
    humidity, told = read_humidity(scene, logged.zones)
    room = read_room(scene)
    found = (
        *(finding for finding, _ in heat),
        humidity_finding(scene, humidity, told, warm),
        floor_finding(scene, room),
        height_finding(scene, room),
        water_depth_finding(scene, room),
        substrate_finding(scene),
        ground_depth_finding(scene),
        *care_findings(scene),
    )
    stands = tuple(_above_report(scene, finding, logged) for finding in found if finding is not None)
    return _View(
        (*stands, *logged.findings),
        (*logged.gaps, *_gaps(scene, room)),
        {finding.finding_id: alarm for finding, alarm in heat if alarm},
        _place_reading(scene, readings, humidity, warm, room),
        room,
    )


def _above_report(scene: Scene, finding: Finding, logged: Logged) -> Finding:
    """Say where a log stands above what was reported."""
    if finding.finding_id not in logged.zones or getattr(scene.place, finding.finding_id) is None:
        return finding
    return with_sentence(finding, "What was reported is left aside: the log stands above it.")


def _gaps(scene: Scene, room: Room) -> tuple[str, ...]:
    _, unread = read_substrates(scene)
    gaps = [heat_conflict(scene)]
    gaps += [f'The substrate "{word}" is in no table and was left out.' for word in unread]
    if not room.needs:
        gaps.append(f"No published rule on room could be used for a {scene.kind}.")
    return tuple(filter(None, gaps))


def _place_reading(
    scene: Scene, readings: Mapping[str, ZoneReading], humidity: Draws | None, warm: Draws | None, room: Room
) -> PlaceReading:
    zones = {zone: one.draws for zone, one in readings.items() if one.draws is not None}
    if humidity is not None:
        zones["relative_humidity_pct"] = humidity
    area, need = room.floor.area_m2, room.middle_need_m2
    return PlaceReading(
        zones=zones,
        inferred=tuple(zone for zone, one in readings.items() if one.inferred and one.draws is not None),
        drying_power_kpa=drying_power_kpa(humidity, warm),
        floor_m2=area,
        floor_share=None if area is None or need is None else area / need,
        animals=room.animals,
        substrates=read_substrates(scene)[0],
    )


def _look_elsewhere(
    case: Case, evidence: Evidence, period: Period, n_draws: int, rng: np.random.Generator
) -> _View:
    """Another season or an earlier place: only the findings that it changes, and what of it is not known."""
    usual = case.history.surroundings or Surroundings()
    scene = Scene.of(case, evidence, _merged(usual, period), period.when or "before", n_draws, rng)
    view = _look(scene, Logged())
    stated = _stated(period)
    changed = tuple(finding for finding in view.findings if _touched(finding, stated))
    known = tuple(finding for finding in changed if finding.verdict != "not known" or finding.got is not None)
    unknown = [finding.name for finding in changed if finding not in known]
    gaps = (*view.gaps, f"Not known: {', '.join(unknown)}.") if unknown else view.gaps
    return replace(view, findings=known, gaps=gaps)


def _stated(place: Surroundings) -> dict[str, object]:
    names = [one.name for one in fields(Surroundings) if one.name not in ("notes", "climate_log")]
    return {name: getattr(place, name) for name in names if getattr(place, name) not in (None, "", ())}


def _merged(usual: Surroundings, period: Period) -> Surroundings:
    """What differs, over the usual place; over nothing where it lived elsewhere."""
    stated = _stated(period)
    base = Surroundings() if any(name in stated for name in _MOVES) else usual
    return replace(base, **stated)  # type: ignore[arg-type]


def _touched(finding: Finding, stated: Mapping[str, object]) -> bool:
    bare = finding.finding_id.split("@")[0]
    return any(bare in _BEARS_ON.get(name, (name,)) for name in stated)
