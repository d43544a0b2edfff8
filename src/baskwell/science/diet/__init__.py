"""What to feed: how much energy it needs, and how feeding begins after starving."""

from baskwell.science.diet.energy import EnergyNeed, energy_need, resting_kcal
from baskwell.science.diet.refeeding import refeeding_kcal, refeeding_most_kcal

__all__ = ["EnergyNeed", "energy_need", "refeeding_kcal", "refeeding_most_kcal", "resting_kcal"]
