"""How long the recall of a diet takes: the food arrays, a usual history, and one told in group words only."""

from collections.abc import Iterator

import numpy as np

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Amount, Animal, Case, DietItem, History, Supplement
from baskwell.science.composition_index import CompositionIndex
from baskwell.science.history.diet_recall import recall_diet
from benchmarks.figure import Figure, seconds

N_DRAWS = 4000
WORDS = (
    "fruit",
    "greens",
    "vegetables",
    "invertebrates",
    "vertebrates",
    "fungi",
    "complete_feed",
    "pet_food",
)


def measure() -> Iterator[Figure]:
    """Wall time after import and loading of the tables."""
    evidence = load_evidence()
    yield Figure(
        "diet: food arrays, once a review", seconds(lambda: CompositionIndex.from_evidence(evidence)), 0.1
    )
    index = CompositionIndex.from_evidence(evidence)
    for name, case, target in (
        ("diet: five lines, two powders, 4,000 draws", _usual_case(), 0.2),
        ("diet: eight group words, 4,000 draws", _case_of_words(), 0.4),
    ):
        took = seconds(lambda c=case: recall_diet(c, evidence, np.random.default_rng(1), N_DRAWS, {}, index))  # type: ignore[misc]
        yield Figure(name, took, target)


def _usual_case() -> Case:
    lines = (
        DietItem("cat_food_dry", Amount(word="mostly")),
        DietItem("complete_feed", Amount(word="sometimes")),
        DietItem("apple", Amount(word="a little")),
        DietItem("greens"),
        DietItem("invertebrates", Amount(word="treats")),
    )
    powders = (Supplement("calcium_carbonate", Amount(word="pinch")), Supplement("multivitamin"))
    return Case(Animal("terrapene_carolina", age_class="adult"), History(diet=lines, supplements=powders))


def _case_of_words() -> Case:
    lines = tuple(DietItem(word) for word in WORDS)
    return Case(Animal("trachemys_scripta", age_class="adult"), History(diet=lines))
