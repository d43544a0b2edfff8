"""From a dose as it is meant and a product as printed to what one dose would hold."""

from collections.abc import Mapping

from baskwell.science.dosing.asked import Asked
from baskwell.science.dosing.product import Product, StrengthError, read_product
from baskwell.science.dosing.substances import SUBSTANCES, substances_of, units_from_ug
from baskwell.science.dosing.wanted import WantedDose

PURE = ("pure", "pure powder")
UG_PER_MG = 1000.0


def product_of(asked: Asked, strength: str) -> Product:
    """The product as printed; "pure powder" of a compound that the food tables know needs no strength."""
    substances = substances_of(asked.agent)
    food = asked.setting.evidence.foods.get(asked.agent.food_id)
    if food is None or strength.strip().casefold() not in PURE or "pure_compound" not in food.flags:
        return read_product(strength, substances)
    held = {s.nutrient: (getattr(food, s.column) or 0.0) * s.per_column / 100.0 for s in substances}
    return Product("powder", held)


def ordered_product(asked: Asked, strength: str, wish: WantedDose) -> Product:
    """As ``product_of``; an order told as an amount of one substance needs no product."""
    substances = substances_of(asked.agent)
    if wish.form is None and len(substances) == 1:
        return Product("liquid", {substances[0].nutrient: 1.0})
    return product_of(asked, strength)


def held_by(wish: WantedDose, product: Product) -> Mapping[str, float]:
    """What one dose as it is meant would hold, by nutrient. Raises ``StrengthError`` where that is not clear.

    >>> held_by(WantedDose(2.0, "drop", "drop"), Product("drop", {"vitamin_D3": 400.0}))
    {'vitamin_D3': 800.0}
    """
    if wish.form is None:
        units = _units_of(wish, product)
    elif wish.form == product.form:
        units = wish.amount
    else:
        raise StrengthError(
            f"The dose is meant in {wish.unit}, but the strength is told per {product.unit}. "
            f"What does one {wish.unit} hold?"
        )
    return {nutrient: amount * units for nutrient, amount in product.holds.items()}


def _units_of(wish: WantedDose, product: Product) -> float:
    """Units of product for an amount of its one substance."""
    held = {nutrient: amount for nutrient, amount in product.holds.items() if amount > 0}
    if len(held) != 1:
        raise StrengthError(f"{wish.amount:g} {wish.unit} of what? The product holds more than one thing.")
    ((nutrient, amount),) = held.items()
    if wish.unit == "IU":
        if not SUBSTANCES[nutrient].in_iu:
            raise StrengthError(f"{SUBSTANCES[nutrient].name} is not counted in IU. How many mg are meant?")
        return wish.amount / amount
    return units_from_ug(nutrient, wish.amount * (UG_PER_MG if wish.unit == "mg" else 1.0)) / amount
