"""Composition draws agree with the tables, with independent analyses, and never hide an unknown."""

import csv
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.loader import load_evidence
from baskwell.science.composition import compose, draw_composition, storage_left
from baskwell.science.composition_index import CompositionIndex

EVIDENCE = load_evidence()
INDEX = CompositionIndex.from_evidence(EVIDENCE)
NUTRIENTS = ("water_g", "protein_g", "calcium_mg", "phosphorus_mg", "retinol_ug", "oxalate_mg", "iodine_ug")
CHECKS = Path(__file__).parents[1] / "data" / "food_checks.csv"


def checks_of_tables() -> list[dict[str, str]]:
    """Rows that agreed when the tables were built and name a food, a plain nutrient or a ratio."""
    with CHECKS.open(encoding="utf-8", newline="") as handle:
        rows = list(csv.DictReader(handle))
    return [r for r in rows if r["status_when_built"] == "ok" and _is_readable(r)]


def _is_readable(row: dict[str, str]) -> bool:
    names = row["quantity"].split("/")
    plain = all(name in INDEX.column for name in names)
    return plain and row["food_id"] in INDEX.row and row["basis"] in ("per_100g_as_fed", "ratio")


def _tables_say(row: dict[str, str]) -> float:
    values = [INDEX.value(row["food_id"], name) for name in row["quantity"].split("/")]
    return values[0] if len(values) == 1 else values[0] / values[1]


@pytest.mark.parametrize("row", checks_of_tables(), ids=lambda row: str(row["check_id"]))
def test_table_values_lie_in_the_band_of_an_independent_analysis(row: dict[str, str]) -> None:
    """Bands and sources: foods/checks.csv (``band_rule``, ``source_id``, ``source_ref``)."""
    assert float(row["low"]) <= _tables_say(row) <= float(row["high"])


def test_enough_checks_are_readable_to_mean_something() -> None:
    """Of the 65 checks that agreed at building, most are on plain nutrients and ratios."""
    assert len(checks_of_tables()) >= 40


@pytest.mark.parametrize(
    ("food", "nutrient"),
    [("collard_greens", "calcium_mg"), ("spinach", "beta_carotene_ug"), ("carrot", "oxalate_mg")],
)
def test_the_mean_of_the_draws_is_the_table_value(food: str, nutrient: str) -> None:
    """Closed form: a log-normal with mu = ln m - s^2/2 has mean m; six standard errors allowed."""
    drawn = draw_composition(INDEX, [food], [nutrient], np.random.default_rng(7), 40_000)[:, 0, 0]
    standard_error = drawn.std() / math.sqrt(drawn.size)
    assert abs(drawn.mean() - INDEX.value(food, nutrient)) < 6 * standard_error


def test_generic_calcium_spread_is_that_between_national_tables() -> None:
    """Collard has no row of its own; leafy composites (CV 11.8 %) are a lower bound below the general 18.7 %.

    Source: foods/variability.csv rows ``*leafy_green`` and ``*`` calcium_mg, order of the foods README.
    """
    width = INDEX.width[INDEX.row["collard_greens"], INDEX.column["calcium_mg"]]
    assert width == pytest.approx(math.sqrt(math.log1p(0.187**2)))


def test_a_large_own_sample_beats_every_general_spread() -> None:
    """Fish meal calcium: 1,046 samples, 4,130 +/- 1,080 mg (foods/variability.csv)."""
    width = INDEX.width[INDEX.row["fish_meal_65"], INDEX.column["calcium_mg"]]
    assert width == pytest.approx(math.sqrt(math.log1p((0.262) ** 2)), rel=0.01)


def test_feed_upper_figures_are_halved() -> None:
    """Poultry by-product meal: ``*feed`` calcium upper CV 30 % becomes 15 % (foods README)."""
    width = INDEX.width[INDEX.row["poultry_byproduct_meal"], INDEX.column["calcium_mg"]]
    assert width == pytest.approx(math.sqrt(math.log1p(0.15**2)))


def test_oxalate_always_spreads_a_factor_of_three() -> None:
    """Foods README, Checks: methods differ up to thirtyfold; at least a factor of three."""
    known = INDEX.centre[:, INDEX.column["oxalate_mg"]] > 0
    widths = INDEX.width[known, INDEX.column["oxalate_mg"]]
    assert widths.min() >= math.log(3) / 1.645 - 1e-9


def test_whole_prey_vitamin_a_spans_an_order_of_magnitude() -> None:
    """Foods README: 26-fold between laboratory and wild mice; the prior is tenfold over the central 90 %."""
    drawn = draw_composition(INDEX, ["mouse_adult"], ["retinol_ug"], np.random.default_rng(3), 20_000)
    low, high = np.quantile(drawn, [0.05, 0.95])
    assert 8 < high / low < 12


def test_unknown_stays_unknown_in_the_plain_draws() -> None:
    """Iodine of collard greens is an empty cell of foods.csv."""
    drawn = draw_composition(INDEX, ["collard_greens"], ["iodine_ug"], np.random.default_rng(1), 10)
    assert np.isnan(drawn).all()


def test_unknown_insect_vitamin_a_is_assumed_below_detection_and_not_zero() -> None:
    """Detection limit 100 IU = 30 ug per 100 g (foods/variability.csv ``*invertebrate`` vitamin_a_iu)."""
    got = compose(INDEX, ["cricket_adult"], ["retinol_ug"], np.random.default_rng(1), 2000)
    assert got.assumed.all()
    assert got.values.max() <= 30.0
    assert np.median(got.values) > 0.0


def test_an_unknown_cell_spans_the_known_foods_of_its_group_per_dry_matter() -> None:
    """Silkworm calcium is empty; the known insects set its range by hand from foods.csv."""
    got = compose(INDEX, ["silkworm"], ["water_g", "calcium_mg"], np.random.default_rng(1), 20_000)
    per_gram_dry = got.values[:, 0, 1] / (1 - got.values[:, 0, 0] / 100)
    insects = [f for f in EVIDENCE.foods.values() if f.group == "invertebrate" and f.calcium_mg and f.water_g]
    known = [f.calcium_mg / (1 - f.water_g / 100) for f in insects if f.calcium_mg and f.water_g]
    assert per_gram_dry.min() <= min(known)
    assert per_gram_dry.max() >= max(known)
    assert np.median(per_gram_dry) == pytest.approx(np.median(known), rel=0.15)


def test_ignorance_shared_by_foods_does_not_average_out() -> None:
    """Two insects without a vitamin A figure lie high or low together."""
    got = compose(INDEX, ["mealworm", "waxworm"], ["retinol_ug"], np.random.default_rng(1), 500)
    assert (got.values[:, 0, 0] == got.values[:, 1, 0]).all()


def test_stale_feed_holds_less_than_printed() -> None:
    """Retention priors of composition_priors.csv; minerals lose nothing."""
    rng = np.random.default_rng(1)
    left = storage_left(EVIDENCE.composition_priors, "retinol_ug", rng, 1000)
    assert left.max() <= 1.0
    assert left.mean() < 0.9
    assert (storage_left(EVIDENCE.composition_priors, "calcium_mg", rng, 10) == 1.0).all()


def test_an_unknown_food_is_named() -> None:
    """The error says which id is wrong."""
    with pytest.raises(KeyError, match="dandelon"):
        draw_composition(INDEX, ["dandelon"], ["calcium_mg"], np.random.default_rng(1), 10)


def test_an_unknown_nutrient_is_named() -> None:
    """The error says which column is wrong."""
    with pytest.raises(KeyError, match="calcium_pct"):
        draw_composition(INDEX, ["kale"], ["calcium_pct"], np.random.default_rng(1), 10)


def without(evidence: Evidence, food: str, nutrient: str) -> Evidence:
    """The same evidence, one cell made unknown."""
    blank: dict[str, Any] = {nutrient: None}
    changed = replace(evidence.foods[food], **blank)
    return replace(evidence, foods={**evidence.foods, food: changed})


@given(st.sampled_from(["kale", "mealworm", "mouse_adult"]), st.sampled_from(["calcium_mg", "phosphorus_mg"]))
@settings(max_examples=6, deadline=None)
def test_unknown_never_beats_known_in_certainty(food: str, nutrient: str) -> None:
    """Erasing a cell widens its 90 % interval."""
    blind = CompositionIndex.from_evidence(without(EVIDENCE, food, nutrient))
    rng = np.random.default_rng(5)
    known = compose(INDEX, [food], [nutrient], rng, 4000).values[:, 0, 0]
    unknown = compose(blind, [food], [nutrient], rng, 4000).values[:, 0, 0]
    spread = [np.diff(np.log(np.quantile(drawn, [0.05, 0.95])))[0] for drawn in (known, unknown)]
    assert spread[1] > spread[0]


@given(st.lists(st.sampled_from(sorted(EVIDENCE.foods)), min_size=1, max_size=6, unique=True))
@settings(max_examples=40, deadline=None)
def test_draws_are_possible_foods(food_ids: list[str]) -> None:
    """No negative amount, no part above the whole, no hole left."""
    got = compose(INDEX, food_ids, NUTRIENTS, np.random.default_rng(2), 200)
    assert got.values.shape == (200, len(food_ids), len(NUTRIENTS))
    assert not np.isnan(got.values).any()
    assert (got.values >= 0).all()
    assert (got.values[:, :, :2] <= 100).all()


@given(st.lists(st.sampled_from(sorted(EVIDENCE.foods)), min_size=1, max_size=6, unique=True))
@settings(max_examples=40, deadline=None)
def test_protein_fat_and_ash_fit_in_the_dry_matter(food_ids: list[str]) -> None:
    """Mass balance, also where one of them is only borrowed from similar foods."""
    got = compose(INDEX, food_ids, ("water_g", "protein_g", "fat_g", "ash_g"), np.random.default_rng(4), 200)
    assert (got.values.sum(axis=2) <= 100 + 1e-6).all()


def test_a_wetter_lot_holds_less_of_everything() -> None:
    """Water and calcium of one leaf go against each other; per dry matter the spread stays the table's."""
    drawn = draw_composition(INDEX, ["romaine"], ["water_g", "calcium_mg"], np.random.default_rng(1), 20_000)
    water, calcium = drawn[:, 0, 0], drawn[:, 0, 1]
    assert np.corrcoef(water, calcium)[0, 1] < -0.1
    spread = np.std(np.log(calcium / (100 - water)))
    assert spread == pytest.approx(INDEX.log_sd[INDEX.row["romaine"], INDEX.column["calcium_mg"]], rel=0.03)
