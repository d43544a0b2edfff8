"""Bytes to rows of cells: encodings, delimiters, workbooks, and the limits on what is accepted."""

import csv
import io
import warnings
import zipfile
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice

import numpy as np

from baskwell.science.errors import KeeperError
from baskwell.science.history.climate_log.series import Seconds

MAX_BYTES = 10_000_000
MAX_ROWS = 1_000_000
MAX_COLUMNS = 64
MAX_UNPACKED_BYTES = 200_000_000
_LONGEST_LINE = 20_000
_SAMPLE_LINES = 60
_DELIMITERS = "\t;|,"
_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0"

_HEAD_ROWS = 100

Rows = list[list[str]]
Columns = list[list[str]]


@dataclass(frozen=True)
class Sheet:
    """A file split as far as needed: its first hundred rows, and the means to get the columns below.

    ``rows`` holds all rows of a workbook or of quoted text; plain text stays as ``lines``, which are
    many times faster to turn into columns at once.
    """

    name: str
    head: Rows
    delimiter: str = ","
    lines: list[str] = field(default_factory=list, repr=False)
    rows: Rows = field(default_factory=list, repr=False)

    def columns(self, first_row: int) -> tuple[Columns, Seconds]:
        """Cells by column from ``first_row`` (counted from 0) on, and the row number of each in the file.

        Rows without any cell are left out; short rows are filled with empty cells.
        """
        lines = self.lines[first_row:]
        if not lines:
            return _columns_of(self.rows[first_row:], first_row)
        breaks = {line.count(self.delimiter) for line in lines}
        if len(breaks) > 1 or not all(map(str.strip, lines)):
            return _columns_of([line.split(self.delimiter) if line else [] for line in lines], first_row)
        width = breaks.pop() + 1
        flat = "\n".join(lines).replace(self.delimiter, "\n").split("\n")
        return [flat[i::width] for i in range(width)], _row_numbers(np.arange(len(lines)), first_row)


def _columns_of(rows: Rows, first_row: int) -> tuple[Columns, Seconds]:
    kept = [i for i, row in enumerate(rows) if any(cell.strip() for cell in row)]
    width = max((len(rows[i]) for i in kept), default=0)
    full = [rows[i] + [""] * (width - len(rows[i])) for i in kept]
    columns = [list(column) for column in zip(*full, strict=True)]
    return columns, _row_numbers(np.array(kept, dtype=np.int64), first_row)


def _row_numbers(places: Seconds, first_row: int) -> Seconds:
    return places + first_row + 1


def read_sheet(data: bytes, name: str) -> Sheet:
    r"""Split a logger file (delimited text or XLSX) into cells.

    Row i of the file is ``head[i - 1]``, so errors can name it. Raises KeeperError for an empty file,
    over 10 MB, over a million rows or 64 columns, or where it is neither text nor a workbook.

    >>> read_sheet(b"time;temp\n2026-03-14 09:30;21,5\n", "tub4.csv").columns(1)
    ([['2026-03-14 09:30'], ['21,5']], array([2]))
    """
    _check_size(data, name)
    if data.startswith(b"PK"):
        rows = _bounded([*_workbook_rows(data, name)], name)
        return Sheet(name, rows[:_HEAD_ROWS], rows=rows)
    if data.startswith(_OLD_WORKBOOK):
        raise KeeperError(
            f"{name} is a workbook of the old kind (.xls). Save it as CSV or XLSX and try again."
        )
    return _text_sheet(_decode(data, name), name)


def _check_size(data: bytes, name: str) -> None:
    if not data.strip():
        raise KeeperError(f"{name} is empty. Read the logger out again and save the file anew.")
    if len(data) > MAX_BYTES:
        size = len(data) / 1e6
        raise KeeperError(f"{name} has {size:.1f} MB; at most 10 MB are read. Export a shorter time.")


def _decode(data: bytes, name: str) -> str:
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if data.startswith(mark):
            return data.decode(encoding, errors="replace")
    if b"\0" in data:
        raise KeeperError(f"{name} is not a text file. Export the readings as CSV or XLSX.")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _text_sheet(text: str, name: str) -> Sheet:
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    while lines and not lines[-1].strip():
        lines.pop()
    delimiter = _checked_delimiter(lines, name)
    if '"' in text:
        rows = _bounded([*_quoted_rows(lines, delimiter, name)], name)
        return Sheet(name, rows[:_HEAD_ROWS], delimiter, rows=rows)
    head = [line.split(delimiter) if line else [] for line in lines[:_HEAD_ROWS]]
    return Sheet(name, head, delimiter, lines=lines)


def _checked_delimiter(lines: list[str], name: str) -> str:
    if len(lines) > MAX_ROWS:
        raise KeeperError(f"{name} has more than a million rows. Export a shorter time.")
    if not lines:
        raise KeeperError(f"{name} is empty. Read the logger out again and save the file anew.")
    longest = max(map(len, lines))
    if longest > _LONGEST_LINE:
        number = next(i for i, line in enumerate(lines, start=1) if len(line) == longest)
        raise KeeperError(
            f"{name}, row {number}: {longest} characters in one row. Export the readings as CSV."
        )
    delimiter = find_delimiter(lines)
    cells = [line.count(delimiter) + 1 for line in lines]
    if max(cells) > MAX_COLUMNS:
        raise _too_wide(name, cells.index(max(cells)) + 1, max(cells))
    return delimiter


def _quoted_rows(lines: list[str], delimiter: str, name: str) -> Iterator[list[str]]:
    for number, line in enumerate(lines, start=1):
        try:
            yield next(csv.reader([line], delimiter=delimiter, strict=False), [])
        except csv.Error as fault:
            raise KeeperError(f"{name}, row {number} cannot be split into cells ({fault}).") from fault


def find_delimiter(lines: Iterable[str]) -> str:
    """The character that splits most of the lines into the same number of cells, two or more.

    Tabs, semicolons and bars win over commas, which may be decimal commas. A file of one column
    gives a comma.

    >>> find_delimiter(["time;temp;rh", "14.03.2026 09:30;21,5;55,1"])
    ';'
    """
    sample = [*islice((line for line in lines if line.strip()), _SAMPLE_LINES)]
    best, best_share = ",", 0.0
    for delimiter in _DELIMITERS:
        counts = Counter(len(next(csv.reader([line], delimiter=delimiter))) for line in sample)
        share = max((n / len(sample) for cells, n in counts.items() if cells > 1), default=0.0)
        if share > best_share + 0.2:
            best, best_share = delimiter, share
    return best


def _bounded(rows: Rows, name: str) -> Rows:
    widest = max(map(len, rows), default=0)
    if widest > MAX_COLUMNS:
        number = next(i for i, row in enumerate(rows, start=1) if len(row) == widest)
        raise _too_wide(name, number, widest)
    return rows


def _too_wide(name: str, number: int, widest: int) -> KeeperError:
    return KeeperError(
        f"{name}, row {number} has {widest} cells; at most {MAX_COLUMNS} are read. "
        "Keep the columns time, temperature and humidity."
    )


def _workbook_rows(data: bytes, name: str) -> Iterator[list[str]]:
    _check_unpacked(data, name)
    from openpyxl import load_workbook

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a workbook without styles is no concern of a keeper
            sheet = load_workbook(io.BytesIO(data), read_only=True, data_only=True).worksheets[0]
            for cells in sheet.iter_rows(values_only=True, max_row=MAX_ROWS, max_col=MAX_COLUMNS + 1):
                yield _trimmed([_cell_text(cell) for cell in cells])
    except KeeperError:
        raise
    except Exception as fault:
        # openpyxl raises whatever its parsers meet: a damaged workbook is the keeper's to mend
        raise KeeperError(f"{name} cannot be read as a workbook ({fault}). Save it as CSV.") from fault


def _check_unpacked(data: bytes, name: str) -> None:
    try:
        unpacked = sum(part.file_size for part in zipfile.ZipFile(io.BytesIO(data)).infolist())
    except zipfile.BadZipFile as fault:
        raise KeeperError(f"{name} is damaged and cannot be opened. Save it as CSV.") from fault
    if unpacked > MAX_UNPACKED_BYTES:
        raise KeeperError(f"{name} unpacks to {unpacked / 1e6:.0f} MB. Export a shorter time as CSV.")


def _cell_text(cell: object) -> str:
    return "" if cell is None else str(cell)


def _trimmed(cells: list[str]) -> list[str]:
    while cells and not cells[-1]:
        cells.pop()
    return cells
