"""Read a printed strength such as "2000 IU/g" or "400 IU per tablet"."""

import re
from dataclasses import dataclass
from typing import Literal

Per = Literal["g", "dose"]

_NUMBER = r"(\d[\d,. ]*)"
_STRENGTH = re.compile(
    rf"^\s*{_NUMBER}\s*(iu|i\.u\.|ie|ug|µg|μg|mcg|mg|g|%)\s*(?:(?:/|per\b|an?\b)\s*)?(\d+\s*)?([a-z]*)",
    re.IGNORECASE,
)
_TO_UG = {"ug": 1.0, "µg": 1.0, "μg": 1.0, "mcg": 1.0, "mg": 1e3, "g": 1e6}
_GRAMS = {"g": 1.0, "gram": 1.0, "grams": 1.0, "kg": 1000.0, "mg": 0.001, "ml": 1.0}
_DOSES = {
    "capsule",
    "capsules",
    "tablet",
    "tablets",
    "pill",
    "drop",
    "drops",
    "dose",
    "scoop",
    "each",
    "softgel",
}
_DECIMAL_COMMA = re.compile(r",(?=\d{1,2}$)")


@dataclass(frozen=True)
class Strength:
    """An amount per gram of product or per dose; ``unit`` is ``IU`` or ``ug``."""

    amount: float
    unit: Literal["IU", "ug"]
    per: Per


def read_strength(text: str) -> Strength | None:
    """Read the strength printed on a supplement; None where it is not written as amount and unit.

    A millilitre is taken as a gram (oil is a tenth lighter; small against the rest).

    >>> read_strength("2000 IU/g")
    Strength(amount=2000.0, unit='IU', per='g')
    >>> read_strength("8,000 IU per capsule")
    Strength(amount=8000.0, unit='IU', per='dose')
    >>> read_strength("40 %")
    Strength(amount=400000.0, unit='ug', per='g')
    >>> read_strength("strong") is None
    True
    """
    found = _STRENGTH.match(text)
    if found is None:
        return None
    number, unit, count, per = found.groups()
    amount, unit = _plain(number), unit.lower()
    if amount is None:
        return None
    if unit == "%":
        return Strength(amount * 1e4, "ug", "g")
    in_unit: Literal["IU", "ug"] = "IU" if unit.startswith("i") else "ug"
    return _per(amount * _TO_UG.get(unit, 1.0), in_unit, float(count or 1), per.lower())


def _plain(number: str) -> float | None:
    tidy = _DECIMAL_COMMA.sub(".", number.strip().replace(" ", "")).replace(",", "")
    try:
        return float(tidy)
    except ValueError:
        return None


def _per(amount: float, unit: Literal["IU", "ug"], count: float, word: str) -> Strength | None:
    if count <= 0:
        return None
    if word in _GRAMS:
        return Strength(amount / count / _GRAMS[word], unit, "g")
    if word in _DOSES:
        return Strength(amount / count, unit, "dose")
    return None
