"""The course of quality of life: trend, forecast, and what calls for a veterinarian."""

import datetime as dt
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, takewhile

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.rows.welfare import WelfareItem
from baskwell.science.causes.ranking import Flag
from baskwell.science.draws import Summary
from baskwell.science.weight.filter import TrendModel, follow
from baskwell.science.weight.trend import DAY_S
from baskwell.science.weight.weighings import Z90
from baskwell.science.welfare.scoring import Score, Scoring, scored

TALK = "Talk with the veterinarian within 24 hours."


@dataclass(frozen=True)
class Course:
    """Scores in order of time and what they say at ``now``; all shares are of the best, 0 to 1.

    ``level``, ``per_week`` and ``forecast`` (``forecast_days`` ahead) are None where nothing was scored.
    ``flags`` refer to a veterinarian and never say more than that.
    """

    now: dt.datetime
    scores: tuple[Score, ...]
    level: Summary | None
    per_week: Summary | None
    forecast: Summary | None
    forecast_days: float
    flags: tuple[Flag, ...]
    asks: tuple[str, ...]


def welfare_course(scorings: Sequence[Scoring], evidence: Evidence, now: dt.datetime) -> Course:
    """The course of the scorings up to ``now``, in any order.

    >>> from baskwell.evidence import load_evidence
    >>> course = welfare_course([], load_evidence(), dt.datetime(2026, 3, 1))
    >>> course.level, course.asks
    (None, ('Nothing was scored yet: two people score separately, then every 7 days.',))
    """
    ordered = sorted((one for one in scorings if one.at <= now), key=lambda one: one.at)
    scores = tuple(scored(one, evidence) for one in ordered)
    ahead = evidence.welfare.choice("forecast_ahead")
    level, per_week, forecast = _trend([one for one in scores if one.share is not None], evidence, now, ahead)
    return Course(
        now=now,
        scores=scores,
        level=level,
        per_week=per_week,
        forecast=forecast,
        forecast_days=ahead,
        flags=(*_acute(ordered, evidence, now), *_low(scores, evidence)),
        asks=tuple(_asks(scores, evidence, now)),
    )


def _trend(
    scores: list[Score], evidence: Evidence, now: dt.datetime, ahead: float
) -> tuple[Summary | None, Summary | None, Summary | None]:
    if not scores:
        return None, None, None
    choice = evidence.welfare.choice
    model = TrendModel(
        choice("level_wander"), choice("slope_wander"), choice("slope_prior"), choice("level_prior"), math.inf
    )
    first = scores[0].at
    days = np.array([(one.at - first).total_seconds() / DAY_S for one in scores])
    shares = np.array([one.share for one in scores], dtype=float)
    track = follow(days, shares, np.full(days.size, choice("scorer_sd")), model)
    today = (now - first).total_seconds() / DAY_S
    mean, covariance = track.joint(today, today + ahead)
    variance = np.diag(covariance)
    weekly = _interval(7 * mean[1], 49 * variance[1], (-math.inf, math.inf))
    return _interval(mean[0], variance[0]), weekly, _interval(mean[2], variance[2])


def _interval(mean: float, variance: float, ends: tuple[float, float] = (0.0, 1.0)) -> Summary:
    spread = Z90 * math.sqrt(max(variance, 0.0))
    return Summary(*(float(np.clip(x, *ends)) for x in (mean, mean - spread, mean + spread)))


def _acute(ordered: list[Scoring], evidence: Evidence, now: dt.datetime) -> Iterator[Flag]:
    """An acute item at 0 for days; a 0 not scored again since counts on."""
    limit = evidence.welfare.choice("acute_days")
    for item in evidence.welfare.welfare_items:
        told = [one for one in ordered if item.item_id in one.scores] if item.acute else []
        run = _zeros(told, item.item_id)
        if run:
            days = (now - run[-1].at).total_seconds() / DAY_S
            yield _acute_flag(item, run[0], days, limit)


def _zeros(told: list[Scoring], item_id: str) -> list[Scoring]:
    """The last scorings in a row with the item at 0, the latest first."""
    return list(takewhile(lambda one: one.scores[item_id] == 0, reversed(told)))


def _acute_flag(item: WelfareItem, last: Scoring, days: float, limit: float) -> Flag:
    state = next((one for one in last.states if one in item.changed_by), "")
    told = f"'{item.name}' stands at 0 for {days:.0f} days"
    if days < limit:
        return Flag("watch", item.item_id, f"{told}: score it daily.", item.source)
    if state:
        text = f"{told}; {state} may explain it: ask a veterinarian."
        return Flag("within days", item.item_id, text, item.source)
    return Flag("vet now", item.item_id, f"{told}. {TALK}", item.source)


def _low(scores: tuple[Score, ...], evidence: Evidence) -> Iterator[Flag]:
    """Under the line so many scoring days in a row; where unscored items decide, it may be so."""
    line, running = evidence.welfare.choice("alert_share"), int(evidence.welfare.choice("alert_running"))
    days = [tuple(group) for _, group in groupby(scores, key=lambda one: one.at.date())][-running:]
    if len(days) < running:
        return
    if all(_mean([one.high for one in day]) < line for day in days):
        yield Flag("vet now", "low_score", f"Under {line:.0%} {running} times in a row. {TALK}", "judgement")
    elif all(_mean([one.low if one.share is None else one.share for one in day]) < line for day in days):
        text = f"Under {line:.0%} {running} times in a row of what was scored. {TALK} Score the rest."
        yield Flag("vet now", "low_score", text, "judgement")
    elif all(_mean([one.low for one in day]) < line for day in days):
        text = f"It may be under {line:.0%}: score what was left out today."
        yield Flag("within days", "low_score", text, "judgement")


def _mean(values: list[float]) -> float:
    return sum(values) / len(values)


def _asks(scores: tuple[Score, ...], evidence: Evidence, now: dt.datetime) -> Iterator[str]:
    choice = evidence.welfare.choice
    every = choice("score_every")
    if not scores:
        yield f"Nothing was scored yet: two people score separately, then every {every:g} days."
        return
    last = [one for one in scores if one.at.date() == scores[-1].at.date()]
    shares = [one.share for one in last if one.share is not None]
    if len({one.by for one in last}) < 2:
        yield "One person scored: let a second one score separately."
    elif shares and max(shares) - min(shares) > choice("disagree"):
        yield f"The scorers lie {max(shares) - min(shares):.0%} apart: look at the animal together."
    if (now - scores[-1].at).total_seconds() / DAY_S > every:
        yield f"Last scored {(now - scores[-1].at).days} days ago: score today."
    missing = sorted({item for one in last for item in one.unscored})
    if missing:
        yield f"Not scored: {', '.join(missing)}. What is not scored is not taken as fine."
