"""Read a case file: one walk over the declared fields, every problem told at once."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from baskwell.evidence import Evidence
from baskwell.science.case import model
from baskwell.science.case.conflicts import find_conflicts
from baskwell.science.case.fields import Declared, Spec, declared_fields
from baskwell.science.case.keys import explain_unknown_key
from baskwell.science.case.model import Case
from baskwell.science.case.numbers import is_unknown
from baskwell.science.case.problem import CaseReading, Refused, shown, shown_key
from baskwell.science.case.sheet import Sheet, Spot
from baskwell.science.case.source import LARGEST_BYTES, load_source
from baskwell.science.case.values import READERS
from baskwell.science.case.vocabulary import Vocabulary

FORMAT = 1
_LONGEST_NAME = 64
# What a reader returns where nothing is stated: the default of the field stands then.
_NOTHING: tuple[Any, ...] = (None, "", (), {})


def parse_case(text: str | bytes, evidence: Evidence, *, today: dt.date) -> Case:
    """Read one case file.

    ``text`` is the content of the file (TOML, at most 1 MB), ``today`` the day after which no date
    may lie. What is not stated stays None, ``()`` or ``""``.

    Raises ``CaseFileError`` with every problem found, each with its line and what to do.

    >>> from baskwell.evidence import load_evidence
    >>> day = dt.date(2026, 3, 20)
    >>> parse_case('animal.taxon = "ball python"', load_evidence(), today=day).animal.taxon
    'python_regius'
    """
    return read_case(text, evidence, today=today).case


def read_case(
    text: str | bytes, evidence: Evidence, *, today: dt.date, largest_bytes: int = LARGEST_BYTES
) -> CaseReading:
    """Read one case file with the warnings about what looks doubtful in it; see ``parse_case``.

    >>> from baskwell.evidence import load_evidence
    >>> text = 'animal = { taxon = "python_regius", sex = "male", reproductive = "gravid" }'
    >>> read_case(text, load_evidence(), today=dt.date(2026, 3, 20)).warnings[0].path
    'animal.reproductive'
    """
    source = load_source(text, largest_bytes)
    labels = source.values.get("label")
    words = Vocabulary(evidence, labels if isinstance(labels, dict) else ())
    sheet = Sheet(source.lines, words, today)
    case = _read_whole(Spot(sheet), source.values)
    sheet.end()
    for path, sentence, certain in find_conflicts(case, evidence):
        (sheet.refuse if certain else sheet.warn)(path, sentence)
    sheet.end()
    return CaseReading(case, tuple(sheet.warnings))


def _read_whole(spot: Spot, values: Mapping[str, Any]) -> Case:
    stated = dict(values)
    written = stated.pop("format", FORMAT)
    if isinstance(written, bool) or written != FORMAT:
        spot.at("format").refuse(
            f"format {shown(written)} is not known here, only format {FORMAT}. "
            f"Write format = {FORMAT}, or use a newer version of this tool for a newer file.",
            written,
        )
        spot.sheet.end()
    case: Case = _read_table(spot, Case, stated)
    return case


def _read_table(spot: Spot, kind: type, raw: Any) -> Any:
    """Read one table into its class; None where it is no table."""
    if not isinstance(raw, dict):
        spot.refuse(
            f"{shown(raw)} stands where a table is wanted. Write [{_heading(spot)}] and its lines.", raw
        )
        return None
    fields = _fields_of(kind)
    for key, value in raw.items():
        if key not in fields:
            spot.at(key).refuse(explain_unknown_key(key, kind, value), value)
    stated = {
        one.name: read
        for key, one in fields.items()
        if key in raw and (read := _read_value(spot.at(key), one.spec, raw[key])) not in _NOTHING
    }
    for key, one in fields.items():
        if one.spec.required and key not in raw:
            spot.refuse(_missing(spot, key))
    return kind(**_with_required(stated, fields.values()))


def _with_required(stated: dict[str, Any], fields: Iterable[Declared]) -> dict[str, Any]:
    """Fill a gap that has been refused already, so that the reading can go on and find the rest."""
    return {one.name: None for one in fields if one.spec.required} | stated


def _read_value(spot: Spot, spec: Spec, raw: Any) -> Any:
    if spec.kind in {"table", "tables", "named_tables"}:
        return _read_nested(spot, spec, raw)
    if is_unknown(raw) and not (spec.required and spot.sheet.words.resolve(raw, spec.vocabulary)):
        return _not_stated(spot, spec, raw)
    try:
        return READERS[spec.kind](spot, spec, raw)
    except Refused as refused:
        spot.refuse(str(refused), raw)
        return None


def _read_nested(spot: Spot, spec: Spec, raw: Any) -> Any:
    kind: type = getattr(model, spec.of)
    if spec.kind == "table":
        return _read_one(spot, kind, raw)
    if is_unknown(raw):
        return None
    if spec.kind == "named_tables":
        return dict(_read_named(spot, kind, raw))
    rows = raw if isinstance(raw, list) else [raw]
    return tuple(
        _read_table(spot.at(place) if isinstance(raw, list) else spot, kind, row)
        for place, row in enumerate(rows)
    )


def _read_one(spot: Spot, kind: type, raw: Any) -> Any:
    if is_unknown(raw):
        raw = {}
    if isinstance(raw, list):
        spot.refuse(f"this table can stand only once. Write [{_heading(spot)}] with single brackets.")
        return None
    return _read_table(spot, kind, raw)


def _read_named(spot: Spot, kind: type, raw: Any) -> Iterator[tuple[str, Any]]:
    if not isinstance(raw, dict):
        spot.refuse(f"{shown(raw)} has no name. Write [{spot.key}.name_of_the_feed] and its lines.", raw)
        return
    for name, table in raw.items():
        plain = name.replace("_", "").replace("-", "")
        if not (plain.isascii() and plain.isalnum()) or len(name) > _LONGEST_NAME:
            spot.at(name).refuse(
                f"{shown_key(name)} is no name. Use letters a to z, digits and _, {_LONGEST_NAME} at most."
            )
        yield name, _read_table(spot.at(name), kind, table)


def _not_stated(spot: Spot, spec: Spec, raw: Any) -> None:
    if spec.required:
        spot.refuse(f"{shown(raw)} cannot stand here. {_instead_of_unknown(spec)}", raw)


def _instead_of_unknown(spec: Spec) -> str:
    if "@taxa" in spec.vocabulary:
        return 'Write the nearest that is known: "testudines", "lacertilia", "serpentes" or "reptilia".'
    if "@lamps" in spec.vocabulary:
        return (
            'Write "uvb_lamp_unspecified" or "heat_lamp" for a lamp of unknown kind, or leave the entry out.'
        )
    return "Leave the whole entry out, or say in notes what is known."


def _missing(spot: Spot, key: str) -> str:
    if not spot.path:
        return f'{key} is missing. The shortest case file is [{key}] and under it taxon = "testudo_graeca".'
    return f'{key} is missing. Add {key} = "..." to this entry; nothing else says what it speaks of.'


def _heading(spot: Spot) -> str:
    return ".".join(shown_key(part) for part in spot.path if isinstance(part, str))


@cache
def _fields_of(kind: type) -> Mapping[str, Declared]:
    return {one.key: one for one in declared_fields(kind)}
