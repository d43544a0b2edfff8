"""Say what to do about a key that no table knows: another unit, another table, or a slip."""

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from baskwell.science.case import model
from baskwell.science.case.fields import Spec, declared_fields
from baskwell.science.case.numbers import is_number
from baskwell.science.case.problem import shown_key
from baskwell.science.case.units import as_field_unit, tidy
from baskwell.science.case.vocabulary import in_words, nearest, tidy_spelling

_ENDING = re.compile(
    r"^(.+?)_?(kg|lbs?|oz|g|mg|inch(?:es)?|in|feet|ft|cm|mm|m2|m|f|c|days|weeks|months|years|hours)$"
)


def explain_unknown_key(key: str, kind: type, value: Any) -> str:
    """Explain a key that a table of class ``kind`` does not have.

    >>> explain_unknown_key("mass_kg", model.Animal, 0.395)
    'mass_kg is not known here. Did you mean mass_g? Write mass_g = 395.'
    >>> explain_unknown_key("diet", model.Exam, [])
    'diet is not known here. It belongs in [history].'
    """
    known = {one.key: one.spec for one in declared_fields(kind)}
    help_ = (
        _other_unit(key, known, value) or _other_name(key, known) or _other_table(key) or _slip(key, known)
    )
    return f"{shown_key(key)} is not known here. {help_}"


# Names that people use for a thing, and the key under which it stands.
_OTHER_NAMES = {
    "species": "taxon", "kind": "taxon", "animal": "taxon", "weight": "mass_g", "weight_g": "mass_g",
    "age": "age_years", "gender": "sex", "length": "straight_carapace_length_mm", "eggs": "reproductive",
    "lamps": "lights", "lamp": "kind", "uvi": "uv_index_measured", "distance": "distance_cm", "foods": "diet",
    "temperature": "warm_side_c", "humidity": "relative_humidity_pct", "enclosure": "container",
    "floor": "floor_cm", "hibernation": "winter_rest", "brumation": "winter_rest", "drug": "agent",
    "supplement": "agent", "condition": "body_condition", "score": "severity", "grade": "severity",
    "bedding": "substrate", "vet": "by",
}  # fmt: skip


def _other_name(key: str, known: Mapping[str, Spec]) -> str | None:
    meant = _OTHER_NAMES.get(key.casefold())
    return f"Did you mean {meant}?" if meant in known else None


def _other_unit(key: str, known: Mapping[str, Spec], value: Any) -> str | None:
    """Find the field that holds the same thing in its own unit, and convert the value."""
    ending = _ENDING.match(key)
    if ending is None:
        return None
    for name, spec in known.items():
        own = _ENDING.match(name)
        if own is None or own[1] != ending[1] or not spec.unit:
            continue
        converted = as_field_unit(float(value), ending[2], spec.unit) if _is_plain(value) else None
        written = f" Write {name} = {tidy(converted)}." if converted is not None else ""
        return f"Did you mean {name}?{written}"
    return None


def _is_plain(value: Any) -> bool:
    return is_number(value) and abs(value) < 1e9


def _other_table(key: str) -> str | None:
    places = _places().get(key, ())
    if "" in places:
        return f"It stands at the left margin as a heading of its own: [{key}]."
    if not places or len(places) > 3:
        return None
    return f"It belongs in {in_words([f'[{place}]' for place in places])}."


def _slip(key: str, known: Mapping[str, Spec]) -> str:
    spellings = {tidy_spelling(name): name for name in known}
    close = nearest(key, spellings, 2)
    if close:
        return f"Did you mean {in_words([spellings[one] for one in close])}?"
    anywhere = {tidy_spelling(name): name for name in _places()}
    further = nearest(key, anywhere, 1)
    if further and len(_places()[anywhere[further[0]]]) <= 3:
        name = anywhere[further[0]]
        return f"Did you mean {name}? {_other_table(name)}"
    return f"What may stand: {', '.join(known)}."


@cache
def _places() -> Mapping[str, tuple[str, ...]]:
    """Map each key of the format to the headings under which it may stand."""
    found: dict[str, list[str]] = {}
    _collect(model.Case, "", found)
    return {key: tuple(dict.fromkeys(places)) for key, places in found.items()}


def _collect(kind: type, heading: str, found: dict[str, list[str]]) -> None:
    for one in declared_fields(kind):
        if one.key != "notes":
            found.setdefault(one.key, []).append(heading)
        if one.spec.of:
            inner = f"{heading}.{one.key}" if heading else one.key
            inner = f"{inner}.name" if one.spec.kind == "named_tables" else inner
            _collect(getattr(model, one.spec.of), inner, found)
