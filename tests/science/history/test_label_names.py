"""Printed names read as feed materials: every archetype, trade names, slips, percentages, long lists."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.errors import KeeperError
from baskwell.science.history.label.names import NameIndex, plain, read_ingredients, stated_share

EVIDENCE = load_evidence()
INDEX = NameIndex.from_evidence(EVIDENCE)


def test_every_ingredient_of_the_archetypes_is_known() -> None:
    """No entry of ``foods/labels.csv`` is left without a material."""
    printed = {name for label in EVIDENCE.labels.values() for name in label.ingredients}
    assert not {name for name in printed if not INDEX.read(name).material_id}


def test_every_name_leads_to_a_material_that_exists() -> None:
    """``material_id`` is a food or a material of ``label_materials.csv``."""
    materials = {row.material_id for row in EVIDENCE.feed_labels.label_materials}
    for row in EVIDENCE.feed_labels.ingredient_names:
        assert row.material_id in materials | EVIDENCE.foods.keys(), row


@pytest.mark.parametrize(
    ("printed", "material"),
    [
        ("Ground Yellow Corn", "corn_grain"),
        ("maize", "corn_grain"),
        ("Poultry By-Product Meal (preserved with mixed tocopherols)", "poultry_byproduct_meal"),
        ("poultry byproducts", "poultry_by_products"),
        ("dehydrated alfalfa meal", "alfalfa_meal_17"),
        ("Suncured Timothy Grass Hay", "timothy_hay"),
        ("Zinc sulphate", "inert_mineral"),
        ("Artificial Colors", "colour"),
        ("organic ground wheat", "wheat_grain"),
        ("Vitamins [Vitamin A Supplement, Niacin (B3)]", "vitamin_premix"),
        ("dried raspberries", "raspberry"),
        ("dried collard greens", "collard_greens"),
        ("premium blend (fish meal, wheat)", "fish_meal_65"),
    ],
)
def test_trade_names_are_read(printed: str, material: str) -> None:
    """Trade terms in both spellings of English (common practice)."""
    assert INDEX.read(printed).material_id == material


def test_a_slip_is_read_as_the_nearest_name_and_said_so() -> None:
    """The reading of a misspelt name names the spelling it was taken for."""
    read = INDEX.read("soyben meal")
    assert (read.material_id, read.doubtful) == ("soybean_meal", True)
    assert "soybean meal" in read.note


def test_what_is_not_known_stays_in_the_list() -> None:
    """An unknown ingredient is named, not dropped and not guessed."""
    read = read_ingredients(["wheat", "zzyzx extract of moonlight", " "], INDEX)
    assert [item.printed for item in read] == ["wheat", "zzyzx extract of moonlight"]
    assert read[1].material_id == ""
    assert "widened" in read[1].note


def test_a_dried_food_brings_little_water() -> None:
    """A fresh food of the tables, printed as dried, is taken at the water of dried goods."""
    assert INDEX.read("dried collard greens").water_pct == pytest.approx(8.0)


@pytest.mark.parametrize(
    ("printed", "stated"),
    [
        ("fish meal 12 %", (11.5, 12.5)),
        ("salmon (4,5%)", (4.45, 4.55)),
        ("chicken (min. 4 %)", (4.0, 100.0)),
        ("chicken (4 % minimum)", (4.0, 100.0)),
        ("oats 0 %", None),
        ("oats", None),
    ],
)
def test_printed_percentages_are_kept_with_their_rounding(
    printed: str, stated: tuple[float, float] | None
) -> None:
    """A rounded figure stands for half a unit of its last place either way (arithmetic)."""
    assert stated_share(printed) == pytest.approx(stated) if stated else stated_share(printed) is None


def test_the_small_additions_of_a_long_list_are_taken_together() -> None:
    """Twenty vitamins at the end of a long list are one entry that still adds them all."""
    majors = [
        "wheat",
        "maize",
        "soya meal",
        "fish meal",
        "oats",
        "barley",
        "rice",
        "peas",
        "flaxseed",
        "whey",
    ]
    majors += ["brewers yeast", "wheat bran", "alfalfa meal", "kelp", "spirulina", "salt"]
    tail = ["vitamin A supplement", "vitamin E supplement", "zinc oxide", "niacin", "biotin"]
    read = read_ingredients(majors + tail, INDEX)
    assert len(read) == len(majors) + 1
    assert {"retinol_ug", "vitamin_e_mg", "zinc_mg"} <= set(read[-1].adds)
    assert read[-1].printed == "vitamin A supplement and 4 more"


@given(st.text(max_size=200))
def test_any_text_can_be_read_as_a_name(text: str) -> None:
    """Reading never fails and keeps what was printed."""
    assert INDEX.read(text).printed == text.strip()
    assert plain(plain(text)) == plain(text)


def test_a_list_of_hundreds_is_refused() -> None:
    """More than 150 ingredients are more than one label."""
    with pytest.raises(KeeperError, match="at most 150"):
        read_ingredients(["wheat"] * 151, INDEX)
