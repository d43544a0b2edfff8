"""Label inversion against closed forms, an independent sampler, arithmetic by hand and known recipes."""

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Label
from baskwell.science.errors import KeeperError
from baskwell.science.history.label import LabelReading, LabelTables, read_label, read_labels
from baskwell.science.history.label.conflicts import reconcile
from baskwell.science.history.label.content import bands_of
from baskwell.science.history.label.guarantees import read_guarantees
from baskwell.science.history.label.inversion import Manner, _recipe
from baskwell.science.history.label.names import read_ingredients
from baskwell.science.history.label.read import _read
from baskwell.science.history.label.recipe import Recipe
from baskwell.science.history.label.sampler import Effort, draw_recipes
from baskwell.science.polytope import from_weights, to_weights

Array = NDArray[np.float64]

EVIDENCE = load_evidence()
TABLES = LabelTables.from_evidence(EVIDENCE)
PELLET = ("ground wheat", "soybean meal", "corn gluten meal", "fish meal", "salt", "vitamin premix")
ANALYSIS = {
    "crude_protein_min_pct": 24.0,
    "crude_fat_min_pct": 2.0,
    "crude_fibre_max_pct": 6.0,
    "moisture_max_pct": 12.0,
}


def rng(seed: int = 1) -> np.random.Generator:
    """A generator of its own."""
    return np.random.default_rng(seed)


def reading(ingredients: tuple[str, ...] | None, guaranteed: dict[str, float], seed: int = 1) -> LabelReading:
    """A label read with the shared tables, 2,000 draws."""
    return _read("feed", Label(ingredients, guaranteed), TABLES, rng(seed), 2000, True)


def recipe_of(ingredients: tuple[str, ...], guaranteed: dict[str, float], seed: int = 1) -> Recipe:
    """The recipe behind a label, its conflicts not yet resolved."""
    items = read_ingredients(ingredients, TABLES.names)
    return _recipe(items, read_guarantees(guaranteed, EVIDENCE, "feed"), TABLES, rng(seed), Manner())


def archetype(label_id: str) -> tuple[tuple[str, ...], dict[str, float]]:
    """Ingredients and guarantees of an archetype of ``foods/labels.csv``."""
    row = EVIDENCE.labels[label_id]
    names = [item.name for item in fields(row) if item.name.endswith(("_pct", "_per_kg"))]
    return row.ingredients, {name: getattr(row, name) for name in names if getattr(row, name) is not None}


def draws(read: LabelReading, nutrient: str) -> Array:
    """Draws of a nutrient, which must be known."""
    found = read.nutrient(nutrient).draws
    assert found is not None
    return found


def test_without_any_guarantee_shares_follow_the_closed_form() -> None:
    """E[x_i] = (1/n) sum_{k=i..n} 1/k for a bare order of four grains."""
    drawn = draw_recipes(recipe_of(("wheat", "maize", "oats", "barley"), {}), rng(), Effort(kept=40))
    expected = np.cumsum((1.0 / np.arange(1, 5))[::-1])[::-1] / 4
    np.testing.assert_allclose(drawn.shares.mean(axis=0), expected, atol=0.01)


guarantee_sets = st.fixed_dictionaries(
    {},
    optional={
        "crude_protein_min_pct": st.integers(8, 34).map(float),
        "crude_fat_min_pct": st.integers(1, 6).map(float),
        "crude_fibre_max_pct": st.integers(3, 12).map(float),
        "moisture_max_pct": st.integers(8, 14).map(float),
        "calcium_min_pct": st.sampled_from([0.2, 0.5, 1.0]),
        "ash_max_pct": st.integers(6, 15).map(float),
    },
)


@settings(max_examples=15, deadline=None)
@given(guarantee_sets)
def test_draws_keep_order_and_every_guarantee(guaranteed: dict[str, float]) -> None:
    """Each draw meets, with its own composition and moisture, every limit that reconciliation leaves."""
    recipe, _, _ = reconcile(recipe_of(PELLET, guaranteed))
    drawn = draw_recipes(recipe, rng(), Effort(chains=64, kept=4, enough=0.0))
    assert (to_weights(drawn.shares) > -1e-9).all()
    np.testing.assert_allclose(drawn.shares.sum(axis=1), 1.0, atol=1e-9)
    rows = np.arange(recipe.n)
    content = recipe.pools.values[rows, :, drawn.entries]
    whole = np.einsum("kn,knj->kj", drawn.shares, content)
    assert recipe.moisture is not None
    solids = 1.0 - whole[:, recipe.pools.column("water_g")] / 100.0
    for clue in recipe.clues:
        if clue.nutrient:
            value = whole[:, recipe.pools.column(clue.nutrient)] * (1 - drawn.moisture / 100.0) / solids
        else:
            value = 100.0 * drawn.shares[:, clue.ingredient]
        if drawn.fitting > 0:
            assert clue.least - 1e-6 <= value.min() <= value.max() <= clue.most + 1e-6


@settings(max_examples=15, deadline=None)
@given(guarantee_sets, st.sampled_from(["crude_protein_min_pct", "crude_fibre_max_pct", "ash_max_pct"]))
def test_another_guarantee_never_widens_a_band(guaranteed: dict[str, float], extra: str) -> None:
    """Bands of the same ingredients only close in, where the label does not contradict itself."""
    more = {**guaranteed, extra: guaranteed.get(extra, {"crude_protein_min_pct": 20.0}.get(extra, 9.0))}
    before, after = recipe_of(PELLET, guaranteed), recipe_of(PELLET, more)
    if reconcile(before)[0].clues != before.clues or reconcile(after)[0].clues != after.clues:
        return
    narrow, wide = bands_of(after), bands_of(before)
    for name, band in wide.items():
        if name != "water_g":
            slack = 1e-6 * (1 + abs(band.highest_any_batch))
            assert narrow[name].lowest_any_batch >= band.lowest_any_batch - slack, name
            assert narrow[name].highest_any_batch <= band.highest_any_batch + slack, name


def test_the_order_in_which_guarantees_are_typed_does_not_matter() -> None:
    """Bands are the same; the draws agree within their noise."""
    forward, backward = recipe_of(PELLET, ANALYSIS), recipe_of(PELLET, dict(reversed(ANALYSIS.items())))
    assert bands_of(forward)["protein_g"].highest == pytest.approx(bands_of(backward)["protein_g"].highest)
    medians = [
        np.median(draws(reading(PELLET, g), "protein_g"))
        for g in (ANALYSIS, dict(reversed(ANALYSIS.items())))
    ]
    assert medians[0] == pytest.approx(medians[1], rel=0.02)


@pytest.mark.slow
def test_draws_agree_with_importance_sampling() -> None:
    """The same posterior by weighting 600,000 draws of the prior: no chain, no slice, no polytope."""
    recipe = recipe_of(("wheat", "soybean meal", "fish meal", "soybean oil"), ANALYSIS)
    generator, size = rng(3), 600_000
    shares = from_weights(generator.dirichlet(np.ones(recipe.n), size))
    entries = generator.integers(0, recipe.pools.values.shape[2], (recipe.n, size))
    assert recipe.moisture is not None
    moisture = recipe.moisture.draw(generator, size)
    held = {
        name: sum(
            shares[:, i] * recipe.pools.values[i, recipe.pools.column(name), entries[i]]
            for i in range(recipe.n)
        )
        for name in ("water_g", "protein_g", "fat_g", "crude_fibre_g")
    }
    dry = 1.0 - held["water_g"] / 100.0
    weight = np.ones(size)
    for clue in recipe.clues:
        value = (
            held[clue.nutrient] * (1 - moisture / 100) / dry
            if clue.nutrient
            else 100 * shares[:, clue.ingredient]
        )
        outside = np.maximum(np.maximum(clue.low - value, value - clue.high), 0.0) / clue.sd
        weight *= np.exp(-0.5 * outside**2) * (value >= clue.least) * (value <= clue.most)
    weight /= weight.sum()
    worth = 1.0 / (weight**2).sum()
    assert worth > 2000
    drawn = draw_recipes(recipe, rng(5), Effort(kept=60))
    for i in range(recipe.n):
        mean = float(weight @ shares[:, i])
        spread = float(np.sqrt(weight @ (shares[:, i] - mean) ** 2))
        assert abs(float(drawn.shares[:, i].mean()) - mean) < 0.1 * spread
        assert float(drawn.shares[:, i].std()) == pytest.approx(spread, rel=0.1)
    wetness = float(weight @ moisture)
    assert float(drawn.moisture.mean()) == pytest.approx(wetness, abs=0.2)


def test_dry_matter_arithmetic_of_a_tin() -> None:
    """Protein 9 % at 81 % moisture is 47.4 % of the dry matter (nutrition README, Feed labels)."""
    read = reading(
        ("water", "chicken", "beef liver", "rice", "salt"), {"crude_protein_pct": 9.0, "moisture_pct": 81.0}
    )
    assert np.median(draws(read, "protein_g")) == pytest.approx(474.0, rel=0.06)
    assert np.median(draws(read, "water_g")) == pytest.approx(810.0, rel=0.02)


def test_fresh_meat_first_on_the_list_of_a_dry_feed_has_lost_its_water() -> None:
    """Shares are as added: half chicken, 67 % water of it lost, is a quarter of the dry matter or so."""
    read = reading(("chicken", "ground corn"), {"crude_protein_min_pct": 18.0, "moisture_max_pct": 10.0})
    assert read.ingredients[0].share.low >= 0.5
    water = read.nutrient("water_g")
    assert water.got is not None
    assert water.got.high <= 114.0
    assert read.conflicts == ()


def test_guarantees_that_cannot_be_met_are_told_with_what_can() -> None:
    """Maize over wheat: no mixture passes the protein of its richest batch, and the reading says so."""
    ingredients, guaranteed = (
        ("ground corn", "ground wheat"),
        {"crude_protein_min_pct": 45.0, "moisture_max_pct": 10.0},
    )
    read = reading(ingredients, guaranteed)
    recipe = recipe_of(ingredients, guaranteed)
    dry = 1.0 - recipe.mean[:, recipe.pools.column("water_g")] / 100.0
    best = (recipe.rich[:, recipe.pools.column("protein_g")] / dry).max() * (1 - 2.0 / 100.0)
    (sentence,) = read.conflicts
    assert "cannot reach the printed crude protein of 45" in sentence
    told = float(sentence.split("about ")[1].split(" %")[0])
    assert told <= best + 0.1
    assert told >= 12.0
    protein = read.nutrient("protein_g").got
    assert protein is not None
    assert protein.median < 200.0


def test_a_maximum_that_cannot_be_kept_is_told() -> None:
    """Hay over straw cannot hold 3 % fibre."""
    read = reading(("timothy hay", "straw"), {"crude_fibre_max_pct": 3.0})
    assert "cannot keep to the printed crude fibre of 3" in read.conflicts[0]


def test_a_printed_share_that_breaks_the_order_is_told() -> None:
    """The second of two cannot be 70 %."""
    read = reading(("wheat", "fish meal 70 %"), {})
    assert "fish meal 70 %" in read.conflicts[0]


def test_a_printed_percentage_fixes_the_share() -> None:
    """Fish meal 12 % leaves 11.5 to 12.5 %, a little more at the edges of rounding."""
    read = reading(("wheat", "maize", "fish meal 12 %", "salt"), {})
    assert read.ingredients[2].share.low == pytest.approx(0.12, abs=0.02)
    assert read.ingredients[2].share.high == pytest.approx(0.12, abs=0.02)


def test_usual_maxima_yield_to_the_rest_of_the_label() -> None:
    """A calcium powder is nearly all limestone, which feeds never are; that is no conflict."""
    read = reading(*archetype("L14"))
    assert read.conflicts == ()
    assert read.ingredients[0].share.median > 0.7
    assert any("calcium carbonate" in note for note in read.notes)


def test_everything_after_salt_is_small_unless_told_otherwise() -> None:
    """The salt marker is a practice that can be left out."""
    label = Label(("wheat", "maize", "salt", "fish meal"), {})
    usual = read_label("feed", label, EVIDENCE, rng(), 500)
    free = read_label("feed", label, EVIDENCE, rng(), 500, salt_marker=False)
    assert usual.ingredients[3].share.high < 0.012
    assert free.ingredients[3].share.high > 0.05


def test_an_unknown_ingredient_is_named_and_widens_the_band() -> None:
    """Unknown never beats known in certainty."""
    known = reading(("wheat", "soybean meal", "maize"), {})
    unknown = reading(("wheat", "zzyzx of moonlight", "maize"), {})
    assert unknown.ingredients[1].printed == "zzyzx of moonlight"
    assert unknown.ingredients[1].food_id == ""
    for nutrient in ("protein_g", "calcium_mg", "crude_fibre_g"):
        narrow, wide = known.nutrient(nutrient), unknown.nutrient(nutrient)
        assert narrow.highest_any_batch is not None
        assert wide.highest_any_batch is not None
        assert narrow.lowest_any_batch is not None
        assert wide.lowest_any_batch is not None
        assert (
            wide.highest_any_batch > narrow.highest_any_batch
            or wide.lowest_any_batch < narrow.lowest_any_batch
        )
        assert draws(unknown, nutrient).std() > draws(known, nutrient).std() * 0.9


def test_a_label_without_ingredients_is_the_spread_of_its_kind() -> None:
    """A tortoise pellet of unknown make lies between the two archetypes, and the reading says so."""
    read = read_label("tortoise_pellet", Label(None, {"crude_protein_min_pct": 13.0}), EVIDENCE, rng(), 1000)
    assert read.ingredients == ()
    assert "L05" in read.notes[0]
    assert "L06" in read.notes[0]
    fibre = read.nutrient("crude_fibre_g").got
    assert fibre is not None
    assert fibre.low < 170.0
    assert fibre.high > 230.0
    assert draws(read, "protein_g").shape == (1000,)


def test_printed_vitamins_fade_and_unprinted_ones_are_guessed_aloud() -> None:
    """10,000 IU/kg vitamin A = 3,000 ug/kg retinol at packing; thiamin is not printed."""
    read = reading(PELLET, {**ANALYSIS, "vitamin_a_min_iu_per_kg": 10_000.0})
    retinol = read.nutrient("retinol_ug").got
    assert retinol is not None
    assert 0.4 * 3000 < retinol.low < retinol.median < 1.5 * 3000 / 0.88
    assert any("least at packing" in text and "vitamin A" in text for text in read.not_knowable)
    assert any("thiamin" in text for text in read.not_knowable)


def test_a_printed_zero_adds_nothing() -> None:
    """The powder with beta-carotene only holds no retinol (archetype L15 prints 0)."""
    assert draws(reading(*archetype("L15")), "retinol_ug").max() == pytest.approx(0.0)


def test_the_same_strength_in_another_unit_reads_the_same() -> None:
    """100 IU natural vitamin E = 67 mg (foods README)."""
    mg = reading(PELLET, {"vitamin_e_min_mg_per_kg": 67.0})
    iu = reading(PELLET, {"vitamin_e_min_iu_per_kg": 100.0})
    np.testing.assert_allclose(draws(mg, "vitamin_e_mg"), draws(iu, "vitamin_e_mg"), rtol=1e-9)


def test_ratio_and_parts_of_a_draw_belong_together() -> None:
    """Ca:P is that of the same possible world."""
    read = reading(PELLET, ANALYSIS)
    ratio = draws(read, "calcium_mg") / draws(read, "phosphorus_mg")
    np.testing.assert_allclose(draws(read, "ca_p_ratio"), ratio)


@pytest.mark.parametrize("label_id", ["L01", "L02", "L05", "L08", "L10", "L11", "L12"])
def test_archetypes_are_read_without_conflict_and_with_enough_draws(label_id: str) -> None:
    """1,000 effective draws and chains that agree; the draws lie within the band of any batch."""
    read = reading(*archetype(label_id))
    assert read.conflicts == ()
    assert read.effective_samples >= 1000
    assert read.r_hat < 1.2
    for nutrient in ("protein_g", "fat_g", "calcium_mg", "phosphorus_mg"):
        one = read.nutrient(nutrient)
        assert one.got is not None
        assert one.lowest_any_batch is not None
        assert one.highest_any_batch is not None
        assert one.lowest_any_batch <= one.got.median <= one.highest_any_batch


def test_the_same_generator_gives_the_same_reading() -> None:
    """Draws depend on the generator alone, and on no other label of the case."""
    first = reading(PELLET, ANALYSIS, seed=4)
    np.testing.assert_array_equal(draws(first, "fat_g"), draws(reading(PELLET, ANALYSIS, seed=4), "fat_g"))
    one, two = Label(PELLET, ANALYSIS), Label(("oats",), {})
    with_oats = Case(Animal("terrapene_ornata"), labels={"a": one, "b": two})
    with_rice = Case(Animal("terrapene_ornata"), labels={"a": one, "b": Label(("rice", "peas"), {})})
    both = [read_labels(case, EVIDENCE, rng(9), 500)["a"] for case in (with_oats, with_rice)]
    np.testing.assert_array_equal(draws(both[0], "fat_g"), draws(both[1], "fat_g"))


def test_a_case_without_labels_reads_none() -> None:
    """Nothing is built for nothing."""
    assert read_labels(Case(Animal("terrapene_ornata")), EVIDENCE, rng()) == {}


def test_a_wrong_key_is_refused_with_the_label_it_stands_in() -> None:
    """The case parser leaves the keys to the label reader."""
    with pytest.raises(KeeperError, match='Label "pellet"'):
        read_label("pellet", Label(("wheat",), {"crude_protein": 20.0}), EVIDENCE, rng(), 100)


@pytest.mark.parametrize("count", [1, 60])
def test_shortest_and_long_lists_are_read(count: int) -> None:
    """One ingredient, and a long list that ends in single vitamins."""
    names = ("wheat", "maize", "soya meal", "fish meal", "oats", "barley", "peas", "flaxseed", "whey", "salt")
    read = reading((names + ("vitamin E supplement", "biotin", "zinc oxide") * 20)[:count], {})
    assert len(read.ingredients) in (1, 17)
