"""One lamp: what it gives at the animal's back, now and when new, and at the nearest point in reach."""

from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence.rows.environment import Lamp
from baskwell.science.case.model import Light
from baskwell.science.draws import Draws
from baskwell.science.history.light.falloff import fraction_left, relative_irradiance
from baskwell.science.history.light.priors import Priors
from baskwell.science.history.light.reading import PANES, believe_reading, pane_after_reading, surprise

STATED_FIELDS = ("age_months", "distance_cm", "barrier", "hours_per_day", "uv_index_measured")


@dataclass(frozen=True, eq=False)
class LampLine:
    """One entry of the lights, as draws of shape ``(n_draws,)``; UV index is useful UV at the back.

    ``place`` counts the entries from 1 (0 = not listed: the sun of an outdoor pen, a lamp that may be
    there). ``stated`` names the fields that the case gives. ``left`` is the share of its UVB that age has
    left, ``passed`` the share that passes what is between. ``distance_cm`` and ``age_months`` are None
    for the sun and for lights that give no UVB. ``nearest`` is at the nearest point the animal can reach.
    """

    place: int
    kind: str
    name: str
    gives_uvb: bool
    stated: frozenset[str]
    barrier: str | None
    uv_index: Draws = field(repr=False)
    uv_index_new: Draws = field(repr=False)
    nearest: Draws = field(repr=False)
    hours_per_day: Draws = field(repr=False)
    left: Draws = field(repr=False)
    passed: Draws = field(repr=False)
    reach: Draws = field(repr=False)
    """UV index at the back relative to that at the lamp's reference distance, for what distance does."""
    age_months: Draws | None = field(default=None, repr=False)
    distance_cm: Draws | None = field(default=None, repr=False)
    gaps: tuple[str, ...] = ()

    @property
    def is_sun(self) -> bool:
        """Whether this line is the sun and no lamp."""
        return self.kind == "sun"

    def taken(self, index: NDArray[np.intp]) -> "LampLine":
        """The same line with its draws taken in another order or number."""
        moved = {
            one.name: getattr(self, one.name)[index]
            for one in fields(self)
            if isinstance(getattr(self, one.name), np.ndarray)
        }
        return replace(self, **moved)


def recall_lamp(priors: Priors, place: int, light: Light, tags: Sequence[str]) -> LampLine:
    """Draws of one lamp from its kind, age, distance, what is between, hours and a meter reading.

    ``tags`` are those of the animal's kind (a climber comes nearer). Everything not stated is drawn from
    ``light_priors.csv``. KeyError for a kind that ``lamps.csv`` does not know.
    """
    lamp = priors.evidence.lamps[light.kind]
    name = f"light {place}"
    if not lamp.gives_uvb:
        return _line_without_uvb(priors, name, place, light, lamp)
    place_ = _Place.of(priors, name, light, lamp, tags)
    hours = priors.stated(name, light.hours_per_day, "hours_per_day")
    age = priors.stated(name, light.age_months, "age_months")
    left = fraction_left(age, hours, _loss(priors, name, lamp))
    between = _Between.of(priors, name, light.barrier)
    fresh = _strength(priors, name, lamp) * place_.reach
    now, new, passed, gaps = _with_reading(priors, name, light, fresh, left, between)
    left = np.where(new > 0, now / np.maximum(new, 1e-12), left)
    return LampLine(
        place=place,
        kind=lamp.lamp_id,
        name=lamp.name,
        gives_uvb=True,
        stated=stated_fields(light),
        barrier=light.barrier,
        uv_index=now,
        uv_index_new=new,
        nearest=now * place_.nearer,
        hours_per_day=hours,
        left=left,
        passed=passed,
        reach=place_.reach,
        age_months=age,
        distance_cm=place_.distance,
        gaps=gaps,
    )


def stated_fields(light: Light) -> frozenset[str]:
    """Which of the fields that matter for UV the case gives."""
    return frozenset(name for name in STATED_FIELDS if getattr(light, name) is not None)


def is_never_on(light: Light) -> bool:
    """Whether it is stated that a light burns for no hour of the day: it is as good as not there."""
    return light.hours_per_day is not None and light.hours_per_day.high == 0


@dataclass(frozen=True, eq=False)
class _Place:
    """Where the animal sits.

    ``reach`` is the UV at its back relative to the reference distance, ``nearer`` how many times more it
    meets at the nearest point.
    """

    distance: Draws
    reach: Draws
    nearer: Draws

    @classmethod
    def of(cls, priors: Priors, name: str, light: Light, lamp: Lamp, tags: Sequence[str]) -> "_Place":
        distance = _distance(priors, name, light, lamp)
        near = distance * _nearest_share(priors, name, light, tags)
        near = np.minimum(distance, np.maximum(near, priors.one("nearest_floor_cm")))
        length, behind = _source(priors, name, lamp)
        at_back = relative_irradiance(distance, length, behind)
        reference = relative_irradiance(lamp.reference_distance_cm or 30.0, length, behind)
        aside = _off_axis(priors, name, lamp)
        nearer = relative_irradiance(near, length, behind) / (at_back * aside)
        return cls(distance, at_back / reference * aside, nearer)


def _distance(priors: Priors, name: str, light: Light, lamp: Lamp) -> Draws:
    distance = priors.stated(name, light.distance_cm, "distance_cm", lamp.class_)
    if light.distance_cm is None:
        return distance
    spread = np.sqrt(np.log1p(priors.one("stated_distance_cv") ** 2))
    return distance * np.exp(priors.stream(f"{name} stated distance").normal(0.0, spread, priors.n_draws))


def _nearest_share(priors: Priors, name: str, light: Light, tags: Sequence[str]) -> Draws:
    climbs = "arboreal" if "arboreal" in tags else "other"
    return priors.draw(name, "nearest_share", "unguarded" if light.guarded is False else climbs)


def _source(priors: Priors, name: str, lamp: Lamp) -> tuple[Draws, Draws]:
    """Lit length and how far behind the front the source seems to lie, in cm.

    A row whose lamps may be long for their distance (a strip of diodes, a lamp of unknown kind) is given
    its length although ``lamps.csv`` calls it a point: a short one then still falls as a point does.
    """
    low, mode, high = lamp.lit_length_cm_low, lamp.lit_length_cm, lamp.lit_length_cm_high
    long = lamp.falloff == "line" or (high or 0.0) >= (lamp.reference_distance_cm or 30.0)
    length = priors.same(0.0)
    if long and low is not None and mode is not None and high is not None:
        length = priors.between(f"{name} lit length", low, mode, high)
    if priors.find("virtual_source_cm", lamp.class_) is None:
        return length, priors.same(0.0)
    return length, priors.draw(name, "virtual_source_cm", lamp.class_)


def _off_axis(priors: Priors, name: str, lamp: Lamp) -> Draws:
    angle = np.radians(priors.draw(name, "off_axis_deg", lamp.class_))
    return np.cos(angle) ** priors.draw(name, "off_axis_exponent")


def _strength(priors: Priors, name: str, lamp: Lamp) -> Draws:
    """UV index of a new lamp of this kind at its reference distance."""
    strength = priors.between(f"{name} strength", lamp.uvi_low, lamp.uvi_mode, lamp.uvi_high)
    if priors.find("reflector_factor", lamp.lamp_id) is not None:
        strength = strength * priors.draw(name, "reflector_factor", lamp.lamp_id)
    if priors.find("zero_share", lamp.lamp_id) is not None:
        dud = priors.stream(f"{name} dud").random(priors.n_draws) < priors.one("zero_share", lamp.lamp_id)
        strength = np.where(dud, 0.0, strength)
    return strength


def _loss(priors: Priors, name: str, lamp: Lamp) -> Draws:
    low, mode, high = lamp.decay_per_1000h_low, lamp.decay_per_1000h_mode, lamp.decay_per_1000h_high
    if low is None or mode is None or high is None:
        return priors.same(0.0)
    return priors.between(f"{name} loss", low, mode, high)


@dataclass(frozen=True, eq=False)
class _Between:
    """What is between: useful UV passed, and whether it is a pane (1 or 0)."""

    passed: Draws
    pane: Draws

    @classmethod
    def of(cls, priors: Priors, name: str, barrier: str | None) -> "_Between":
        if barrier is not None:
            passed = priors.draw(name, "transmission", barrier)
            pane = priors.same(1.0 if barrier in PANES else 0.0)
        else:
            passed, pane = _guessed_barrier(priors, name)
        return cls(passed, pane)

    def shown(self, priors: Priors, name: str) -> Draws:
        """The share that a UV index meter would still show."""
        return np.where(self.pane > 0, priors.draw(name, "meter_transmission", "glass"), self.passed)


def _guessed_barrier(priors: Priors, name: str) -> tuple[Draws, Draws]:
    kinds = sorted(priors.words("barrier_share"))
    shares = np.array([priors.one("barrier_share", kind) for kind in kinds])
    which = priors.stream(f"{name} barrier").choice(len(kinds), priors.n_draws, p=shares / shares.sum())
    passed = np.choose(which, [priors.draw(f"{name} if {kind}", "transmission", kind) for kind in kinds])
    return passed, np.isin(which, [kinds.index(pane) for pane in PANES]).astype(np.float64)


def _with_reading(
    priors: Priors, name: str, light: Light, fresh: Draws, left: Draws, between: _Between
) -> tuple[Draws, Draws, Draws, tuple[str, ...]]:
    """UV index now and when new, the share passed, and what to say, after a meter reading."""
    reading = light.uv_index_measured
    new = fresh * between.passed
    if reading is None:
        return new * left, new, between.passed, ()
    if light.barrier in PANES:
        return new * left, new, between.passed, (_worthless(light.barrier),)
    still = pane_after_reading(
        priors, name, between.pane, fresh * left * between.shown(priors, name), reading
    )
    now, new = believe_reading(priors, name, new * left, new, reading)
    gaps: tuple[str, ...] = ()
    if surprise(priors, fresh * left * between.passed, reading) > 3.0:
        gaps = (_far_off(reading.middle, priors.evidence.lamps[light.kind].name),)
    open_ = still == 0
    return now * open_, new * open_, between.passed * open_, gaps


def _worthless(barrier: str | None) -> str:
    return (
        f"The UV index reading behind {barrier or 'a pane'} was not used: a meter still shows something "
        "there, but no useful UVB comes through. Measure again with nothing solid between."
    )


def _far_off(shown: float, name: str) -> str:
    return (
        f"The UV index reading of {shown:g} lies far from what such a lamp ({name}) gives there: "
        "check the meter, the kind of lamp and the place of the reading."
    )


def _line_without_uvb(priors: Priors, name: str, place: int, light: Light, lamp: Lamp) -> LampLine:
    stray = priors.between(f"{name} stray", lamp.uvi_low, lamp.uvi_mode, lamp.uvi_high)
    seen = _stray_reading(priors, name, light, lamp)
    if seen is not None:
        stray = seen
    one = priors.same(1.0)
    return LampLine(
        place=place,
        kind=lamp.lamp_id,
        name=lamp.name,
        gives_uvb=seen is not None,
        stated=stated_fields(light),
        barrier=light.barrier,
        uv_index=stray,
        uv_index_new=stray,
        nearest=stray,
        hours_per_day=_hours_without_uvb(priors, name, light),
        left=one,
        passed=one,
        reach=one,
        gaps=_stray_gaps(light, lamp),
    )


def _hours_without_uvb(priors: Priors, name: str, light: Light) -> Draws:
    if light.hours_per_day is None:
        # Nothing is computed from it, and a draw of every heat mat's hours would cost time on each answer.
        return priors.same(priors.one("hours_per_day"))
    return priors.stated(name, light.hours_per_day, "hours_per_day")


def _stray_reading(priors: Priors, name: str, light: Light, lamp: Lamp) -> Draws | None:
    """A reading under a light without UVB contradicts its kind; one through a pane says nothing."""
    reading = light.uv_index_measured
    if reading is None or reading.middle <= 0 or _is_behind_pane(light, lamp):
        return None
    seen, _ = believe_reading(priors, name, priors.same(0.0), priors.same(0.0), reading)
    return seen


def _is_behind_pane(light: Light, lamp: Lamp) -> bool:
    return light.barrier in PANES or lamp.class_ == "sun"


def _stray_gaps(light: Light, lamp: Lamp) -> tuple[str, ...]:
    reading = light.uv_index_measured
    if reading is None or reading.middle <= 0:
        return ()
    if _is_behind_pane(light, lamp):
        return (_worthless(light.barrier),)
    return (f"{lamp.name} should give no UVB, yet UV index {reading.middle:g} was read: check its kind.",)
