"""How long it has not eaten, what it lost meanwhile: read from meals, weighings and the examination."""

import datetime as dt
from collections.abc import Sequence
from itertools import takewhile

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.case.span import Span
from baskwell.science.causes.factors import age_class
from baskwell.science.draws import Summary
from baskwell.science.feeding.escalation import Fast
from baskwell.science.feeding.intake import Intake
from baskwell.science.weight.trend import DAY_S, MassTrend

SURE, UNSURE = 0.8, 0.2
NO_APPETITE = "anorexia"


def read_fast(
    case: Case, evidence: Evidence, intakes: Sequence[Intake], trend: MassTrend | None, now: dt.datetime
) -> Fast:
    """The fast at ``now``: since the last offer that was surely taken, or as told, or since the first offer.

    An offer that may have been taken shortens only the low end. After a winter rest that ended meanwhile
    days count from waking.
    """
    taken = {id(one): _taken(one, evidence) for one in intakes}
    dated = [one for one in intakes if one.at is not None]
    days = _days(case, dated, taken, now)
    woke = _since_waking(case, now)
    after_rest = woke is not None and days is not None and (days.high is None or days.high >= woke)
    if after_rest and days is not None and woke is not None:
        days = Span(min(days.low or 0.0, woke), woke)
    refused = sum(1 for _ in takewhile(lambda one: taken[id(one)] < UNSURE, reversed(dated)))
    return Fast(
        days=days,
        loss_pct=_loss(trend, days, now),
        refused=refused if dated else None,
        age_class=age_class(case, evidence),
        after_winter_rest=after_rest,
    )


def _taken(one: Intake, evidence: Evidence) -> float:
    return float((one.share >= evidence.feeding.choice("accepted_share")).mean())


def _days(case: Case, dated: list[Intake], taken: dict[int, float], now: dt.datetime) -> Span | None:
    sure = [one.at for one in dated if one.at and taken[id(one)] >= SURE]
    may_be = [one.at for one in dated if one.at and taken[id(one)] >= UNSURE]
    told = _told(case, now)
    if sure:
        high = _since(max(sure), now)
    elif told is not None:
        return Span(_since(max(may_be), now), told.high) if may_be else told
    elif dated and dated[0].at:
        high = _since(dated[0].at, now)
    else:
        return None
    return Span(_since(max(may_be), now) if may_be else high, high)


def _told(case: Case, now: dt.datetime) -> Span | None:
    """What was said of its appetite at the examination, and the days since."""
    sign = next((one for one in case.exam.signs if one.sign == NO_APPETITE and one.severity != 0), None)
    if sign is None or sign.since_days is None:
        return None
    gone = max((now.date() - case.exam.date).days, 0) if case.exam.date else 0
    low, high = sign.since_days.low, sign.since_days.high
    return Span((low or 0.0) + gone, None if high is None else high + gone)


def _since_waking(case: Case, now: dt.datetime) -> float | None:
    gone = max((now.date() - case.exam.date).days, 0) if case.exam.date else 0
    ended = [rest.ended_weeks_before for rest in case.history.winter_rest if rest.ended_weeks_before]
    return min((7 * span.middle + gone for span in ended), default=None)


def _loss(trend: MassTrend | None, days: Span | None, now: dt.datetime) -> Summary | None:
    """Loss since the fast began, or the first weighing if that is nearer; None under two weighings."""
    if trend is None or len(trend.weighings) < 2:
        return None
    first = trend.weighings[0].at
    long = days is None or days.high is None
    began = first if long or days is None else now - dt.timedelta(days=days.high or 0.0)
    return trend.loss(max(began, first), trend.last.at) if trend.last.at > began else None


def _since(at: dt.datetime, now: dt.datetime) -> float:
    return max((now - at).total_seconds() / DAY_S, 0.0)
