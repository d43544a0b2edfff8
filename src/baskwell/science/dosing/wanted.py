"""Read what somebody means to give: an amount, a count of pieces, or a volume or weight of product."""

import re
from dataclasses import dataclass

from baskwell.science.dosing.product import UNIT_OF, Form, StrengthError, read_number

_PIECES: dict[str, Form] = {
    **dict.fromkeys(("drop", "drops"), "drop"),
    **dict.fromkeys(("capsule", "capsules", "softgel", "softgels"), "capsule"),
    **dict.fromkeys(("tablet", "tablets", "pill", "pills"), "tablet"),
    "ml": "liquid",
    "g": "powder",
}
_WORDS = {"a": 1.0, "an": 1.0, "one": 1.0, "whole": 1.0, "half": 0.5, "two": 2.0, "three": 3.0}
_WANTED = re.compile(r"^(?P<number>\d[\d.,]*|[a-z]+)\s*(?:(?:a|an|whole|of|the)\s+)*(?P<unit>[a-zµμ.]+)?$")


@dataclass(frozen=True, slots=True)
class WantedDose:
    """One dose as it is meant: ``amount`` in ``unit`` (IU, ug, mg) or of product (``form``)."""

    amount: float
    unit: str
    form: Form | None


def read_wanted(text: str) -> WantedDose:
    """Read "500 IU", "1 capsule", "half a tablet" or "0.2 ml". Raises ``StrengthError`` with what to write.

    >>> read_wanted("one whole capsule")
    WantedDose(amount=1.0, unit='capsule', form='capsule')
    >>> read_wanted("500 IU").unit
    'IU'
    """
    plain = " ".join(text.casefold().replace("µ", "u").replace("μ", "u").split())
    found = _WANTED.match(plain)
    number = _number(found["number"]) if found is not None else None
    unit = (found["unit"] or "") if found is not None else ""
    if number is None or number <= 0 or not unit:
        raise StrengthError(_ask(text))
    if unit in _PIECES:
        return WantedDose(number, UNIT_OF[_PIECES[unit]], _PIECES[unit])
    if unit in ("iu", "i.u."):
        return WantedDose(number, "IU", None)
    if unit in ("mg", "ug", "mcg"):
        return WantedDose(number, "mg" if unit == "mg" else "ug", None)
    raise StrengthError(_ask(text))


def _number(word: str) -> float | None:
    return _WORDS.get(word) if word[0].isalpha() else read_number(word)


def _ask(text: str) -> str:
    return (
        f"{text!r} is no dose that can be measured. Write it as 500 IU, 2 mg, 3 drops, 1 capsule, 0.2 ml or "
        "0.1 g; a pinch or a scoop has to be weighed first."
    )
