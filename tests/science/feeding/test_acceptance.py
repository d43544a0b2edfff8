"""Acceptance: conjugate updates by hand, and a next offer that explores and exploits."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.draws import Summary
from baskwell.science.feeding import Acceptance, Intake, acceptances, next_offers
from baskwell.science.feeding.acceptance import prior_of
from baskwell.science.feeding.offer import knowledge_gradient

EVIDENCE = load_evidence()


def intake(food: str, presentation: str, share: float) -> Intake:
    """An offer of 10 g of which a share was surely eaten."""
    eaten = 10 * share
    known = Summary(eaten, eaten, eaten)
    return Intake(dt.datetime(2026, 3, 14), food, presentation, 10.0, known, True, np.full(100, share))


def test_conjugate_update_by_hand() -> None:
    """Prior 0.6 worth 2 offers = Beta(1.2, 0.8); two taken, one refused: Beta(3.2, 1.8), mean 0.64."""
    offer = ("earthworm_nightcrawler", "moving")
    eaten = [intake(*offer, share) for share in (1.0, 0.9, 0.0)]

    belief = acceptances(eaten, [], EVIDENCE, "terrapene_ornata")[offer]

    assert (belief.taken, belief.refused) == pytest.approx((3.2, 1.8))
    assert belief.chance == pytest.approx(0.64)
    assert belief.offers == 3


def test_an_unsure_offer_counts_in_part() -> None:
    """Half the draws above the line: half taken, half refused."""
    offer = ("kale", "chopped")
    shares = np.repeat([0.0, 1.0], 50)
    half = Intake(None, *offer, 10.0, Summary(5, 0, 10), False, shares)

    start = acceptances([], [offer], EVIDENCE, "terrapene_ornata")[offer]
    after = acceptances([half], [], EVIDENCE, "terrapene_ornata")[offer]

    assert after.taken - start.taken == pytest.approx(0.5)
    assert after.refused - start.refused == pytest.approx(0.5)


def test_other_animals_of_the_kind_count_a_fifth() -> None:
    """Row others_weight of feeding_choices.csv: 10 taken and 5 refused elsewhere add 2 and 1."""
    offer = ("kale", "chopped")
    alone = acceptances([], [offer], EVIDENCE, "testudo_graeca")[offer]
    shared = acceptances([], [offer], EVIDENCE, "testudo_graeca", {offer: (10.0, 5.0)})[offer]

    assert shared.taken - alone.taken == pytest.approx(2.0)
    assert shared.refused - alone.refused == pytest.approx(1.0)


@pytest.mark.parametrize("taxon", sorted(EVIDENCE.taxa))
def test_every_kind_has_a_prior_for_every_food(taxon: str) -> None:
    """The last row fits all; a chance strictly between 0 and 1 keeps every belief open."""
    for food in ("kale", "strawberry", "cricket_house", "unknown_label", ""):
        row = prior_of((food, ""), EVIDENCE, taxon)
        assert 0 < row.chance < 1
        assert row.strength > 0


def test_thompson_sampling_tries_each_as_often_as_it_may_be_best() -> None:
    """Two equal unknowns share the first place; expected: one half each by symmetry."""
    one = Acceptance("kale", "chopped", 1.0, 1.0, 0, "any")
    two = Acceptance("chard", "chopped", 1.0, 1.0, 0, "any")
    value = {"kale": 1.0, "chard": 1.0}

    firsts = [next_offers([one, two], value, np.random.default_rng(s), 50)[0].food for s in range(400)]

    assert firsts.count("kale") / 400 == pytest.approx(0.5, abs=0.08)


def test_value_decides_between_foods_equally_liked() -> None:
    """Of two foods taken alike the better one is the best in nearly all worlds."""
    good = Acceptance("kale", "chopped", 40.0, 40.0, 78, "any")
    poor = Acceptance("iceberg", "chopped", 40.0, 40.0, 78, "any")

    told = next_offers([good, poor], {"kale": 1.0, "iceberg": 0.3}, np.random.default_rng(1))

    assert {one.food: one.best for one in told}["kale"] > 0.99


def test_foods_without_value_are_never_offered() -> None:
    """Nothing of value: nothing to offer, no error."""
    belief = Acceptance("iceberg", "chopped", 9.0, 1.0, 8, "any")

    assert next_offers([belief], {}, np.random.default_rng(1)) == ()
    assert next_offers([], {"kale": 1.0}, np.random.default_rng(1)) == ()


def test_the_knowledge_gradient_by_hand() -> None:
    """Beta(1, 1) against a sure half: taken (1/2) lifts to 2/3, refused keeps 1/2: gain 1/12."""
    even = Acceptance("kale", "chopped", 1.0, 1.0, 0, "any")
    sure = Acceptance("chard", "chopped", 1e9, 1e9, 0, "any")

    gains = knowledge_gradient([even, sure], {"kale": 1.0, "chard": 1.0})

    assert gains == pytest.approx((1 / 12, 0.0), abs=1e-6)


SHAPES = st.floats(0.1, 50)


@settings(deadline=None)
@given(st.lists(st.tuples(SHAPES, SHAPES, st.floats(0.01, 1)), min_size=1, max_size=6), st.integers(0, 2**31))
def test_chances_of_being_best_add_to_one(told: list[tuple[float, float, float]], seed: int) -> None:
    """Every world has one best; one try never teaches less than nothing."""
    beliefs = [Acceptance(f"food{k}", "", a, b, 0, "any") for k, (a, b, _) in enumerate(told)]
    value = {f"food{k}": v for k, (_, _, v) in enumerate(told)}

    found = next_offers(beliefs, value, np.random.default_rng(seed), 200)

    assert sum(one.best for one in found) == pytest.approx(1.0)
    assert {one.food for one in found} == set(value)
    assert all(one.teaches >= 0 for one in found)
