"""Beak and nails: what may be cut, in how many sessions, and when to look again."""

from baskwell.science.keratin.angles import asymmetry_deg, outward_deg, skew_deg
from baskwell.science.keratin.growth import Growth, Measured, NextCheck, grow, limit_of, next_check, prior_of
from baskwell.science.keratin.result import Advice, Cut, Option, PartPlan, TrimPlan, VetOnly
from baskwell.science.keratin.trim import plan_trims

__all__ = [
    "Advice",
    "Cut",
    "Growth",
    "Measured",
    "NextCheck",
    "Option",
    "PartPlan",
    "TrimPlan",
    "VetOnly",
    "asymmetry_deg",
    "grow",
    "limit_of",
    "next_check",
    "outward_deg",
    "plan_trims",
    "prior_of",
    "skew_deg",
]
