"""Read "395 g", "12 in" or "over 20 C" that somebody wrote where a bare number belongs.

The result is only ever shown as help in a sentence; nothing is converted behind the writer's back.
Factors are exact by definition (pound 453.592 37 g, inch 25.4 mm: NIST Special Publication 811,
appendix B); a month is a twelfth of 365.25 days.
"""

import re
from collections.abc import Mapping

_FACTORS: Mapping[str, tuple[str, float]] = {
    **dict.fromkeys(("g", "gm", "gram", "grams"), ("mass", 1.0)),
    **dict.fromkeys(("kg", "kilo", "kilos", "kilogram", "kilograms"), ("mass", 1000.0)),
    "mg": ("mass", 0.001),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), ("mass", 453.59237)),
    **dict.fromkeys(("oz", "ounce", "ounces"), ("mass", 453.59237 / 16)),
    "mm": ("length", 1.0),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeters"), ("length", 10.0)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), ("length", 1000.0)),
    **dict.fromkeys(("in", "inch", "inches", '"', "''", "″"), ("length", 25.4)),
    **dict.fromkeys(("ft", "foot", "feet", "'", "′"), ("length", 304.8)),
    **dict.fromkeys(("m2", "m²", "sqm"), ("area", 1.0)),
    **dict.fromkeys(("cm2", "cm²"), ("area", 1e-4)),
    **dict.fromkeys(("ft2", "ft²", "sqft"), ("area", 0.09290304)),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), ("time", 1 / 24)),
    **dict.fromkeys(("min", "minute", "minutes"), ("time", 1 / 1440)),
    **dict.fromkeys(("d", "day", "days"), ("time", 1.0)),
    **dict.fromkeys(("wk", "week", "weeks"), ("time", 7.0)),
    **dict.fromkeys(("mo", "month", "months"), ("time", 365.25 / 12)),
    **dict.fromkeys(("y", "yr", "yrs", "year", "years"), ("time", 365.25)),
    **dict.fromkeys(("c", "°c", "degc", "deg c", "celsius", "°"), ("temperature", 1.0)),
    **dict.fromkeys(("f", "°f", "degf", "deg f", "fahrenheit"), ("temperature", 0.0)),
    **dict.fromkeys(("%", "percent", "pct"), ("share", 0.01)),
    "share": ("share", 1.0),
    **dict.fromkeys(("w", "watt", "watts"), ("power", 1.0)),
    **dict.fromkeys(("iu", "i.u."), ("units of activity", 1.0)),
    **dict.fromkeys(("x", "times"), ("times", 1.0)),
}
# The units of the model's fields, and how people would write them.
_FIELD_UNITS: Mapping[str, str] = {
    "g": "g", "mm": "mm", "cm": "cm", "m2": "m2", "degC": "c", "%": "%", "W": "w", "IU": "iu", "times": "x",
    "years": "years", "months": "months", "weeks": "weeks", "days": "days", "hours a day": "hours",
}  # fmt: skip
_KEY_ENDINGS: Mapping[str, str] = {
    "_g": "g", "_mm": "mm", "_cm": "cm", "_m2": "m2", "_c": "degC", "_pct": "%", "_iu": "IU", "watts": "W",
    "_days": "days", "days_before": "days", "weeks_before": "weeks", "months_before": "months",
    "_months": "months", "_years": "years", "years": "years", "weeks": "weeks",
    "hours_per_day": "hours a day", "grams": "g",
}  # fmt: skip
_NUMBER = r"[-+]?\d+(?:[.,]\d+)?"
_PART = re.compile(rf"\s*({_NUMBER})\s*([^\d\s,;+-][^\d,;+-]*|)\s*")
_RANGE = re.compile(rf"^\s*({_NUMBER})\s*(?:-|–|to)\s*({_NUMBER})\s*([^\d]*)$")
_OPEN_BELOW = re.compile(r"^\s*(?:over|above|more than|at least|>=?|≥)\s*", re.IGNORECASE)
_OPEN_ABOVE = re.compile(r"^\s*(?:under|below|less than|at most|up to|<=?|≤)\s*", re.IGNORECASE)
_ABOUT = re.compile(r"^\s*(?:about|around|approx\.?|ca\.?|circa|~|≈)\s*", re.IGNORECASE)


def unit_of_key(key: str) -> str | None:
    """Return the unit that the name of a key promises, or None.

    >>> unit_of_key("mass_g"), unit_of_key("night_c"), unit_of_key("name")
    ('g', 'degC', None)
    """
    fitting = [ending for ending in _KEY_ENDINGS if key.endswith(ending)]
    return _KEY_ENDINGS[max(fitting, key=len)] if fitting else None


def in_unit(words: str, unit: str) -> str | None:
    """Write what somebody stated in words as TOML in the field's unit; None where that cannot be told.

    >>> in_unit("0.395 kg", "g"), in_unit("68 F", "degC"), in_unit("over 12 in", "cm")
    ('395', '20', '[30.5, "unknown"]')
    """
    for opening, form in ((_OPEN_BELOW, '[{}, "unknown"]'), (_OPEN_ABOVE, '["unknown", {}]'), (_ABOUT, "{}")):
        stripped = opening.sub("", words, count=1)
        if stripped != words:
            found = _added_up(stripped, unit)
            return None if found is None else form.format(tidy(found))
    both = _RANGE.match(words)
    if both is not None:
        ends = [_converted(_number(both[place]), both[3], unit) for place in (1, 2)]
        return None if None in ends else f"[{tidy(ends[0] or 0.0)}, {tidy(ends[1] or 0.0)}]"
    found = _added_up(words, unit)
    return None if found is None else tidy(found)


def as_field_unit(value: float, written: str, unit: str) -> float | None:
    """Convert a value in the unit ``written`` ("kg") to a field's unit ("g"); None if of another kind.

    >>> as_field_unit(1.0, "ft", "cm"), as_field_unit(1.0, "kg", "cm")
    (30.48, None)
    """
    return _converted(value, written, unit)


def kind_of(words: str) -> str | None:
    """Name what the unit in ``words`` measures ("length"); None where there is no known unit."""
    parts = _PART.findall(words)
    known = [_FACTORS[unit] for _, raw in parts if (unit := _tidy_unit(raw)) in _FACTORS]
    return known[0][0] if known else None


def tidy(value: float) -> str:
    """Write a number as people would: whole, or with three to four significant digits.

    >>> tidy(395.0), tidy(30.48), tidy(0.0)
    ('395', '30.5', '0')
    """
    digits = 3 if abs(value) < 1000 else 4
    rounded = float(f"{value:.{digits}g}") if value % 1 else value
    return str(int(rounded)) if rounded == int(rounded) else str(rounded)


def _added_up(words: str, unit: str) -> float | None:
    """Add up "1 lb 4 oz"; None unless every part has a unit of the right kind (or none at all)."""
    parts = list(_PART.finditer(words))
    if not parts or "".join(part.group() for part in parts) != words:
        return None
    values = [_converted(_number(part[1]), part[2], unit) for part in parts]
    if None in values or (len(values) > 1 and not all(part[2] for part in parts)):
        return None
    return sum(value for value in values if value is not None)


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def _tidy_unit(raw: str) -> str:
    return raw.strip().rstrip(".").casefold()


def _converted(value: float, raw_unit: str, unit: str) -> float | None:
    written = _tidy_unit(raw_unit)
    field_unit = _FIELD_UNITS.get(unit, unit)
    if written in {"", unit.casefold(), field_unit}:
        return value
    if written not in _FACTORS or field_unit not in _FACTORS:
        return None
    (kind, factor), (wanted, field_factor) = _FACTORS[written], _FACTORS[field_unit]
    if kind != wanted:
        return None
    if kind == "temperature":
        return value if factor else (value - 32) / 1.8
    return value * factor / field_factor
