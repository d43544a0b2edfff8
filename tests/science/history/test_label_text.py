"""Pasted labels: common layouts, awkward punctuation, hostile text."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.errors import KeeperError
from baskwell.science.history.label import parse_label_text
from baskwell.science.history.label.guarantees import guarantee_keys
from baskwell.science.history.label.text import split_ingredients

KEYS = guarantee_keys(load_evidence())

AMERICAN = """INGREDIENTS
Poultry By-Product Meal (a source of calcium), Ground Yellow Corn, Fish Meal, Salt,
Vitamins [Vitamin A Supplement, Vitamin D-3 Supplement, Niacin (B3)], and Minerals (Zinc Sulfate).

GUARANTEED ANALYSIS
Crude Protein (min)......... 32.0%
Crude Fat not less than..... 12.0%
Crude Fiber (max).............4.0%
Moisture, maximum............ 12.0%
Calcium (min) 1.0% (max) 1.8%
Vitamin A (min) 9,000 IU/kg
Vitamin E, not less than 50 IU/lb
Omega-3 0.4%
"""
EUROPEAN = (
    "Composition: cereals (wheat, maize 4,5%), fish and fish derivatives (min. 4% salmon), oils and fats. "
    "Analytical constituents: crude protein 38 %, crude oils and fats 5,5%, crude fibre 3%, crude ash 9,5 %, "
    "moisture 8%. Additives/kg: Vitamin A 12 000 IU, Vitamin D3 1,200 IU, Iron 30 mg."
)


def test_an_american_label_is_read_whole() -> None:
    """Dotted leaders, brackets in brackets, minimum and maximum on one line, IU per pound."""
    label = parse_label_text(AMERICAN)
    assert label.ingredients == (
        "Poultry By-Product Meal (a source of calcium)",
        "Ground Yellow Corn",
        "Fish Meal",
        "Salt",
        "Vitamins [Vitamin A Supplement, Vitamin D-3 Supplement, Niacin (B3)]",
        "Minerals (Zinc Sulfate)",
    )
    assert dict(label.guaranteed) == pytest.approx(
        {
            "crude_protein_min_pct": 32.0,
            "crude_fat_min_pct": 12.0,
            "crude_fibre_max_pct": 4.0,
            "moisture_max_pct": 12.0,
            "calcium_min_pct": 1.0,
            "calcium_max_pct": 1.8,
            "vitamin_a_min_iu_per_kg": 9000.0,
            "vitamin_e_min_iu_per_kg": 110.23,  # 50 IU/lb x 2.2046 lb/kg
        },
        abs=0.01,
    )
    assert "Omega-3 0.4%" in label.notes


def test_a_european_label_gives_values_not_bounds() -> None:
    """Analytical constituents are values; decimal commas and spaced thousands are numbers."""
    label = parse_label_text(EUROPEAN)
    assert label.ingredients is not None
    assert label.ingredients[1] == "fish and fish derivatives (min. 4% salmon)"
    assert dict(label.guaranteed) == {
        "crude_protein_pct": 38.0,
        "crude_fat_pct": 5.5,
        "crude_fibre_pct": 3.0,
        "ash_pct": 9.5,
        "moisture_pct": 8.0,
        "vitamin_a_iu_per_kg": 12000.0,
        "vitamin_d3_iu_per_kg": 1200.0,
        "iron_mg_per_kg": 30.0,
    }


@pytest.mark.parametrize("text", [AMERICAN, EUROPEAN])
def test_every_key_that_is_read_is_one_that_labels_know(text: str) -> None:
    """The parser and the guarantee table use one vocabulary."""
    assert set(parse_label_text(text).guaranteed) <= KEYS.keys()


@pytest.mark.parametrize(
    ("text", "key", "value"),
    [
        ("wheat, soya, fish meal\nProtein 24%", "crude_protein_min_pct", 24.0),
        ("Analysis: calcium 12 g/kg; x", "calcium_pct", 1.2),
        ("Guaranteed analysis: calcium 1.0-1.8 %, protein 20%", "calcium_max_pct", 1.8),
        ("Guaranteed analysis: not less than 24 % protein", "crude_protein_min_pct", 24.0),
        ("Guaranteed analysis: selenium (min) 0.2 ppm", "selenium_min_mg_per_kg", 0.2),
        ("Guaranteed analysis: zinc min 0.01 %", "zinc_min_mg_per_kg", 100.0),
        ("Analytical constituents: fat content 6 %", "crude_fat_pct", 6.0),
    ],
)
def test_units_and_sides_are_turned_into_keys(text: str, key: str, value: float) -> None:
    """Grams per kilogram, ppm and percent are one another's multiples (arithmetic)."""
    assert parse_label_text(text).guaranteed[key] == pytest.approx(value)


def test_unknown_ingredients_are_none_and_not_an_empty_list() -> None:
    """Unknown is a value: the analysis is still read."""
    label = parse_label_text("Ingredients: unknown. Guaranteed analysis: protein min. 30%")
    assert label.ingredients is None
    assert dict(label.guaranteed) == {"crude_protein_min_pct": 30.0}


def test_brackets_that_do_not_close_do_not_swallow_the_list() -> None:
    """An open bracket is not minded."""
    assert split_ingredients("wheat (ground, maize, salt") == ("wheat (ground", "maize", "salt")


def test_a_list_ends_at_its_sentence_but_not_at_an_abbreviation() -> None:
    """A name like B. subtilis goes on; what follows the sentence is no ingredient."""
    assert split_ingredients("maize, B. subtilis, salt. Keep dry, cool.") == ("maize", "B. subtilis", "salt")


@pytest.mark.parametrize("text", ["", "   \n", "hello", "Net weight: 2 kg"])
def test_a_text_without_a_label_is_refused_with_what_to_write(text: str) -> None:
    """The message shows how a label is written."""
    with pytest.raises(KeeperError, match="Write it like"):
        parse_label_text(text)


def test_a_text_that_is_too_long_is_refused() -> None:
    """A book is not a label."""
    with pytest.raises(KeeperError, match="20,000"):
        parse_label_text("a, " * 10_000)


@settings(max_examples=300, deadline=2000)
@given(
    st.text(
        alphabet=st.sampled_from(list("abcdefghinoprstuvy ()[]{},;.:%-/0123456789\n\t<>≤•|é")), max_size=3000
    )
)
def test_any_text_is_read_or_refused_and_never_hangs(text: str) -> None:
    """Fuzz: a Label with known keys, or a KeeperError."""
    try:
        label = parse_label_text("Ingredients: " + text)
    except KeeperError:
        return
    assert set(label.guaranteed) <= KEYS.keys()


@pytest.mark.parametrize(
    "unit", ["(", "crude protein ", "min max ", "1,000", "vitamin a 9 ", "a, ", ". ", "1-"]
)
def test_long_repetitions_are_read_in_a_moment(unit: str) -> None:
    """No pattern backtracks: 20,000 characters take under a second."""
    text = ("Guaranteed analysis: " + unit * 20_000)[:20_000]
    start = time.process_time()
    try:
        parse_label_text(text)
    except KeeperError as refusal:
        assert str(refusal)
    assert time.process_time() - start < 1.0
