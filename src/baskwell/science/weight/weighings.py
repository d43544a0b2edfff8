"""The weighings of a case: which can be used, and which not and why."""

import datetime as dt
import math
from dataclasses import dataclass

from baskwell.science.case.model import Case, Weight
from baskwell.science.case.span import Span

Z90 = 1.6448536269514722  # a stated range is read as a central 90 % interval


@dataclass(frozen=True, slots=True)
class Weighing:
    """One usable weighing; ``spread`` is the standard deviation of the stated range as a share of mass."""

    at: dt.datetime
    grams: float
    spread: float


def usable_weighings(case: Case, now: dt.datetime) -> tuple[tuple[Weighing, ...], tuple[str, ...]]:
    """The weighings up to ``now`` in order of time, and a sentence for each that cannot be used.

    The mass stated for the animal counts as one more at noon of the examination, unless that day has a
    weighing of its own.

    >>> from baskwell.science.case.model import Animal, Days
    >>> now = dt.datetime(2026, 3, 14, 12)
    >>> days = Days(weights=(Weight(None, Span.exactly(390.0)), Weight(now, Span.exactly(395.0))))
    >>> told, gaps = usable_weighings(Case(Animal("terrapene_carolina"), days=days), now)
    >>> told[0].grams, gaps
    (395.0, ('Weighing 1 (390 g) has no time, so it is left out: add the day and hour.',))
    """
    told: list[Weighing] = []
    gaps: list[str] = []
    for place, one in enumerate(case.days.weights, start=1):
        wrong = _wrong(one, now)
        if wrong:
            gaps.append(f"Weighing {place} ({_grams(one.mass_g)}) {wrong}")
        elif one.at is not None and one.mass_g is not None:
            told.append(_weighing(one.at, one.mass_g))
    told += _at_exam(case, now, {one.at.date() for one in told})
    return tuple(sorted(told, key=lambda one: one.at)), tuple(gaps)


def _wrong(one: Weight, now: dt.datetime) -> str:
    if not is_mass(one.mass_g):
        return "is no mass above zero with both ends known, so it is left out: weigh again."
    if one.at is None:
        return "has no time, so it is left out: add the day and hour."
    if one.at > now:
        return f"lies after {now:%d %B %Y, %H:%M}, so it is left out: correct the day."
    return ""


def is_mass(span: Span | None) -> bool:
    """Whether a stated mass is above zero with both ends known."""
    ends = (span.low, span.high) if span else (None,)
    return all(end is not None and math.isfinite(end) and end > 0 for end in ends)


def _weighing(at: dt.datetime, span: Span) -> Weighing:
    low, high = span.low or 0.0, span.high or 0.0
    return Weighing(at, math.sqrt(low * high), math.log(high / low) / (2 * Z90) if high > low else 0.0)


def _at_exam(case: Case, now: dt.datetime, days: set[dt.date]) -> list[Weighing]:
    mass, date = case.animal.mass_g, case.exam.date
    if mass is None or date is None or date in days or not is_mass(mass):
        return []
    noon = dt.datetime.combine(date, dt.time(12))
    return [_weighing(min(noon, now), mass)] if date <= now.date() else []


def _grams(span: Span | None) -> str:
    if span is None:
        return "no mass"
    if span.low == span.high:
        return f"{span.middle:g} g"
    return " to ".join("unknown" if end is None else f"{end:g}" for end in (span.low, span.high)) + " g"
