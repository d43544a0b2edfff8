"""Appetite and weaning: measured intake, what to offer next, how to change the diet, and when to get help."""

from baskwell.science.feeding.acceptance import Acceptance, acceptances
from baskwell.science.feeding.escalation import Escalation, Fast, escalate
from baskwell.science.feeding.faeces import Passages, passages
from baskwell.science.feeding.intake import Intake, measured_intake
from baskwell.science.feeding.mixing import MixStep, next_mix
from baskwell.science.feeding.offer import NextOffer, next_offers
from baskwell.science.feeding.refeeding import Refeeding, refeeding_plan
from baskwell.science.feeding.report import FeedingReport, feeding_report

__all__ = [
    "Acceptance",
    "Escalation",
    "Fast",
    "FeedingReport",
    "Intake",
    "MixStep",
    "NextOffer",
    "Passages",
    "Refeeding",
    "acceptances",
    "escalate",
    "feeding_report",
    "measured_intake",
    "next_mix",
    "next_offers",
    "passages",
    "refeeding_plan",
]
