"""Mass over time: level, trend, loss alarms, forecast, and body condition where a relation is published."""

from baskwell.science.weight.alarms import LossCheck
from baskwell.science.weight.condition import BodyCondition, ConditionIndex
from baskwell.science.weight.report import WeightReport, weigh_up
from baskwell.science.weight.trend import MassTrend, mass_trend

__all__ = [
    "BodyCondition",
    "ConditionIndex",
    "LossCheck",
    "MassTrend",
    "WeightReport",
    "mass_trend",
    "weigh_up",
]
