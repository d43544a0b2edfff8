"""A review as JSON: the frozen dataclasses key by key, without draws, without NaN, floats rounded."""

import json
import math
from collections.abc import Mapping
from dataclasses import Field, fields, is_dataclass
from typing import Any

from baskwell.science.review import Review

FORMAT = 1
"""Raised when a key is renamed, removed or changes its meaning; new keys do not raise it."""
DIGITS = 6


def review_as_json(review: Review) -> str:
    """Render a review as one JSON object, two spaces of indent, keys as in docs/review-json.md."""
    return as_json_text(review)


def as_json_text(result: Any) -> str:
    """Render any frozen result (a review, a label reading) as one JSON object with its format number."""
    told = {"format": FORMAT, **plain(result)}
    return json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def plain(value: Any) -> Any:
    """Turn frozen results into what JSON can hold.

    Dataclasses become objects, tuples lists, numpy numbers plain ones; floats are rounded to six
    significant digits, NaN and infinity become null. Fields that take no part in comparison (draws)
    are left out. Raises TypeError for anything else.

    >>> from baskwell.science.draws import Summary
    >>> plain((Summary(0.123456789, float("nan"), 2.0), True, None))
    [{'median': 0.123457, 'low': None, 'high': 2.0}, True, None]
    """
    if value is None or isinstance(value, bool | str | int):
        return value
    if is_dataclass(value):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value) if _exported(field)}
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [plain(item) for item in value]
    return _number(value)


def _exported(field: Field[Any]) -> bool:
    return field.compare


def _number(value: Any) -> float | int | bool | None:
    value = value.item() if hasattr(value, "item") else value
    if isinstance(value, bool | int):
        return value
    if not isinstance(value, float):
        raise TypeError(f"A {type(value).__name__} has no place in a review's JSON: {value!r}.")
    return float(f"{value:.{DIGITS}g}") if math.isfinite(value) else None
