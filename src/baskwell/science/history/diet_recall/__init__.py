"""What it was really fed: words, shares and labels turned into nutrients with their uncertainty."""

from baskwell.science.history.diet_recall.recall import recall_diet
from baskwell.science.history.diet_recall.result import Contribution, DietRecall, RecalledItem

__all__ = ["Contribution", "DietRecall", "RecalledItem", "recall_diet"]
