"""Tables as text, and the typed rows made of them column by column."""

import csv
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any, TypeVar

from baskwell.evidence.errors import EvidenceError
from baskwell.evidence.package import Field, Resource

Row = TypeVar("Row")
Cells = Sequence[str]
Converter = Callable[[Cells], list[Any]]


@dataclass(frozen=True)
class Table:
    """A table as it stands in its file: header, rows of cells, and where each row stands.

    ``tail`` holds file and line of the last rows where those come from a user folder.
    """

    resource: Resource
    header: tuple[str, ...]
    rows: Sequence[Cells]
    tail: tuple[tuple[str, int], ...] = ()

    @cached_property
    def records(self) -> tuple[Mapping[str, str], ...]:
        """Each row as a mapping of column to cell."""
        return tuple(dict(zip(self.header, row, strict=False)) for row in self.rows)

    @cached_property
    def columns(self) -> Mapping[str, Cells]:
        """Each column as its cells from top to bottom."""
        if not self.rows:
            return {}
        return dict(zip(self.header, zip(*self.rows, strict=True), strict=True))

    def cells(self, column: str) -> Cells:
        """The cells of a column; empty for a table without it."""
        return self.columns.get(column, ())

    def place(self, index: int) -> tuple[str, int]:
        """The file and line of a row."""
        shipped = len(self.rows) - len(self.tail)
        return self.tail[index - shipped] if index >= shipped else (self.resource.path, index + 2)

    def key(self, index: int) -> str:
        """What names a row in messages: its primary key joined by dots, else its first cell."""
        names = self.resource.schema.primary_key or self.header[:1]
        record = self.records[index]
        return ".".join(record.get(name, "") for name in names)


def parse_table(resource: Resource, text: str) -> Table:
    """Read the text of a CSV file.

    Raises ``EvidenceError`` where a row has more or fewer cells than the header.
    """
    header, *rows = filter(None, csv.reader(io.StringIO(text)))
    if set(map(len, rows)) - {len(header)}:
        raise _ragged(resource.path, len(header), rows)
    return Table(resource, tuple(header), rows)


def _ragged(path: str, width: int, rows: Sequence[Cells]) -> EvidenceError:
    line, row = next((number, row) for number, row in enumerate(rows, start=2) if len(row) != width)
    wrong = f"the row has {len(row)} cells, the header {width}"
    return EvidenceError(path, line, "", ",".join(row[:3]), wrong, "Put cells that hold a comma in quotes.")


def typed_rows(table: Table, kind: type[Row]) -> tuple[Row, ...]:
    r"""Make rows of ``kind``: one attribute a column, ``class_`` standing for the column ``class``.

    >>> from baskwell.evidence.package import read_package
    >>> from baskwell.evidence.rows.clinical import FrequencyWord
    >>> resource = read_package().resources["clinical_word_map"]
    >>> table = parse_table(resource, "word,p_low,p_mode,p_high,note\nrare,0,0.02,0.05,")
    >>> typed_rows(table, FrequencyWord)[0].p_mode
    0.02

    Raises ``EvidenceError`` for a cell that is not of the type of its column.
    """
    names = [field.name.rstrip("_") for field in fields(kind)]  # type: ignore[arg-type]
    columns = [_converted(table, name) for name in names]
    return tuple(map(kind, *columns)) if table.rows else ()


def _converted(table: Table, name: str) -> list[Any]:
    field = table.resource.schema.by_name[name]
    cells = table.cells(name)
    try:
        return converter(field)(cells)
    except ValueError:
        raise _bad_cell(table, field, cells) from None


def _bad_cell(table: Table, field: Field, cells: Cells) -> EvidenceError:
    index = next(number for number, cell in enumerate(cells) if not _converts(field, cell))
    file, line = table.place(index)
    todo = "Write a plain number, or leave the cell empty." if not field.required else "Write a plain number."
    return EvidenceError(file, line, field.name, cells[index], f"this is not of type {field.type}", todo)


def _converts(field: Field, cell: str) -> bool:
    try:
        converter(field)([cell])
    except ValueError:
        return False
    return True


def converter(field: Field) -> Converter:
    """The function that turns the cells of a column into values: None for an empty optional number.

    >>> converter(Field("p", "number"))(["0.5", ""])
    [0.5, None]
    """
    if field.separator or (field.sources and field.name.endswith("ids")):
        return _lists(field.separator or ";")
    if field.type == "string":
        return list
    if field.type == "boolean":
        return _flags if field.required else _optional_flags
    number: Callable[[str], Any] = int if field.type == "integer" else float
    return _numbers(number) if field.required else _optional_numbers(number)


def _numbers(number: Callable[[str], Any]) -> Converter:
    return lambda cells: list(map(number, cells))


def _optional_numbers(number: Callable[[str], Any]) -> Converter:
    return lambda cells: [number(cell) if cell else None for cell in cells]


def _flags(cells: Cells) -> list[Any]:
    return [cell == "y" for cell in cells]


def _optional_flags(cells: Cells) -> list[Any]:
    return [cell == "y" if cell else None for cell in cells]


def _lists(separator: str) -> Converter:
    return lambda cells: [_split(cell, separator) for cell in cells]


def _split(cell: str, separator: str) -> tuple[str, ...]:
    if not cell:
        return ()
    return tuple(part for part in map(str.strip, cell.split(separator)) if part)


def cells_of(table: Table, column: str) -> Iterator[tuple[int, str]]:
    """The filled cells of a column with the index of their row."""
    return ((index, cell) for index, cell in enumerate(table.cells(column)) if cell)
