"""Words, shares, grams and days become shares of one diet."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence.loader import load_evidence
from baskwell.science.case.model import Amount, DietItem
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws
from baskwell.science.history.diet_recall.portions import yearly_shares
from baskwell.science.history.diet_recall.priors import Priors

EVIDENCE = load_evidence()
FOODS = ("apple", "kale", "mealworm", "cricket_adult", "cat_food_dry")
WORDS = ("only", "always", "mostly", "half", "a lot", "sometimes", "a little", "rarely", "treats")


def shares_of(items: Sequence[DietItem], seed: int = 1, n_draws: int = 4000) -> tuple[Draws, ...]:
    """Shares of the lines for an eastern box turtle."""
    priors = Priors(EVIDENCE, "terrapene_carolina", n_draws, np.random.default_rng(seed))
    return yearly_shares(items, priors)


def line(
    food: str, word: str | None = None, days: float | None = None, period: str | None = None
) -> DietItem:
    """One line told in a word."""
    amount = Amount(word=word) if word else None
    return DietItem(food, amount, None if days is None else Span.exactly(days), period=period)


def grams(food: str, weight: float) -> DietItem:
    """One line told in grams."""
    return DietItem(food, Amount(grams=Span.exactly(weight)))


@st.composite
def lines(draw: st.DrawFn) -> list[DietItem]:
    """One to five lines told in every way."""
    amounts = st.one_of(
        st.none(),
        st.sampled_from(WORDS).map(lambda word: Amount(word=word)),
        st.floats(0.1, 500).map(lambda g: Amount(grams=Span.exactly(g))),
        st.floats(0.01, 1).map(lambda s: Amount(share=Span.exactly(s))),
    )
    days = st.one_of(st.none(), st.floats(0.5, 7).map(Span.exactly))
    periods = st.sampled_from((None, "always", "summer", "winter"))
    count = draw(st.integers(1, 5))
    return [DietItem(FOODS[k], draw(amounts), draw(days), period=draw(periods)) for k in range(count)]


@given(lines())
@settings(max_examples=60, deadline=None)
def test_shares_of_one_world_add_to_one(items: list[DietItem]) -> None:
    """Whatever is told, and in whatever way, the shares are a division of the whole."""
    shares = np.array(shares_of(items, n_draws=50))
    assert (shares >= 0).all()
    assert np.allclose(shares.sum(axis=0), 1.0)


@given(st.lists(st.floats(0.1, 300), min_size=2, max_size=5), st.floats(0.01, 50))
@settings(max_examples=40, deadline=None)
def test_grams_count_only_against_each_other(weights: list[float], times: float) -> None:
    """Portions ten times as large give the same shares in the same world."""
    small = shares_of([grams(FOODS[k], w) for k, w in enumerate(weights)], n_draws=20)
    large = shares_of([grams(FOODS[k], w * times) for k, w in enumerate(weights)], n_draws=20)
    assert np.allclose(np.array(small), np.array(large))


def test_a_share_and_its_complement_keep_their_middle() -> None:
    """60 and 40 parts of a hundred stay about 0.6 and 0.4 under recall error."""
    items = [DietItem(f, Amount(share=Span.exactly(s))) for f, s in (("kale", 0.6), ("apple", 0.4))]
    shares = shares_of(items)
    assert np.median(shares[0]) == pytest.approx(0.6, abs=0.02)


def test_grams_and_shares_of_the_same_meal_agree() -> None:
    """The unit that a meal is told in does not move its middle."""
    told_in_grams = shares_of([grams("kale", 6), grams("apple", 4)])
    assert np.median(told_in_grams[0]) == pytest.approx(0.6, abs=0.02)


def test_grams_are_surer_than_words() -> None:
    """Weighed food has a smaller recall error (history/diet_priors.csv)."""
    weighed = shares_of([grams("kale", 75), grams("apple", 25)])[0]
    in_words = shares_of([line("kale", "mostly"), line("apple", "sometimes")])[0]
    assert np.std(weighed) < np.std(in_words)


def test_a_food_without_an_amount_takes_what_words_leave() -> None:
    """Case file rule: words with a weight come first. `mostly` is 0.5 to 0.95, likeliest 0.75."""
    main, rest = shares_of([line("cat_food_dry", "mostly"), line("apple")])
    assert np.median(main) == pytest.approx(0.74, abs=0.04)
    assert np.allclose(main + rest, 1.0)


def test_only_leaves_next_to_nothing() -> None:
    """`only` is 0.95 to 1 in history/amount_words.csv."""
    assert np.quantile(shares_of([line("cat_food_dry", "only"), line("apple")])[1], 0.95) < 0.1


def test_two_foods_that_are_mostly_fed_share_the_place() -> None:
    """history/amount_words.csv: two rows with this word share it."""
    first, second = shares_of([line("kale", "mostly"), line("apple", "mostly")])
    assert np.median(first) == pytest.approx(0.5, abs=0.03)
    assert np.median(second) == pytest.approx(0.5, abs=0.03)


def test_days_a_week_multiply_the_share() -> None:
    """Half the meal on every day against half the meal on one day in seven: 7 to 1."""
    daily, weekly = shares_of([line("kale", "half", 7), line("apple", "half", 1)])
    assert np.median(daily / weekly) == pytest.approx(7.0, rel=0.05)


def test_a_food_of_one_season_counts_for_that_season() -> None:
    """Summer is 0.35 to 0.6 of the year (history/diet_priors.csv); in winter the other food is all."""
    summer_food, all_year = shares_of([line("kale", "only", period="summer"), line("apple", "rarely")])
    assert 0.3 < np.median(summer_food) < 0.6
    assert np.allclose(summer_food + all_year, 1.0)


def test_food_of_one_season_alone_speaks_for_the_year() -> None:
    """Nothing is invented for a winter of which nothing is told."""
    assert np.allclose(shares_of([line("kale", period="summer")])[0], 1.0)


def test_order_of_the_lines_does_not_matter() -> None:
    """Medians agree in either order."""
    items = [line("kale", "mostly"), line("apple", "sometimes"), line("mealworm")]
    there, back = shares_of(items), shares_of(items[::-1])
    for one, other in zip(there, back[::-1], strict=True):
        assert np.median(one) == pytest.approx(np.median(other), abs=0.02)


def test_no_amount_is_less_sure_than_an_amount() -> None:
    """Unknown never beats known: the same food with a word has the narrower share."""
    unsaid = shares_of([line("kale"), line("apple")])[0]
    said = shares_of([line("kale", "half"), line("apple", "half")])[0]
    assert np.std(unsaid) > np.std(said)
