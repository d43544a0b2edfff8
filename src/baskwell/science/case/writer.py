"""Write a case as a case file that a person can read and edit by hand."""

import datetime as dt
import json
from collections.abc import Iterator, Mapping
from typing import Any

from baskwell.science.case.fields import declared_fields
from baskwell.science.case.model import Amount, Case
from baskwell.science.case.span import Span


def write_case(case: Case) -> str:
    """Write what a case states, and nothing else, in the order of the format page.

    Reading the text again gives an equal case, and writing that gives the same text. Values are not
    checked here: a case that was read is valid.

    >>> from baskwell.science.case.model import Animal
    >>> print(write_case(Case(Animal(taxon="python_regius", mass_g=Span(1200.0, None)))))
    format = 1
    <BLANKLINE>
    [animal]
    taxon = "python_regius"
    mass_g = [1200, "unknown"]
    <BLANKLINE>
    """
    lines = [f"format = {case.format}", *_table_lines(case, ())]
    return "\n".join(lines) + "\n"


def _table_lines(table: Any, path: tuple[str, ...]) -> Iterator[str]:
    """Write the plain values of a table first, then its nested tables, as TOML demands."""
    nested: list[str] = []
    for field in declared_fields(type(table)):
        value = getattr(table, field.name)
        if field.spec.kind == "table":
            nested += _nested_lines(value, (*path, field.key))
        elif field.spec.kind == "tables":
            nested += _row_lines(value, (*path, field.key), lone=field.spec.lone)
        elif field.spec.kind == "named_tables":
            nested += _named_lines(value, (*path, field.key))
        elif _is_stated(value):
            yield f"{field.key} = {_written(value)}"
    yield from nested


def _nested_lines(table: Any, path: tuple[str, ...]) -> Iterator[str]:
    """Write one table; an empty one is left out where leaving it out means the same."""
    if table is None or (len(path) == 1 and table == _empty(type(table))):
        return
    lines = list(_table_lines(table, path))
    holds_only_tables = bool(lines) and lines[0] == ""
    if not holds_only_tables:
        yield from ("", f"[{'.'.join(path)}]")
    yield from lines


def _row_lines(rows: tuple[Any, ...], path: tuple[str, ...], *, lone: bool) -> Iterator[str]:
    heading = ".".join(path)
    for row in rows:
        yield from ("", f"[{heading}]" if lone and len(rows) == 1 else f"[[{heading}]]")
        yield from _table_lines(row, path)


def _named_lines(tables: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    for name, table in tables.items():
        yield from ("", f"[{'.'.join((*path, name))}]")
        yield from _table_lines(table, path)


def _empty(kind: type) -> Any:
    """Return the table of a class with nothing stated; None where something must be stated."""
    required = any(field.spec.required for field in declared_fields(kind))
    return None if required else kind()


def _is_stated(value: Any) -> bool:
    return not (value is None or value == "" or (isinstance(value, tuple | Mapping) and not value))


def _written(value: Any) -> str:
    if isinstance(value, Span):
        return _span(value)
    if isinstance(value, Amount):
        return _amount(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, int | float):
        return _number(value)
    if isinstance(value, dt.datetime | dt.date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {_written(one)}" for key, one in value.items()) + " }"
    return "[" + ", ".join(_written(one) for one in value) + "]"


def _span(span: Span) -> str:
    if span.low is not None and span.low == span.high:
        return _number(span.low)
    return (
        "[" + ", ".join('"unknown"' if end is None else _number(end) for end in (span.low, span.high)) + "]"
    )


def _amount(amount: Amount) -> str:
    if amount.word is not None:
        return _string(amount.word)
    name, span = ("grams", amount.grams) if amount.grams is not None else ("share", amount.share)
    return f"{{ {name} = {_span(span)} }}" if span is not None else '"unknown"'


def _number(value: float) -> str:
    return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(float(value))


def _string(text: str) -> str:
    # A TOML basic string has the escapes of JSON; only the delete character needs one of its own.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
