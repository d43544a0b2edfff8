"""Loss against the published and judged alarm lines, and weighings that must be repeated."""

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.evidence.rows.clinical_records import BodyConditionRelation
from baskwell.science.causes.ranking import Flag
from baskwell.science.draws import Summary
from baskwell.science.weight.trend import MassTrend

OVER, MAY_BE_OVER = 0.8, 0.2  # four in five, as everywhere in this tool
_WINDOW = re.compile(r"% in (\d+) days")
_MASS_BELOW = re.compile(r"mass=under (\d+) g")


@dataclass(frozen=True)
class LossCheck:
    """Loss over one window of days against one line of ``body_condition.csv`` (``evidence_id``).

    ``chance`` is the probability that more than ``limit_pct`` % was lost in the ``days`` before the last
    weighing, or since the first one where that is nearer. ``level`` is the urgency of the line.
    """

    evidence_id: str
    days: float
    limit_pct: float
    level: str
    loss_pct: Summary
    chance: float
    said_by: str


def loss_checks(trend: MassTrend, evidence: Evidence, taxon_id: str) -> tuple[LossCheck, ...]:
    """Every alarm line that holds for the animal; lower limit: within days, upper: vet now."""
    return tuple(
        _check(trend, row, days, limit, level)
        for row, days in _alarm_rows(evidence, taxon_id, trend.level_g.low)
        for limit, level in ((row.high_limit, "vet now"), (row.low_limit, "within days"))
        if limit is not None
    )


def _alarm_rows(
    evidence: Evidence, taxon_id: str, least_g: float
) -> Iterator[tuple[BodyConditionRelation, float]]:
    """Alarm rows for a taxon; one for small animals holds as soon as the animal may be that small."""
    for row in evidence.body_condition.values():
        window = _WINDOW.fullmatch(row.units)
        if row.metric != "weight-loss alarm" or not window or not covers(evidence, row.taxon, taxon_id):
            continue
        below = _MASS_BELOW.fullmatch(evidence.taxon_groups[row.taxon].condition)
        if below is None or least_g < float(below.group(1)):
            yield row, float(window.group(1))


def _check(trend: MassTrend, row: BodyConditionRelation, days: float, limit: float, level: str) -> LossCheck:
    end = trend.last.at
    start = max(end - dt.timedelta(days=days), trend.weighings[0].at)
    return LossCheck(
        evidence_id=row.item_id,
        days=days,
        limit_pct=limit,
        level=level,
        loss_pct=trend.loss(start, end),
        chance=trend.chance_of_loss(limit, start, end),
        said_by=row.source,
    )


def loss_flags(checks: tuple[LossCheck, ...]) -> tuple[Flag, ...]:
    """What the checks call for: a line that is passed its own urgency, one that may be passed the next lower.

    >>> check = LossCheck("alarm_week", 7, 5.0, "vet now", Summary(5.2, 2.0, 8.0), 0.55, "judgement")
    >>> loss_flags((check,))[0].level
    'within days'
    """
    return tuple(_flag(check) for check in checks if check.chance >= MAY_BE_OVER)


def _flag(check: LossCheck) -> Flag:
    sure = check.chance >= OVER
    level = check.level if sure else {"vet now": "within days", "within days": "watch"}[check.level]
    words = "It lost" if sure else "It may have lost"
    got, low, high = check.loss_pct.median, check.loss_pct.low, check.loss_pct.high
    text = (
        f"{words} more than {check.limit_pct:g} % in {check.days:g} days "
        f"(about {got:.1f} %, {low:.1f} to {high:.1f}; chance {check.chance:.0%})."
    )
    return Flag(
        level,  # type: ignore[arg-type]
        check.evidence_id,
        text + (_CORRECT if sure else " Weigh again tomorrow, same scale, before feeding." + _CORRECT),
        check.said_by,
    )


_CORRECT = " Count off eggs laid, urine and droppings passed since."


def doubtful_weighings(trend: MassTrend, told_below: float) -> tuple[Flag, ...]:
    """Weighings far off the others; the last asks for a new one, as it may be a true sudden change."""
    return tuple(
        _doubtful(trend, place, count) for place, count in enumerate(trend.counts) if count < told_below
    )


def _doubtful(trend: MassTrend, place: int, count: float) -> Flag:
    one = trend.weighings[place]
    text = f"The weighing of {one.at:%d %B %Y} ({one.grams:.4g} g) is far off the others and hardly counts."
    if place < len(trend.weighings) - 1:
        return Flag("watch", "weighing_doubtful", text + " Check what was written.", "weighings")
    again = " Weigh again today: if it is right, the change is sudden and a veterinarian must see it now."
    return Flag("within days", "last_weighing_doubtful", text + again, "weighings")
