"""All lights together: what reaches the animal, and whether anything is known of it."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from baskwell.science.case.model import Case, Light
from baskwell.science.draws import Draws
from baskwell.science.history.light.lamp import LampLine, is_never_on, recall_lamp
from baskwell.science.history.light.priors import Priors
from baskwell.science.history.light.reading import PANES
from baskwell.science.history.light.sun import day_lengths, is_outdoors, listed_sun, sun_outdoors, when_of

Source = Literal["known", "none", "unlisted", "unknown"]


@dataclass(frozen=True, eq=False)
class Supply:
    """What reaches the animal, as draws of shape ``(n_draws,)``; None where nothing is known.

    ``source`` is ``known`` (a UVB lamp or the sun), ``none`` (stated that there is none, or window glass
    only), ``unlisted`` (lamps were named, none of them gives UVB) or ``unknown``. ``nearest`` counts lamps
    only. ``dose`` is in UV-index-hours a day, averaged over the year where summers differ.
    """

    source: Source
    because: str
    lines: tuple[LampLine, ...]
    uv_index: Draws | None = field(default=None, repr=False)
    uv_index_new: Draws | None = field(default=None, repr=False)
    nearest: Draws | None = field(default=None, repr=False)
    dose: Draws | None = field(default=None, repr=False)

    @property
    def has_sun(self) -> bool:
        """Whether the sun is one of the sources."""
        return any(line.is_sun and line.gives_uvb for line in self.lines)

    def taken(self, index: NDArray[np.intp]) -> "Supply":
        """The same supply with its draws taken in another order or number."""

        def moved(draws: Draws | None) -> Draws | None:
            return None if draws is None else draws[index]

        return replace(
            self,
            lines=tuple(line.taken(index) for line in self.lines),
            uv_index=moved(self.uv_index),
            uv_index_new=moved(self.uv_index_new),
            nearest=moved(self.nearest),
            dose=moved(self.dose),
        )


def recall_supply(priors: Priors, case: Case, tags: Sequence[str]) -> Supply:
    """Put the lights of a case and the sun together."""
    lamps = _lamps(priors, case, tags)
    now, seasonal = _suns(priors, case)
    giving = [line for line in (*lamps, *now) if line.gives_uvb]
    if not giving and seasonal and _source(priors, case) == "unknown":
        giving = now = [line for line, _ in seasonal]
    lines = (*lamps, *now)
    if giving:
        return _with_dose(_known(priors, lines), priors, seasonal)
    source = _source(priors, case)
    if source == "unknown":
        return Supply(source, "Nothing is said of a UVB lamp or of sun.", lines)
    if source == "none":
        nil = priors.same(0.0)
        because = "It is stated that it had no UVB lamp and no open sun."
        if seasonal:
            because = "It is stated that it had no UVB lamp; for part of the year it was out in the sun."
        supply = Supply(source, because, lines, nil, nil, nil, nil)
    else:
        supply = _perhaps(priors, lines, tags)
    return _with_dose(supply, priors, seasonal)


def together(priors: Priors, parts: Sequence[Draws]) -> Draws:
    """Add what several lamps give at one place: the strongest, and a share of the rest.

    Where the second lamp shines is rarely told; the share (``lamps_overlap``) runs from none to all, so
    the sum is never below the strongest lamp nor above all together.
    """
    if not parts:
        return priors.same(0.0)
    stacked = np.stack(parts)
    strongest: Draws = stacked.max(axis=0)
    if len(parts) == 1:
        return strongest
    rest: Draws = stacked.sum(axis=0) - strongest
    return strongest + priors.draw("lights", "lamps_overlap") * rest


def _lamps(priors: Priors, case: Case, tags: Sequence[str]) -> tuple[LampLine, ...]:
    return tuple(
        recall_lamp(priors, place, light, tags)
        for place, light in enumerate(case.history.lights, start=1)
        if light.kind not in ("sun", "none") and not is_never_on(light)
    )


def _suns(priors: Priors, case: Case) -> tuple[list[LampLine], list[tuple[LampLine, bool]]]:
    """The sun in its present place, and in other seasons with whether it lives outdoors then."""
    around = case.history.surroundings
    when = when_of(case, around)
    outdoors = is_outdoors(around)
    hours = day_lengths(when) if outdoors is True else None
    now = [
        listed_sun(priors, place, light, when, hours)
        for place, light in enumerate(case.history.lights, start=1)
        if light.kind == "sun" and not is_never_on(light)
    ]
    if not now and outdoors:
        now = [sun_outdoors(priors, "outdoors", outdoors, when)]
    seasonal = [
        (
            sun_outdoors(priors, f"{period.when} outdoors", out, when_of(case, period, period.when)),
            out is True,
        )
        for period in case.history.periods
        if period.when in ("summer", "winter") and (out := is_outdoors(period))
    ]
    return now, seasonal


def _source(priors: Priors, case: Case) -> Source:
    """What the list of lights says where no entry of it gives UVB."""
    lights = case.history.lights
    kinds = {light.kind for light in lights if not is_never_on(light)}
    behind_pane = any(light.kind == "sun" and light.barrier in PANES for light in lights)
    dark = bool(lights) and all(is_never_on(light) for light in lights)
    if dark or behind_pane or kinds & {"none", "window"}:
        return "none"
    return "unlisted" if kinds - priors.words("says_nothing_of_lamps") - {"sun"} else "unknown"


def _known(priors: Priors, lines: Sequence[LampLine]) -> Supply:
    lamps = [line for line in lines if not line.is_sun and line.nearest.any()]
    sun = [line for line in lines if line.is_sun]

    def best(part: str) -> Draws:
        draws: Draws = together(priors, [getattr(line, part) for line in lamps])
        for line in sun:
            draws = np.maximum(draws, getattr(line, part))
        return draws

    dose = together(priors, [line.uv_index * line.hours_per_day for line in lamps])
    for line in sun:
        dose = dose + line.uv_index * line.hours_per_day
    has_lamp = any(line.gives_uvb and not line.is_sun for line in lines)
    nearest = together(priors, [line.nearest for line in lamps]) if has_lamp else None
    names = " and ".join(dict.fromkeys(line.name for line in lines if line.gives_uvb))
    return Supply(
        "known", f"Named: {names}.", tuple(lines), best("uv_index"), best("uv_index_new"), nearest, dose
    )


def _perhaps(priors: Priors, lines: Sequence[LampLine], tags: Sequence[str]) -> Supply:
    """Lamps were named but none with UVB: perhaps there is one that nobody named."""
    hidden = recall_lamp(priors, 0, Light(kind="uvb_lamp_unspecified"), tags)
    chance = priors.draw("unlisted", "unlisted_uvb_share")
    there = priors.stream("unlisted lamp").random(priors.n_draws) < chance
    return Supply(
        source="unlisted",
        because="Lights were named, none of them gives UVB; a UVB lamp that nobody named cannot be excluded.",
        lines=tuple(lines),
        uv_index=np.where(there, hidden.uv_index, 0.0),
        uv_index_new=np.where(there, hidden.uv_index_new, 0.0),
        nearest=np.where(there, hidden.nearest, 0.0),
        dose=np.where(there, hidden.uv_index * hidden.hours_per_day, 0.0),
    )


def _with_dose(supply: Supply, priors: Priors, seasonal: Sequence[tuple[LampLine, bool]]) -> Supply:
    """Average the daily dose over a year with seasons outdoors."""
    dose = supply.dose
    for line, whole in seasonal:
        if dose is None or line in supply.lines:
            continue
        share = priors.draw("seasons", "season_share", "summer")
        outdoors = line.uv_index * line.hours_per_day
        dose = (1.0 - share) * dose + share * (outdoors if whole else dose + outdoors)
    return replace(supply, dose=dose)
