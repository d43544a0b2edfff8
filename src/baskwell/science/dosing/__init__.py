"""How much supplement: the ledger of what was had, the limits, and a recipe that can be measured."""

from baskwell.science.dosing.asked import Giving
from baskwell.science.dosing.book import ledger
from baskwell.science.dosing.plan import plan_dose
from baskwell.science.dosing.result import (
    Account,
    Allowance,
    DosePlan,
    Entry,
    Ledger,
    LimitCheck,
    Recipe,
)

__all__ = [
    "Account",
    "Allowance",
    "DosePlan",
    "Entry",
    "Giving",
    "Ledger",
    "LimitCheck",
    "Recipe",
    "ledger",
    "plan_dose",
]
