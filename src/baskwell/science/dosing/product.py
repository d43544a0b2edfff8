"""Read the strength printed on a product into what one unit of it holds, or ask.

A number that can be read in two ways is never guessed: read too weak, it would be given too strong.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from baskwell.science.dosing.substances import SUBSTANCES, Substance, units_from_ug
from baskwell.science.errors import KeeperError

Form = Literal["powder", "liquid", "drop", "capsule", "tablet"]
UNIT_OF: Mapping[Form, str] = {
    "powder": "g",
    "liquid": "ml",
    "drop": "drop",
    "capsule": "capsule",
    "tablet": "tablet",
}
_FORMS: Mapping[str, tuple[Form, float]] = {
    **dict.fromkeys(("g", "gram", "grams"), ("powder", 1.0)),
    **dict.fromkeys(("kg", "kilogram", "kilo"), ("powder", 1000.0)),
    **dict.fromkeys(("ml", "millilitre", "milliliter", "millilitres", "milliliters"), ("liquid", 1.0)),
    **dict.fromkeys(("l", "litre", "liter"), ("liquid", 1000.0)),
    **dict.fromkeys(("drop", "drops"), ("drop", 1.0)),
    **dict.fromkeys(("capsule", "capsules", "softgel", "softgels", "cap", "caps"), ("capsule", 1.0)),
    **dict.fromkeys(("tablet", "tablets", "pill", "pills"), ("tablet", 1.0)),
}
_UG: Mapping[str, float] = {"ug": 1.0, "mcg": 1.0, "mg": 1e3, "g": 1e6}
_UNITS = r"iu|i\.u\.|ie|i\.e\.|ui|ug|mcg|mg|g|%"
_NUMBER = r"\d[\d.,]*(?: \d{3})*"
_AMOUNT = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>{_UNITS})(?![a-z])(?P<rest>.*)$")
_PER = re.compile(
    rf"(?:/|\bper\b|\bin\b|\beach\b|\ba\b|\ban\b)\s*(?P<count>{_NUMBER})?\s*(?P<form>[a-z]+)\s*$"
)
_EQUALS = re.compile(
    rf"^\s*(?P<count>{_NUMBER})?\s*(?P<form>[a-z]+)\s*(?:=|contains?\b|holds?\b|is\b)\s*(?P<amount>.+)$"
)
EXAMPLES = '"8000 IU per capsule", "2000 IU/g", "1 drop = 400 IU", "5 % w/w" or "50 mg/ml"'


class StrengthError(KeeperError):
    """A strength that cannot be read for certain; the message asks for what is missing."""


@dataclass(frozen=True, slots=True)
class Product:
    """What one unit of a product (g, ml, drop, capsule, tablet) holds, by nutrient in its own unit."""

    form: Form
    holds: Mapping[str, float]

    @property
    def unit(self) -> str:
        """The unit it is handled in."""
        return UNIT_OF[self.form]


def read_product(text: str, substances: Sequence[Substance]) -> Product:
    """Read a printed strength for an agent that holds ``substances``; several contents are split by ``;``.

    Raises ``StrengthError`` where the amount, its unit, its substance or the "per what" is not certain.

    >>> vitamin_a = [SUBSTANCES["vitamin_A"]]
    >>> read_product("8,000 IU per capsule", vitamin_a)
    Product(form='capsule', holds={'vitamin_A': 8000.0})
    >>> read_product("1 drop = 400 IU", [SUBSTANCES["vitamin_D3"]]).holds
    {'vitamin_D3': 400.0}
    >>> read_product("5 % w/w", [SUBSTANCES["calcium"]]).holds      # 50 mg in a gram
    {'calcium': 50.0}
    """
    plain = " ".join(text.casefold().replace("µ", "u").replace("μ", "u").split())
    if plain in ("", "unknown"):
        raise StrengthError(
            f"The strength of the product is not known. What is printed on it, as {EXAMPLES}?"
        )
    parts = [_read_part(part, text, substances) for part in plain.split(";") if part.strip()]
    forms = {form for form, _, _ in parts}
    if len(forms) != 1:
        raise StrengthError(
            f"{text!r} is not told per one and the same thing. Write all contents per g, ml or piece."
        )
    holds: dict[str, float] = {}
    for _, nutrient, amount in parts:
        if nutrient in holds:
            raise StrengthError(
                f"{text!r} states {SUBSTANCES[nutrient].name} twice. Which of the two is printed?"
            )
        holds[nutrient] = amount
    return Product(forms.pop(), _all_told(holds, substances, text))


def read_number(text: str) -> float | None:
    """A number as printed; None where its comma or point could mean thousands or a fraction.

    >>> read_number("8,000"), read_number("2,5"), read_number("10.000"), read_number("0.025")
    (8000.0, 2.5, None, 0.025)
    """
    tidy = text.strip().rstrip(".,").replace(" ", "")
    if re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d+)?", tidy):
        return None if tidy.startswith("0") else float(tidy.replace(",", ""))
    if re.fullmatch(r"[1-9]\d{0,2}(\.\d{3})+", tidy):
        return None
    if re.fullmatch(r"\d+([.,]\d+)?", tidy):
        return float(tidy.replace(",", "."))
    return None


def _read_part(part: str, text: str, substances: Sequence[Substance]) -> tuple[Form, str, float]:
    turned = _EQUALS.match(part)
    if turned is not None and turned["form"] in _FORMS:
        count, part = turned["count"], turned["amount"]
        part = f"{part} per {count or 1} {turned['form']}"
    found = _AMOUNT.search(part)
    if found is None:
        raise StrengthError(f"{text!r} holds no amount with a unit. Write it as printed, as {EXAMPLES}.")
    substance = _substance(part, text, substances)
    form, count = _per(found, text)
    return (
        form,
        substance.nutrient,
        _in_own_unit(_certain(found["number"], text), found["unit"], substance, text) / count,
    )


def _certain(number: str, text: str) -> float:
    value = read_number(number)
    if value is None:
        raise StrengthError(
            f"{number!r} in {text!r} can be read in two ways. Write thousands without a mark, as 10000, and "
            "fractions with one point, as 2.5."
        )
    return value


def _per(found: re.Match[str], text: str) -> tuple[Form, float]:
    rest = found["rest"].strip()
    if found["unit"] == "%":
        return ("liquid" if "w/v" in rest or "v/v" in rest else "powder"), 1.0
    per = _PER.search(rest)
    if per is None or per["form"] not in _FORMS:
        raise StrengthError(
            f"{text!r} does not say per what: per gram, ml, drop, capsule or tablet? Of a scoop, spoon or "
            "dose, weigh or measure one first."
        )
    form, size = _FORMS[per["form"]]
    count = _certain(per["count"], text) if per["count"] else 1.0
    if count <= 0:
        raise StrengthError(f"{text!r} is told per nothing. Write the strength as {EXAMPLES}.")
    return form, size * count


def _in_own_unit(number: float, unit: str, substance: Substance, text: str) -> float:
    if unit == "%":
        return units_from_ug(substance.nutrient, number / 100.0 * 1e6)
    if unit in _UG:
        return units_from_ug(substance.nutrient, number * _UG[unit])
    if not substance.in_iu:
        raise StrengthError(f"{text!r} counts {substance.name} in IU, which has no such unit. Is it mg?")
    return number


def _substance(part: str, text: str, substances: Sequence[Substance]) -> Substance:
    if re.search(r"caroten", part):
        raise StrengthError(
            f"{text!r} speaks of carotene, which is not counted as retinol. How much of it is retinol "
            "(vitamin A palmitate or acetate)?"
        )
    named = [one for one in SUBSTANCES.values() if any(_says(part, word) for word in one.words)]
    if len(named) == 1:
        return named[0]
    if not named and len(substances) == 1:
        return substances[0]
    names = " or ".join(one.name for one in named or substances) or "what"
    raise StrengthError(
        f"{text!r}: of what is this the amount, {names}? Write one content after another with ';'."
    )


def _says(part: str, word: str) -> bool:
    return re.search(rf"(?<![a-z0-9]){re.escape(word)}(?![a-z0-9])", part) is not None


def _all_told(holds: dict[str, float], substances: Sequence[Substance], text: str) -> dict[str, float]:
    """Every substance with a narrow margin must be told, be it as 0."""
    missing = [
        s.name for s in substances if s.nutrient in ("vitamin_A", "vitamin_D3") and s.nutrient not in holds
    ]
    if missing:
        raise StrengthError(
            f"{text!r} does not tell {' and '.join(missing)}, which this agent may hold. Write it too, "
            "0 IU if there is none."
        )
    if not any(amount > 0 for amount in holds.values()):
        raise StrengthError(f"{text!r} holds nothing. What is printed on the product?")
    return holds
