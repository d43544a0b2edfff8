"""Everything that mass tells of one case."""

import datetime as dt
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.causes.flags import ORDER
from baskwell.science.causes.ranking import Flag
from baskwell.science.draws import Summary
from baskwell.science.weight.alarms import LossCheck, doubtful_weighings, loss_checks, loss_flags
from baskwell.science.weight.assumptions import Assumptions, assume, choice
from baskwell.science.weight.condition import BodyCondition, body_condition
from baskwell.science.weight.trend import MassTrend, mass_trend
from baskwell.science.weight.water import rest_flags, water_cautions
from baskwell.science.weight.weighings import Z90, is_mass, usable_weighings


@dataclass(frozen=True)
class WeightReport:
    """Trend, alarms and condition at ``now``. ``trend`` None: no usable weighing, ``gaps`` say why.

    ``forecast_g`` is the mass ``forecast_days`` after ``now``; ``next_weighing`` when to weigh again.
    """

    now: dt.datetime
    trend: MassTrend | None
    checks: tuple[LossCheck, ...]
    flags: tuple[Flag, ...]
    condition: BodyCondition
    water: tuple[str, ...]
    forecast_days: float
    forecast_g: Summary | None
    next_weighing: dt.datetime
    gaps: tuple[str, ...]


def weigh_up(case: Case, evidence: Evidence, now: dt.datetime) -> WeightReport:
    """Mass over time, alarms and body condition of a case.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal
    >>> report = weigh_up(Case(Animal("python_regius")), load_evidence(), dt.datetime(2026, 3, 14))
    >>> report.trend, report.gaps
    (None, ('No weighing is usable: weigh now, then after 3 and 7 days, then weekly.',))
    """
    taxon = case.animal.taxon
    weighings, gaps = usable_weighings(case, now)
    assumed = assume(evidence, taxon)
    trend = mass_trend(weighings, assumed, now)
    checks = loss_checks(trend, evidence, taxon) if trend else ()
    ahead = choice(evidence, taxon, "forecast_ahead")
    told_below = choice(evidence, taxon, "slip_told")
    flags = (*loss_flags(checks), *(doubtful_weighings(trend, told_below) if trend else ()))
    mass = trend.level_g if trend else _stated(case, assumed)
    every = dt.timedelta(days=choice(evidence, taxon, "weigh_every"))
    return WeightReport(
        now=now,
        trend=trend,
        checks=checks,
        flags=_in_order((*flags, *rest_flags(case, evidence))),
        condition=body_condition(case.animal, evidence, mass, choice(evidence, taxon, "length_error")),
        water=water_cautions(case, evidence, checks),
        forecast_days=ahead,
        forecast_g=trend.forecast(ahead) if trend else None,
        next_weighing=max(trend.last.at + every, now) if trend and not flags else now,
        gaps=(*gaps, *_missing(trend, now, every)),
    )


def _in_order(flags: tuple[Flag, ...]) -> tuple[Flag, ...]:
    return tuple(sorted(flags, key=lambda flag: ORDER.index(flag.level)))


def _stated(case: Case, assumed: Assumptions) -> Summary | None:
    """The mass stated without a day: good for condition, not for a trend."""
    mass = case.animal.mass_g
    if mass is None or not is_mass(mass):
        return None
    factor = 1 + Z90 * assumed.reading_sd
    return Summary(mass.middle, (mass.low or 0.0) / factor, (mass.high or 0.0) * factor)


def _missing(trend: MassTrend | None, now: dt.datetime, every: dt.timedelta) -> tuple[str, ...]:
    if trend is None:
        return ("No weighing is usable: weigh now, then after 3 and 7 days, then weekly.",)
    told = []
    if len(trend.weighings) == 1:
        told.append("There is one weighing: no trend can be told yet, what is shown is assumed.")
    since = now - trend.last.at
    if since > every:
        told.append(f"The last weighing is {since.days} days old: weigh now.")
    return tuple(told)
