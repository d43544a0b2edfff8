"""The findings of light in plain sentences."""

import numpy as np

from baskwell.science.draws import Against, Draws, against, summarise
from baskwell.science.history.finding import Finding, Verdict, Wanted, judge
from baskwell.science.history.light.daylight import Daylight
from baskwell.science.history.light.lamp import LampLine
from baskwell.science.history.light.questions import (
    ASK_HOURS,
    ASK_LATITUDE,
    ASK_NEAREST,
    ASK_SHADE,
    ASK_SOURCE,
    ASK_UNLISTED,
    questions_of,
)
from baskwell.science.history.light.supply import Supply
from baskwell.science.history.light.wanted import WantedLight


def uv_at_back(supply: Supply, wanted: WantedLight) -> Finding:
    """The UV index at the back where it basks, against what its kind is wanted to have."""
    range_ = _without_ceiling(wanted.at_back) if supply.has_sun else wanted.at_back
    chances = _chances(supply.uv_index, range_)
    return Finding(
        finding_id="uv_index_at_back",
        topic="light",
        name="UV index at its back",
        unit="UVI",
        wanted=range_,
        got=None if supply.uv_index is None else summarise(supply.uv_index),
        chances=chances,
        verdict=_no_firmer_than_told(judge(chances), supply),
        sentence=_at_back_sentence(supply, range_, chances, wanted.optional),
        ask=_ask_at_back(supply),
        draws=supply.uv_index,
    )


def uv_nearest(supply: Supply, wanted: WantedLight) -> Finding:
    """The UV index at the nearest point in reach of a lamp, against the ceiling for its eyes."""
    draws = supply.nearest
    chances = _chances(draws, wanted.nearest)
    return Finding(
        finding_id="uv_index_nearest",
        topic="light",
        name="UV index at the nearest point it can reach",
        unit="UVI",
        wanted=wanted.nearest,
        got=None if draws is None else summarise(draws),
        chances=chances,
        verdict=_no_firmer_than_told(judge(chances), supply),
        sentence=_nearest_sentence(supply, wanted),
        ask=_ask_nearest(supply),
        draws=draws,
    )


def day_hours(daylight: Daylight, range_: Wanted | None, outdoors: bool) -> Finding:
    """Hours of light a day."""
    chances = _chances(daylight.hours, range_)
    got = None if daylight.hours is None else summarise(daylight.hours)
    sentence = daylight.why_unknown
    if got is not None:
        sentence = f"It has about {got.median:.0f} hours of light a day; {_want(range_, 'h')}."
    return Finding(
        finding_id="photoperiod_h",
        topic="light",
        name="hours of light a day",
        unit="h",
        wanted=range_,
        got=got,
        chances=chances,
        verdict=judge(chances),
        sentence=sentence,
        ask="" if got is not None else (ASK_LATITUDE if outdoors else ASK_HOURS),
        draws=daylight.hours,
    )


def lamp_sentence(line: LampLine) -> str:
    """One lamp in one sentence: what it gives at the back, and what age and obstacles leave of it.

    >>> one = np.ones(3)
    >>> nil, stated = 0 * one, frozenset({"age_months"})
    >>> lamp = LampLine(1, "x", "T8 tube", True, stated, "glass", nil, nil, nil, one, one / 2, nil, one)
    >>> lamp_sentence(lamp)
    'T8 tube: no useful UVB comes through glass.'
    """
    if not line.gives_uvb:
        return f"{line.name}: no useful UVB."
    if not bool(np.any(line.uv_index > 0)):
        return f"{line.name}: no useful UVB comes through {line.barrier or 'what is between'}."
    got = summarise(line.uv_index)
    start = (
        f"{line.name}: UV index about {_uvi(got.median)} ({_uvi(got.low)} to {_uvi(got.high)}) at its back"
    )
    if line.is_sun:
        return f"{start} where it basks in the sun."
    told = "" if "age_months" in line.stated else ", its age a guess"
    left, passed = float(np.median(line.left)), float(np.median(line.passed))
    return f"{start}; {left:.0%} of its UVB left by age{told}, {passed:.0%} passed by what is between."


def _no_firmer_than_told(verdict: Verdict, supply: Supply) -> Verdict:
    """Keep a verdict on a guessed distance or age at doubtful: unknown is never wrong or fine."""
    if verdict == "not known" or supply.source in ("none", "unknown"):
        return verdict
    return verdict if supply.source == "known" and _is_told(supply) else "doubtful"


def _is_told(supply: Supply) -> bool:
    """Whether enough was said of the strongest source.

    A reading, a pane in the way, both age and distance of a lamp, or the latitude of the sun.
    """
    strongest = _strongest(supply)
    if "uv_index_measured" in strongest.stated or not bool(strongest.uv_index.any()):
        return True
    needed = {"latitude_deg"} if strongest.is_sun else {"age_months", "distance_cm"}
    return needed <= strongest.stated


def _strongest(supply: Supply) -> LampLine:
    return max(
        (line for line in supply.lines if line.gives_uvb), key=lambda line: float(line.uv_index.mean())
    )


def _without_ceiling(wanted: Wanted | None) -> Wanted | None:
    """In the open the animal chooses between sun and shade: what counts is that there is enough."""
    if wanted is None:
        return None
    return Wanted(wanted.low, None, wanted.said_by, wanted.grade, wanted.evidence_ids)


def _chances(draws: Draws | None, wanted: Wanted | None) -> Against | None:
    if draws is None or wanted is None:
        return None
    return against(draws, wanted.low, wanted.high)


def _at_back_sentence(supply: Supply, wanted: Wanted | None, chances: Against | None, optional: bool) -> str:
    helpful = " UVB helps its kind but is not shown to be needed." if optional else ""
    if supply.uv_index is None:
        return f"{supply.because[:-1]}: the UV index at its back is not known.{helpful}"
    if supply.source == "none":
        return f"It had no UVB: UV index 0, and {_want(wanted)}.{helpful}"
    if supply.source == "unlisted":
        unless = "Unless it has a UVB lamp that nobody named, the UV index at its back is 0"
        return f"{unless}; {_want(wanted)}.{helpful}"
    got = summarise(supply.uv_index)
    start = f"The UV index at its back is about {_uvi(got.median)} ({_uvi(got.low)} to {_uvi(got.high)})"
    return f"{start}; {_want(wanted)}{_verdict_words(chances)}{_mainly_because(supply, chances)}.{helpful}"


def _verdict_words(chances: Against | None) -> str:
    if chances is None:
        return ""
    words = (
        ("too little", chances.below),
        ("enough and not too much", chances.inside),
        ("too much", chances.above),
    )
    word, chance = max(words, key=lambda pair: pair[1])
    return f": {word} in {chance:.0%} of what is possible"


def _mainly_because(supply: Supply, chances: Against | None) -> str:
    """What takes most from the strongest lamp, where it is too little."""
    lamps = [line for line in supply.lines if line.gives_uvb and not line.is_sun]
    if chances is None or chances.below < 0.5 or not lamps:
        return ""
    line = max(lamps, key=lambda lamp: float(lamp.uv_index_new.mean()))
    parts = {
        "its age": float(line.left.mean()),
        "what is between": float(line.passed.mean()),
        "the distance": float(line.reach.mean()),
    }
    part = min(parts, key=lambda name: parts[name])
    return f", mainly because of {part}" if parts[part] < 0.7 else ""


def _nearest_sentence(supply: Supply, wanted: WantedLight) -> str:
    if supply.nearest is None:
        if supply.source == "known":
            return "No lamp gives it UVB: in the sun it needs shade that it can always reach."
        return "No lamp is known: what reaches its eyes cannot be told."
    if not bool(supply.nearest.any()):
        return "No lamp gives it UVB: nothing of it can harm its eyes."
    got = summarise(supply.nearest)
    most = wanted.nearest.high if wanted.nearest else None
    ceiling = f"; it should stay below {most:g}" if most is not None else ""
    sentence = (
        f"As near as it can come the UV index is about {_uvi(got.median)} (up to {_uvi(got.high)}){ceiling}"
    )
    block = wanted.block_uvi
    over = float(np.mean(supply.nearest > block)) if block is not None else 0.0
    if over < 0.05:
        return f"{sentence}."
    return f"{sentence}, and passes {block:g}, which no animal may meet, in {over:.0%} of what is possible."


def _ask_at_back(supply: Supply) -> str:
    if supply.source in ("unknown", "none"):
        return ASK_SOURCE if supply.source == "unknown" else ""
    if supply.source == "unlisted":
        return ASK_UNLISTED
    strongest = _strongest(supply)
    if strongest.is_sun:
        return ASK_SHADE if _is_told(supply) else ASK_LATITUDE
    asked = questions_of(supply.lines)
    return asked[0] if asked else ""


def _ask_nearest(supply: Supply) -> str:
    if supply.nearest is None:
        return ASK_SHADE if supply.has_sun else ASK_SOURCE
    if supply.source == "unlisted":
        return ASK_UNLISTED
    return ASK_NEAREST if bool(supply.nearest.any()) else ""


def _want(wanted: Wanted | None, unit: str = "") -> str:
    if wanted is None:
        return "how much is wanted is not known"
    tail = f" {unit}" if unit else ""
    if wanted.high is None:
        return f"at least {wanted.low:g}{tail} is wanted"
    if wanted.low is None:
        return f"at most {wanted.high:g}{tail} is wanted"
    return f"{wanted.low:g} to {wanted.high:g}{tail} is wanted"


def _uvi(value: float) -> str:
    """A UV index as a keeper reads it off a meter: tenths, and hundredths only below a half."""
    if value < 0.005:
        return "0"
    return f"{value:.1f}" if value >= 0.5 else f"{value:.2f}"
