"""Diets do not depend on portion size, units or order, and any history gives possible figures."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence.loader import load_evidence
from baskwell.science.case.model import Amount, Animal, Case, DietItem, History, Supplement
from baskwell.science.case.span import Span
from baskwell.science.composition_index import CompositionIndex
from baskwell.science.history.diet_recall import DietRecall, recall_diet

EVIDENCE = load_evidence()
INDEX = CompositionIndex.from_evidence(EVIDENCE)
N = 2000


def line(food: str, word: str | None = None) -> DietItem:
    """One line told in a word."""
    return DietItem(food, Amount(word=word) if word else None)


def recall(
    taxon: str, *lines: DietItem, animal: Animal | None = None, supplements: tuple[Supplement, ...] = ()
) -> DietRecall | None:
    """The diet of an adult of a taxon."""
    case = Case(animal or Animal(taxon, age_class="adult"), History(diet=lines, supplements=supplements))
    return recall_diet(case, EVIDENCE, np.random.default_rng(1), N, {}, INDEX)


def told(taxon: str, *lines: DietItem, **rest: object) -> DietRecall:
    """The same, where there must be one."""
    got = recall(taxon, *lines, **rest)  # type: ignore[arg-type]
    assert got is not None
    return got


def median(diet: DietRecall, finding_id: str) -> float:
    """Median of one quantity."""
    return float(np.median(diet.per_kg_dm[finding_id]))


def test_the_same_seed_gives_the_same_diet() -> None:
    """Randomness comes in as a generator."""
    one, two = (told("terrapene_carolina", line("fruit"), line("cat_food_dry")) for _ in range(2))
    assert all(np.array_equal(one.per_kg_dm[key], two.per_kg_dm[key]) for key in one.per_kg_dm)


@pytest.mark.parametrize("order", list(itertools.permutations(range(3)))[1:3])
def test_order_of_the_history_does_not_matter(order: tuple[int, ...]) -> None:
    """Permutation invariance, up to the noise of the draws."""
    lines = [line("cat_food_dry", "mostly"), line("apple", "sometimes"), line("dandelion_greens")]
    there, back = told("terrapene_carolina", *lines), told("terrapene_carolina", *(lines[k] for k in order))
    for key in ("crude_protein_pct_dm", "calcium_pct_dm", "retinol_iu_per_kg_dm"):
        assert median(there, key) == pytest.approx(median(back, key), rel=0.08)


def grams(food: str, weight: float) -> DietItem:
    """One line told in grams."""
    return DietItem(food, Amount(grams=Span.exactly(weight)))


@given(st.floats(0.01, 100))
@settings(max_examples=10, deadline=None)
def test_portion_scale_cancels(times: float) -> None:
    """A day's grams and a month's grams are the same diet, world by world."""
    one = told("terrapene_carolina", grams("kale", 6), grams("mealworm", 2))
    many = told("terrapene_carolina", grams("kale", 6 * times), grams("mealworm", 2 * times))
    for key, draws in one.per_kg_dm.items():
        assert np.allclose(draws, many.per_kg_dm[key], rtol=1e-6)


@given(st.sampled_from(["kale", "mealworm", "cat_food_dry", "apple", "chicken_meat"]))
@settings(max_examples=5, deadline=None)
def test_a_calcium_salt_raises_calcium_to_phosphorus(food: str) -> None:
    """Plain calcium on any food."""
    salt = Supplement("calcium_carbonate", Amount(word="dust"), Span.exactly(7))
    plain, dusted = (
        told("terrapene_carolina", line(food)),
        told("terrapene_carolina", line(food), supplements=(salt,)),
    )
    assert median(dusted, "ca_p_ratio") > median(plain, "ca_p_ratio")


FOODS = st.sampled_from(
    [
        *sorted(EVIDENCE.foods),
        "fruit",
        "greens",
        "vegetables",
        "invertebrates",
        "vertebrates",
        "fungi",
        "complete_feed",
        "pet_food",
        "my_label",
    ]
)
WORDS = st.sampled_from([None, "only", "mostly", "a lot", "sometimes", "treats", "dust"])
TAXA = st.sampled_from(sorted(EVIDENCE.taxa))


@given(TAXA, st.lists(st.tuples(FOODS, WORDS), min_size=1, max_size=4))
@settings(max_examples=40, deadline=None)
@pytest.mark.slow
def test_any_history_gives_possible_figures(taxon: str, foods: list[tuple[str, str | None]]) -> None:
    """No negative amount, no share above one, no hole, whatever was eaten by whatever animal."""
    case = Case(Animal(taxon), History(diet=tuple(line(food, word) for food, word in foods)))
    diet = recall_diet(case, EVIDENCE, np.random.default_rng(3), 200, {}, INDEX)
    if diet is None:
        return
    for draws in diet.per_kg_dm.values():
        assert np.isfinite(draws).all()
        assert (draws >= 0).all()
    for finding_id in ("crude_protein_pct_dm", "fat_pct_dm"):
        assert (diet.per_kg_dm[finding_id] <= 100 + 1e-6).all()
    assert np.allclose(diet.share_of(lambda _: True), 1.0)
    assert (diet.eaten_g_per_day > 0).all()


def test_a_diet_of_salts_alone_is_still_told() -> None:
    """Odd input does not break the review: only supplements named as food is no food."""
    assert recall("terrapene_carolina", line("calcium_carbonate_pure", "only")) is None


def test_mass_of_the_animal_does_not_move_the_diet() -> None:
    """Densities are per dry matter; only doses depend on the size."""
    who = Animal("terrapene_carolina", age_class="adult", mass_g=Span.exactly(400))
    small = told("terrapene_carolina", line("apple"), animal=who)
    large = told("terrapene_carolina", line("apple"), animal=replace(who, mass_g=Span.exactly(800)))
    assert median(small, "calcium_pct_dm") == pytest.approx(median(large, "calcium_pct_dm"))
    assert np.median(large.eaten_g_per_day) > np.median(small.eaten_g_per_day)
