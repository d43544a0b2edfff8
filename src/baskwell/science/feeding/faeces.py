"""First faeces, each passage, and how they look."""

import datetime as dt
from dataclasses import dataclass

from baskwell.science.case.model import Case

DAY_S = 86_400.0
WORDS = {1: "watery", 2: "soft", 3: "formed", 4: "dry"}


@dataclass(frozen=True, slots=True)
class Passages:
    """Passages up to now, and sentences that say it.

    ``first_days``: from the first meal or weighing here to the first passage; ``since_days`` since the
    last; None = none was written down or no day is known.
    """

    count: int
    first_days: float | None
    since_days: float | None
    last_score: int | None
    undigested: bool | None
    sentences: tuple[str, ...]


def passages(case: Case, now: dt.datetime) -> Passages:
    """What was passed since it came. No passage time is published for these kinds, so none is judged by days.

    >>> from baskwell.science.case.model import Animal, Days, Faeces, Weight
    >>> days = Days(weights=(Weight(dt.datetime(2026, 3, 1)),), faeces=(Faeces(dt.datetime(2026, 3, 4), 1),))
    >>> told = passages(Case(Animal("python_regius"), days=days), dt.datetime(2026, 3, 6))
    >>> told.first_days, told.since_days, told.last_score
    (3.0, 2.0, 1)
    """
    seen = sorted(
        ((one.at, one) for one in case.days.faeces if one.at is not None and one.at <= now),
        key=lambda pair: pair[0],
    )
    came = _came(case, now)
    first = _days(came, seen[0][0]) if seen and came else None
    since = _days(seen[-1][0], now) if seen else None
    score = next((one.score for _, one in reversed(seen) if one.score is not None), None)
    known = [one.undigested for _, one in seen if one.undigested is not None]
    undigested = any(known) if known else None
    return Passages(
        len(seen), first, since, score, undigested, _sentences(first, since, score, undigested, came, now)
    )


def _came(case: Case, now: dt.datetime) -> dt.datetime | None:
    times = [*(meal.at for meal in case.days.meals), *(weight.at for weight in case.days.weights)]
    return min((at for at in times if at is not None and at <= now), default=None)


def _days(start: dt.datetime, end: dt.datetime) -> float:
    return (end - start).total_seconds() / DAY_S


def _sentences(
    first: float | None,
    since: float | None,
    score: int | None,
    undigested: bool | None,
    came: dt.datetime | None,
    now: dt.datetime,
) -> tuple[str, ...]:
    told = []
    if since is None:
        here = f" in {_days(came, now):.0f} days" if came else ""
        told.append(
            f"No faeces were written down{here}: watch for the first on plain flooring (common practice)."
        )
    elif first is not None:
        told.append(f"First faeces after {first:.0f} days, the last {since:.0f} days ago.")
    if score is not None:
        told.append(f"The last were {WORDS[score]} (score {score} of 4).")
    if undigested:
        told.append("Food passed undigested: check temperature first, then parasites.")
    return tuple(told)
