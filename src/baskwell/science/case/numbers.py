"""Read numbers, ranges and counts, with help for every way in which people write them otherwise."""

import math
from typing import Any, TypeGuard

from baskwell.science.case.fields import Spec
from baskwell.science.case.problem import Refused, shown
from baskwell.science.case.sheet import Spot
from baskwell.science.case.span import Span
from baskwell.science.case.units import as_field_unit, in_unit, kind_of, tidy

_NEGATIVE_ALLOWED = {"degC", "days"}


def is_unknown(raw: Any) -> bool:
    """Tell whether a value says that it is not known ("unknown", or nothing between the quotes)."""
    return isinstance(raw, str) and raw.strip().casefold() in {"unknown", ""}


def is_number(raw: Any) -> TypeGuard[int | float]:
    """Tell whether a value is a number; true and false are not."""
    return isinstance(raw, int | float) and not isinstance(raw, bool)


def read_number(spot: Spot, spec: Spec, raw: Any) -> Span | None:
    """Read a number or a range ``[low, high]`` as a ``Span``; None where both ends are unknown."""
    if isinstance(raw, list):
        return _read_range(spot, spec, raw)
    return Span.exactly(_one_number(spot, spec, raw))


def read_integer(spot: Spot, spec: Spec, raw: Any) -> int | None:
    """Read a whole number; of a range the low end is kept ("at least") and a warning says so."""
    span = read_number(spot, spec, raw)
    if span is None:
        return None
    value = span.low if span.low is not None else span.high
    if value is None or value != int(value):
        raise Refused(f"{shown(raw)} is no whole number. Write one from {_bounds(spec)}.")
    if span.low != span.high:
        spot.warn(f"a whole number is kept here: {shown(raw)} is read as {int(value)}.", raw)
    return int(value)


def read_flag_or_count(spot: Spot, spec: Spec, raw: Any) -> bool | int | None:
    """Read true, false or a number of animals."""
    if isinstance(raw, bool):
        return raw
    if isinstance(raw, str):
        raise Refused(f"{shown(raw)} is text. Write true, false or a number, without quotes.")
    return read_integer(spot, spec, raw)


def read_pair(spot: Spot, spec: Spec, raw: Any) -> tuple[Span, Span] | None:
    """Read two sides ``[length, width]``, each a number or a range; None where one is unknown."""
    if not isinstance(raw, list) or len(raw) != 2:
        raise Refused(
            f"{shown(raw)} is no pair. Write length and width in {spec.unit}: {spot.key} = [90, 45]."
        )
    sides = [None if is_unknown(side) else read_number(spot, spec, side) for side in raw]
    if sides[0] is None or sides[1] is None:
        spot.warn("one side alone gives no area, so it is left out. Measure the other side.", raw)
        return None
    return sides[0], sides[1]


def _read_range(spot: Spot, spec: Spec, raw: list[Any]) -> Span | None:
    if len(raw) != 2:
        raise Refused(
            f'{shown(raw)} is no range. A range has two ends: [low, high], an open end is "unknown".'
        )
    low, high = (None if is_unknown(end) else _one_number(spot, spec, end) for end in raw)
    if low is None and high is None:
        return None
    if low is not None and high is not None and low > high:
        raise Refused(
            f"{shown(raw)} begins above its end. Write the low end first: [{tidy(high)}, {tidy(low)}]."
        )
    return Span(low, high)


def _one_number(spot: Spot, spec: Spec, raw: Any) -> float:
    if isinstance(raw, str):
        raise Refused(_number_in_words(spot, spec, raw))
    if not is_number(raw):
        raise Refused(f"{shown(raw)} is no number. Write {_wanted(spec)}.")
    if abs(raw) > 1e15 or not math.isfinite(raw):
        raise Refused(f'{shown(raw)} is no number that can be measured. Write {_wanted(spec)}, or "unknown".')
    if not _low(spec) <= raw <= _high(spec):
        raise Refused(f"{shown(raw)} lies outside {_bounds(spec)}. {_way_out(spot, spec, float(raw))}")
    return float(raw) + 0.0


def _number_in_words(spot: Spot, spec: Spec, raw: str) -> str:
    words = raw[:60]
    converted = in_unit(words, spec.unit)
    if converted is not None:
        in_unit_words = f", in{_in(spec)}" if spec.unit else ""
        return f"{shown(raw)} is text. Write the number alone{in_unit_words}: {spot.key} = {converted}."
    kind = kind_of(words)
    if kind is not None and spec.unit:
        return f"{shown(raw)} is a {kind}, and {spot.key} is stated in {spec.unit}. Write {_wanted(spec)}."
    return f'{shown(raw)} is no number. Write {_wanted(spec)}, or "unknown".'


def _way_out(spot: Spot, spec: Spec, value: float) -> str:
    """Say what to do about a number out of bounds; a likely slip of the unit is computed."""
    if value < 0 <= _low(spec) and spec.unit not in _NEGATIVE_ALLOWED:
        return "It cannot be below nothing. Check the sign."
    for written, said in _LIKELY_SLIPS.get(spec.unit, ()):
        meant = as_field_unit(value, written, spec.unit)
        if meant is not None and _low(spec) <= meant <= _high(spec):
            return f"If {tidy(value)} {said} was meant, write {spot.key} = {tidy(meant)}."
    if spec.unit == "g" and value > _high(spec):
        grams = tidy(value / 1000)
        return f"{grams} kg? Grams are wanted: write {spot.key} = {grams} if it has {grams} g."
    if spec.unit == "share" or (spec.high == 1 and spec.unit == ""):
        return f"A share of the whole is wanted: {tidy(value)} % is {tidy(value / 100)}."
    return f"Write {_wanted(spec)}."


_LIKELY_SLIPS = {
    "degC": (("f", "°F"),),
    "g": (("kg", "kg"),),
    "mm": (("cm", "cm"), ("in", "in")),
    "cm": (("m", "m"),),
    "m2": (("cm2", "cm2"),),
    "weeks": (("days", "days"),),
    "months": (("days", "days"),),
    "years": (("months", "months"), ("days", "days")),
    "hours a day": (("min", "minutes"),),
}


def _low(spec: Spec) -> float:
    return -math.inf if spec.low is None else spec.low


def _high(spec: Spec) -> float:
    return math.inf if spec.high is None else spec.high


def _bounds(spec: Spec) -> str:
    return f"{tidy(spec.low or 0.0)} to {tidy(spec.high or 0.0)}{_in(spec)}"


def _in(spec: Spec) -> str:
    return f" {spec.unit.replace('degC', '°C')}" if spec.unit else ""


def _wanted(spec: Spec) -> str:
    if spec.kind in {"integer", "flag_or_count"}:
        return f"a whole number from {_bounds(spec)}"
    return f"a number or a range [low, high] within {_bounds(spec)}"
