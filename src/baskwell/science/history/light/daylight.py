"""How many hours of light it has a day, from its lamps or from the sun."""

from dataclasses import dataclass

import numpy as np

from baskwell.science.case.model import Case
from baskwell.science.draws import Draws
from baskwell.science.history.finding import Wanted
from baskwell.science.history.light.priors import Priors
from baskwell.science.history.light.sun import When, day_lengths, is_outdoors, when_of
from baskwell.science.history.light.supply import Supply
from baskwell.science.history.light.wanted import WantedLight, worst_grade


@dataclass(frozen=True, eq=False)
class Daylight:
    """Hours of light a day as draws ``(n_draws,)``, None with the reason where they are not known."""

    hours: Draws | None
    why_unknown: str = ""


def recall_daylight(priors: Priors, case: Case, supply: Supply) -> Daylight:
    """The longest-burning lamp that makes day, or the day length of an outdoor pen.

    Not known where the hours of every such lamp are not stated, where lamps burn for so few hours that
    the room must have given more, or outdoors without a latitude.
    """
    around = case.history.surroundings
    if is_outdoors(around) is True:
        sky = day_lengths(when_of(case, around))
        if sky is None:
            return Daylight(None, "It lived outdoors, and at what latitude is not known.")
        return Daylight(priors.stated("daylight", sky, "sun_hours", "outdoor"))
    dark = priors.words("gives_no_daylight")
    lamps = [line for line in supply.lines if line.kind not in dark and line.kind not in ("sun", "window")]
    stated = [line.hours_per_day for line in lamps if "hours_per_day" in line.stated]
    if not lamps:
        return Daylight(None, "Nothing is said of lights that make its day.")
    if not stated:
        return Daylight(None, "How long the lights are on is not known.")
    hours = np.max(np.stack(stated), axis=0)
    if float(np.median(hours)) < priors.one("photoperiod_trust_h"):
        return Daylight(None, "Its lamps are on for so short a time that the room must have given its day.")
    return Daylight(hours)


def wanted_hours(priors: Priors, case: Case, wanted: WantedLight) -> Wanted | None:
    """The range of hours wanted at the time of the examination.

    From the winter value to the summer value, each read with a tolerance; in the animal's summer the
    shortest day wanted is half way between them. No longest day outdoors: nobody switches the sun off.
    None where no source gives both.
    """
    winter, summer = wanted.winter_h, wanted.summer_h
    if winter is None or summer is None:
        return None
    shortest, longest = winter.low or 0.0, summer.high or 24.0
    tolerance = priors.one("photoperiod_tolerance_h")
    open_sky = is_outdoors(case.history.surroundings) is True
    low = (shortest + longest) / 2.0 if _is_summer(case) else shortest - tolerance
    said = "; ".join(dict.fromkeys((summer.said_by, winter.said_by)))
    keys = tuple(dict.fromkeys((*summer.evidence_ids, *winter.evidence_ids)))
    return Wanted(
        max(0.0, low),
        None if open_sky else min(24.0, longest + tolerance),
        said,
        worst_grade([summer.grade, winter.grade]),
        keys,
    )


def _is_summer(case: Case) -> bool:
    """Whether all months that may be meant lie from May to August (November to February in the south)."""
    when: When = when_of(case, case.history.surroundings)
    south = when.latitude_deg is not None and when.latitude_deg < 0
    warm = (11, 12, 1, 2) if south else (5, 6, 7, 8)
    return set(when.months) <= set(warm)
