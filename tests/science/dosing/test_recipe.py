"""Recipes: never above the room that is left, never rounded up."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.dosing.product import Form, Product
from baskwell.science.dosing.recipe import least_units, recipe_for
from baskwell.science.dosing.result import Recipe
from dosing_desk import EVIDENCE

FORMS: tuple[Form, ...] = ("powder", "liquid", "drop", "capsule", "tablet")
forms = st.sampled_from(FORMS)
rooms = st.floats(0.0, 1e4)


def units_in(recipe: Recipe, off: float = 0.0) -> float:
    """Units of product in one dose by the words of the recipe, measured too generously by ``off``."""
    return (
        (recipe.measure + off) * recipe.parts / recipe.made_up_to
        if recipe.made_up_to
        else recipe.measure + off
    )


@given(forms, st.floats(1e-3, 1e6), rooms, rooms)
def test_no_recipe_holds_more_than_there_is_room_for(
    form: Form, strength: float, room: float, wished: float
) -> None:
    """Neither as it is told nor with the reading error of syringe or scale (measuring.csv: 0.01 mL or g)."""
    recipe = recipe_for(Product(form, {"vitamin_A": strength}), room, wished, 7, EVIDENCE)
    if recipe is None:
        return
    off = 0.01 if recipe.measure_unit in ("ml", "g") else 0.0
    assert units_in(recipe, off) <= room * (1 + 1e-9)
    assert units_in(recipe) <= wished * (1 + 1e-9)
    assert dict(recipe.holds)["vitamin_A"] == pytest.approx(units_in(recipe) * strength)


@given(forms, rooms, rooms, rooms)
def test_more_room_never_gives_a_smaller_dose(form: Form, wished: float, one: float, other: float) -> None:
    """Rounding down on several grids at once stays monotone."""
    less, more = sorted((one, other))
    product = Product(form, {"vitamin_A": 1.0})
    small, large = (recipe_for(product, room, wished, 7, EVIDENCE) for room in (less, more))
    if small is not None:
        assert large is not None
        assert units_in(large) >= units_in(small) * (1 - 1e-9)


@given(forms, st.floats(0.0, 1.0))
def test_what_is_less_than_the_least_gives_no_recipe(form: Form, part: float) -> None:
    """Below the smallest measure of the weakest mixture nothing is proposed."""
    product = Product(form, {"vitamin_A": 1.0})
    assert recipe_for(product, least_units(product, EVIDENCE) * part * 0.98, 1e9, 7, EVIDENCE) is None


def test_whole_pieces_are_given_whole() -> None:
    """Three and a half drops are three."""
    recipe = recipe_for(Product("drop", {"vitamin_D3": 10.0}), 3.99, 3.99, 7, EVIDENCE)
    assert recipe is not None
    assert math.isclose(units_in(recipe), 3.0) or recipe.made_up_to > 0
    assert dict(recipe.holds)["vitamin_D3"] <= 39.9


def test_a_powder_is_weighed_in_hundredths_of_a_gram_and_down() -> None:
    """0.159 g on a scale that reads 0.01 g is 0.14 g: 0.15 g could be 0.16 g by its reading error."""
    recipe = recipe_for(Product("powder", {"calcium": 400.0}), 0.159, 0.159, 1, EVIDENCE)
    assert recipe is not None
    assert units_in(recipe) <= 0.149
    assert "every day" in " ".join(recipe.steps)


def test_the_steps_say_how_to_mix_what_to_write_on_it_and_how_much_to_give() -> None:
    """274 IU of a 10,000 IU capsule: 1 in 10 ml is 1,000 IU a ml; 0.264 ml less 0.01 is 0.26 ml (by hand)."""
    recipe = recipe_for(Product("capsule", {"vitamin_A": 10_000.0}), 0.0274, 0.0274, 7, EVIDENCE)
    assert recipe is not None
    assert dict(recipe.holds) == {"vitamin_A": pytest.approx(260.0)}
    told = " ".join(recipe.steps)
    assert "1 whole capsule" in told
    assert "10 ml in all (1 part in 10)" in told
    assert "1 ml holds 1,000 IU retinol" in told
    assert "Give 0.26 ml" in told


@pytest.mark.parametrize("amount", [math.nan, math.inf])
def test_an_amount_that_is_no_number_is_refused(amount: float) -> None:
    """A dose is never made from nothing."""
    with pytest.raises(ValueError, match="finite"):
        recipe_for(Product("drop", {"vitamin_D3": 10.0}), amount, 1.0, 7, EVIDENCE)
