"""Read how much was fed, and what a label guarantees: the two fields with small tables of their own."""

import re
from collections.abc import Mapping
from typing import Any

from baskwell.science.case.fields import Spec
from baskwell.science.case.model import Amount
from baskwell.science.case.numbers import is_number, is_unknown, read_number
from baskwell.science.case.problem import Refused, shown, shown_key
from baskwell.science.case.sheet import Spot
from baskwell.science.case.span import Span
from baskwell.science.case.units import in_unit
from baskwell.science.case.vocabulary import nearest, quoted, tidy_spelling

GRAMS = Spec("number", "g", 0, 100_000)
SHARE = Spec("number", "share", 0, 1)

# What feed labels guarantee, and the unit and highest number that may be printed for it.
GUARANTEES: Mapping[str, Spec] = {
    **{
        f"{nutrient}_pct": Spec("number", "%", 0, 100)
        for nutrient in (
            "crude_protein", "crude_fat", "crude_fibre", "moisture", "ash", "calcium", "phosphorus", "sodium",
            "magnesium", "potassium", "salt", "lysine", "methionine", "linoleic_acid", "omega_3", "omega_6",
        )
    },
    **{
        f"{nutrient}_iu_per_kg": Spec("number", "IU/kg", 0, 1e9)
        for nutrient in ("vitamin_a", "vitamin_d3", "vitamin_e")
    },
    **{
        f"{nutrient}_mg_per_kg": Spec("number", "mg/kg", 0, 1_000_000)
        for nutrient in (
            "vitamin_c", "vitamin_e", "thiamin", "iodine", "selenium", "copper", "iron", "zinc", "manganese",
            "beta_carotene", "taurine", "choline",
        )
    },
}  # fmt: skip
_SIDE = re.compile(r"_(min|max)(?=_(?:pct|iu_per_kg|mg_per_kg)$)")


def read_amount(spot: Spot, spec: Spec, raw: Any) -> Amount | None:
    """Read a word, ``{ grams = 12 }`` or ``{ share = 0.6 }``."""
    if isinstance(raw, str):
        return _amount_in_words(spot, spec, raw)
    if is_number(raw):
        raise Refused(
            f"{shown(raw)} of what? Write {spot.key} = {{ grams = {shown(raw)} }}, or a share of the whole: "
            f"{spot.key} = {{ share = 0.6 }}."
        )
    if not isinstance(raw, dict):
        raise Refused(f"{shown(raw)} is no amount. {_forms(spot, spec)}")
    return _amount_table(spot, spec, raw)


def _amount_in_words(spot: Spot, spec: Spec, raw: str) -> Amount:
    known = {tidy_spelling(word): word for word in spec.vocabulary} | dict(spec.aliases or {})
    found = known.get(tidy_spelling(raw))
    if found is not None:
        return Amount(word=found)
    grams, percent = in_unit(raw[:60], "g"), in_unit(raw[:60], "share")
    if percent is not None and "%" in raw:
        raise Refused(f"{shown(raw)} is text. Write the share: {spot.key} = {{ share = {percent} }}.")
    if grams is not None:
        raise Refused(f"{shown(raw)} is text. Write the grams: {spot.key} = {{ grams = {grams} }}.")
    close = nearest(raw, known, 1)
    meant = f'Did you mean "{close[0]}"? ' if close else ""
    raise Refused(f"{shown(raw)} is no word for an amount. {meant}{_forms(spot, spec)}")


def _forms(spot: Spot, spec: Spec) -> str:
    words = quoted(spec.vocabulary)
    return f"Write {words}, or {{ grams = 12 }}, or {{ share = 0.6 }}."


def _amount_table(spot: Spot, spec: Spec, raw: dict[str, Any]) -> Amount | None:
    wrong = [key for key in raw if key not in {"grams", "share"}]
    if wrong or len(raw) != 1:
        raise Refused(f"{shown(raw)} is no amount: it takes either grams or share. {_forms(spot, spec)}")
    (key, value), here = next(iter(raw.items())), spot.at(next(iter(raw)))
    if is_unknown(value):
        return None
    read = _number_or_note(here, GRAMS if key == "grams" else SHARE, value)
    if read is None:
        return None
    return Amount(grams=read) if key == "grams" else Amount(share=read)


def read_guarantees(spot: Spot, spec: Spec, raw: Any) -> dict[str, float]:
    """Read the guarantees of a label; a range of one nutrient becomes its ``min`` and ``max``."""
    if not isinstance(raw, dict):
        raise Refused(f"{shown(raw)} is no list of guarantees. Write {{ crude_protein_min_pct = 24 }}.")
    found: dict[str, float] = {}
    for key, value in raw.items():
        here, plain = spot.at(key), _SIDE.sub("", key)
        if plain not in GUARANTEES:
            here.refuse(_no_guarantee(key), value)
        elif not is_unknown(value):
            span = _number_or_note(here, GUARANTEES[plain], value)
            found.update(_sides(key, plain, span) if span else {})
    return found


def _number_or_note(here: Spot, spec: Spec, value: Any) -> Span | None:
    try:
        return read_number(here, spec, value)
    except Refused as refused:
        here.refuse(str(refused), value)
        return None


def _sides(key: str, plain: str, span: Span) -> dict[str, float]:
    """Split a range; where a minimum itself is a range, the weaker promise is kept."""
    if span.low is not None and span.low == span.high:
        return {key: span.low}
    side = _SIDE.search(key)
    head, unit = _split_unit(plain)
    sides = {f"{head}_min_{unit}": span.low, f"{head}_max_{unit}": span.high}
    return {name: end for name, end in sides.items() if end is not None and (not side or name == key)}


def _split_unit(plain: str) -> tuple[str, str]:
    unit = next(unit for unit in ("iu_per_kg", "mg_per_kg", "pct") if plain.endswith(f"_{unit}"))
    return plain.removesuffix(f"_{unit}"), unit


def _no_guarantee(key: str) -> str:
    names = [_SIDE.sub("", name) for name in GUARANTEES]
    close = nearest(_SIDE.sub("", key), names, 1)
    side = _SIDE.search(key)
    if close and side:
        head, unit = _split_unit(close[0])
        close = [f"{head}{side.group()}_{unit}"]
    meant = f" Did you mean {close[0]}?" if close else ""
    return (
        f"{shown_key(key)} is no guarantee known here.{meant} Names are made of nutrient, min or max, and "
        "unit: crude_protein_min_pct, vitamin_a_min_iu_per_kg, vitamin_c_min_mg_per_kg."
    )
