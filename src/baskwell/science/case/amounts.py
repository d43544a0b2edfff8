"""Read how much was fed, and what a label guarantees: the two fields with small tables of their own."""

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

_MOST = {"pct": ("%", 100.0), "iu_per_kg": ("IU/kg", 1e9), "mg_per_kg": ("mg/kg", 1e6)}


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
    known = spot.sheet.words.guarantees()
    found: dict[str, float] = {}
    for key, value in raw.items():
        here = spot.at(key)
        if key not in known:
            here.refuse(_no_guarantee(key, known), value)
        elif not is_unknown(value):
            _keep(here, found, _guarantee(here, known[key], value))
    _refuse_crossed(spot, found)
    return found


def _guarantee(here: Spot, key: str, value: Any) -> dict[str, float]:
    """Read one guarantee; where a minimum itself is a range, the weaker promise is kept."""
    ending = next(ending for ending in _MOST if key.endswith(f"_{ending}"))
    unit, most = _MOST[ending]
    span = _number_or_note(here, Spec("number", unit, 0, most), value)
    if span is None:
        return {}
    if span.low is not None and span.low == span.high:
        return {key: span.low}
    stem = key.removesuffix(f"_{ending}")
    one_side = stem.endswith(("_min", "_max"))
    stem = stem[:-4] if one_side else stem
    sides = {f"{stem}_min_{ending}": span.low, f"{stem}_max_{ending}": span.high}
    return {name: end for name, end in sides.items() if end is not None and (not one_side or name == key)}


def _keep(here: Spot, found: dict[str, float], more: Mapping[str, float]) -> None:
    for name in found.keys() & more.keys():
        here.refuse(f"{name} is stated twice, here and above. Keep one of the two.")
    found.update(more)


def _refuse_crossed(spot: Spot, found: Mapping[str, float]) -> None:
    for name, low in found.items():
        high = found.get(name.replace("_min_", "_max_"), low)
        if high < low:
            spot.at(name).refuse(
                f"the minimum of {low:g} lies above the maximum of {high:g}. Check both.", low
            )


def _number_or_note(here: Spot, spec: Spec, value: Any) -> Span | None:
    try:
        return read_number(here, spec, value)
    except Refused as refused:
        here.refuse(str(refused), value)
        return None


def _no_guarantee(key: str, known: Mapping[str, str]) -> str:
    close = nearest(key, {tidy_spelling(name): name for name in known}, 1)
    meant = f" Did you mean {known[close[0].replace(' ', '_')]}?" if close else ""
    return (
        f"{shown_key(key)} is no guarantee known here.{meant} Names are made of nutrient, min or max, and "
        "unit: crude_protein_min_pct, vitamin_a_min_iu_per_kg. Write others into notes."
    )
