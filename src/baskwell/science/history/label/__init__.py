"""What is in that pellet: ingredient order and guaranteed analysis inverted to composition."""

from baskwell.science.history.label.inversion import LabelTables
from baskwell.science.history.label.read import read_label, read_labels
from baskwell.science.history.label.reading import IngredientShare, LabelReading, NutrientReading
from baskwell.science.history.label.text import parse_label_text

__all__ = [
    "IngredientShare",
    "LabelReading",
    "LabelTables",
    "NutrientReading",
    "parse_label_text",
    "read_label",
    "read_labels",
]
