"""Printed strengths and wanted doses: read for certain, or asked."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.dosing.amounts import held_by
from baskwell.science.dosing.product import Product, StrengthError, read_number, read_product
from baskwell.science.dosing.substances import SUBSTANCES, ug_from_units, units_from_ug
from baskwell.science.dosing.wanted import WantedDose, read_wanted

A, D3, CALCIUM = SUBSTANCES["vitamin_A"], SUBSTANCES["vitamin_D3"], SUBSTANCES["calcium"]


@pytest.mark.parametrize(
    ("text", "form", "amount"),
    [
        ("8000 IU per capsule", "capsule", 8000.0),
        ("8,000 I.U./capsule", "capsule", 8000.0),
        ("8 000 IE pro capsule".replace("pro", "per"), "capsule", 8000.0),
        ("2000 IU/g", "powder", 2000.0),
        ("2,000,000 IU per kg", "powder", 2000.0),
        ("1 drop = 400 IU", "drop", 400.0),
        ("5 drops contain 2000 IU", "drop", 400.0),
        ("5000 IU per 5 ml", "liquid", 1000.0),
        ("50000 IU/mL", "liquid", 50000.0),
        ("25,000 IU in a tablet", "tablet", 25000.0),
        ("1.5 mg retinol per capsule", "capsule", 5000.0),  # 1,500 ug / 0.3, worked example W13
        ("0.1 % w/w", "powder", 1000 / 0.3),  # 1 mg in a gram
    ],
)
def test_a_printed_vitamin_a_strength_is_read(text: str, form: str, amount: float) -> None:
    """Amount, unit and "per what" in the forms in which they are printed."""
    product = read_product(text, [A])
    assert product.form == form
    assert product.holds["vitamin_A"] == pytest.approx(amount)


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("", "not known"),
        ("unknown", "not known"),
        ("strong", "no amount with a unit"),
        ("8000", "no amount with a unit"),
        ("8000 IU", "per what"),
        ("8000 IU per scoop", "per what"),
        ("10.000 IU per capsule", "two ways"),
        ("0,500,000 IU per g", "two ways"),
        ("5000 IU vitamin D3 per ml and capsule", "per what"),
        ("1000 IU per ml; 400 IU vitamin D3 per drop", "one and the same"),
        ("1000 IU per ml; 2000 IU retinol per ml", "twice"),
        ("5000 IU beta-carotene per capsule", "carotene"),
        ("0 IU per capsule", "holds nothing"),
        ("400 IU vitamin D3 per drop", "does not tell vitamin A"),
        ("100 IU per 0 g", "per nothing"),
    ],
)
def test_a_strength_that_is_not_certain_is_asked_for(text: str, asks: str) -> None:
    """A strength read too weak would be given too strong, so nothing is guessed."""
    with pytest.raises(StrengthError, match=asks):
        read_product(text, [A])


def test_an_iu_of_a_mixture_is_never_bare() -> None:
    """IU of what? One IU of vitamin A is 0.3 ug, of vitamin D3 0.025 ug."""
    with pytest.raises(StrengthError, match="of what"):
        read_product("1000 IU per ml", [A, D3])
    both = read_product("900 IU vitamin A per ml; 90 IU vitamin D3 per ml", [A, D3])
    assert both.holds == {"vitamin_A": 900.0, "vitamin_D3": 90.0}


def test_what_has_no_iu_is_not_counted_in_them() -> None:
    """Calcium is weighed."""
    with pytest.raises(StrengthError, match="has no such unit"):
        read_product("500 IU per tablet", [CALCIUM])
    assert read_product("40 % w/w", [CALCIUM]).holds["calcium"] == pytest.approx(400.0)
    assert read_product("23 mg/ml", [CALCIUM]).holds["calcium"] == pytest.approx(23.0)


@pytest.mark.parametrize(
    ("nutrient", "micrograms", "units"),
    [
        ("vitamin_A", 2580.0, 8600.0),  # W11, softshell turtle, published
        ("vitamin_A", 3840.0, 12800.0),  # W11
        ("vitamin_A", 400.0, 1333.33),  # W14, 0.4 ug/g body weight is 1,333 IU per kg
        ("vitamin_D3", 10.0, 400.0),  # 1 IU = 0.025 ug, foods README
        ("vitamin_E", 67_000.0, 100.0),  # 0.67 mg natural form, foods README
    ],
)
def test_units_agree_with_the_worked_examples(nutrient: str, micrograms: float, units: float) -> None:
    """nutrition/worked_examples.csv W11 and W14; the foods README for D3 and E."""
    assert units_from_ug(nutrient, micrograms) == pytest.approx(units, rel=1e-4)


@given(st.sampled_from(sorted(SUBSTANCES)), st.floats(1e-6, 1e9))
def test_units_come_back_as_they_went(nutrient: str, amount: float) -> None:
    """Micrograms to units and back."""
    assert ug_from_units(nutrient, units_from_ug(nutrient, amount)) == pytest.approx(amount)


@given(st.integers(1, 10**9))
def test_a_whole_number_reads_the_same_with_and_without_commas(number: int) -> None:
    """Thousands marked by commas, as on labels in English."""
    assert read_number(f"{number:,}") == read_number(str(number)) == number


@given(st.text(max_size=40))
def test_any_text_is_read_or_asked_about(text: str) -> None:
    """Nothing that is printed brings the tool down, and nothing negative comes out."""
    try:
        product = read_product(text, [A])
    except StrengthError:
        return
    assert all(amount >= 0 for amount in product.holds.values())


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("500 IU", WantedDose(500.0, "IU", None)),
        ("1 capsule", WantedDose(1.0, "capsule", "capsule")),
        ("half a tablet", WantedDose(0.5, "tablet", "tablet")),
        ("a whole capsule", WantedDose(1.0, "capsule", "capsule")),
        ("3 drops", WantedDose(3.0, "drop", "drop")),
        ("0.2 ml", WantedDose(0.2, "ml", "liquid")),
    ],
)
def test_a_wanted_dose_is_read(text: str, expected: WantedDose) -> None:
    """As people say it."""
    assert read_wanted(text) == expected


@pytest.mark.parametrize("text", ["", "a pinch", "some", "-5 IU", "0 IU", "5", "1.000 IU", "nan IU"])
def test_a_dose_that_cannot_be_measured_is_asked_for(text: str) -> None:
    """A pinch is no amount."""
    with pytest.raises(StrengthError, match="Write it as"):
        read_wanted(text)


def test_a_dose_in_another_form_than_the_product_is_asked_about() -> None:
    """Drops of a capsule: how much is in a drop is not known."""
    with pytest.raises(StrengthError, match="What does one drop hold"):
        held_by(read_wanted("3 drops"), Product("capsule", {"vitamin_A": 5000.0}))
    with pytest.raises(StrengthError, match="of what"):
        held_by(read_wanted("500 IU"), Product("liquid", {"vitamin_A": 900.0, "vitamin_D3": 90.0}))
