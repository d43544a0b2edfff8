"""Columns of written times to seconds: date orders, month names, AM and PM, serial numbers, offsets."""

import datetime as dt
import re

import numpy as np
from numpy.typing import NDArray

from baskwell.science.errors import KeeperError
from baskwell.science.history.climate_log.series import SECONDS_PER_DAY, Seconds

Groups = NDArray[np.int64]

_FIRST_YEAR, _LAST_YEAR = 1990, 2100
_MONTHS = (
    ("jan",), ("feb",), ("mar", "mär", "mrz"), ("apr",), ("may", "mai"), ("jun",), ("jul",), ("aug",),
    ("sep",), ("oct", "okt"), ("nov",), ("dec", "dez"),
)  # fmt: skip
_MONTH_NUMBER = {word: number for number, words in enumerate(_MONTHS, start=1) for word in words}
_MONTH_WORD = re.compile("(" + "|".join(_MONTH_NUMBER) + r")[^\W\d]*", re.I)
_WORD = re.compile(r"[^\W\d]{3,}")
_AFTERNOON = re.compile(r"p\.?\s?m", re.I)
_MORNING = re.compile(r"a\.?\s?m", re.I)
_ALONE = re.compile(r"\d+(?:[.,]\d+)?")
_OFFSET = re.compile(r"\d[T ]\d\d:\d\d(?::\d\d(?:\.\d+)?)?\s?([+-]\d\d:?\d\d|Z)$")
YEAR_9999_S = 253_370_764_800  # 9999-01-01 in Unix seconds
_SPREADSHEET_ZERO_S = -25_569 * SECONDS_PER_DAY
_ORDERS = {"year first": (0, 1, 2), "day first": (2, 1, 0), "month first": (2, 0, 1)}
_DIGITS_AND_ROWS = bytes(code if code in b"0123456789\n" else 32 for code in range(256))
_SHORT_YEAR = 100


def read_times(cells: list[str], row_numbers: Seconds, where: str) -> tuple[Seconds, str]:
    """Seconds since 1970-01-01, wall clock, one per cell, and a note on what was assumed.

    Understood are ISO times (with or without an offset), day.month.year, month/day/year with AM or PM,
    month names, spreadsheet day numbers and Unix seconds. Raises KeeperError naming the row of a cell
    that is no time, or a date without a time of day.

    >>> read_times(["14.03.2026 09:30"], np.array([2]), "tub4.csv")[0]
    array([1773480600])
    """
    if _ALONE.fullmatch(cells[0].strip()):
        return _serial(cells, row_numbers, where), ""
    if offset := _OFFSET.search(cells[0].strip()):
        if not all(cell.endswith(offset[1]) for cell in cells):
            return _with_offset(cells, row_numbers, where)
        cells = [cell[: -len(offset[1])] for cell in cells]
    groups = _digit_groups(cells, row_numbers, where)
    seconds, note = _calendar(groups, cells, row_numbers, where)
    return seconds, note


def _fail(cell: str, row: int, where: str) -> KeeperError:
    return KeeperError(
        f"{where}, row {row}: '{cell[:40]}' is not a date with a time of day. "
        "Write it like 2026-03-14 09:30, or delete the row."
    )


def _serial(cells: list[str], row_numbers: Seconds, where: str) -> Seconds:
    """Spreadsheet days (since 1899-12-30), Unix seconds or Unix milliseconds, told apart by their size."""
    values = np.empty(len(cells))
    for i, cell in enumerate(cells):
        text = cell.strip()
        if not _ALONE.fullmatch(text):
            raise _fail(cell, int(row_numbers[i]), where)
        values[i] = float(text.replace(",", "."))
    scaled = np.where(values > 1e11, values / 1000.0, values)
    seconds = np.where(scaled > 1e8, scaled, scaled * SECONDS_PER_DAY + _SPREADSHEET_ZERO_S)
    # A number too large for a date would wrap round in the cast: cut it to a year that is refused below.
    rounded = np.rint(np.minimum(seconds, YEAR_9999_S)).astype(np.int64)
    _check_years(rounded.astype("M8[s]").astype("M8[Y]").astype(int) + 1970, cells, row_numbers, where)
    return rounded


def _with_offset(cells: list[str], row_numbers: Seconds, where: str) -> tuple[Seconds, str]:
    """Times with an offset from UTC, told in the offset of the earliest: a clock change moves nothing."""
    seconds, offsets = np.empty(len(cells), np.int64), np.empty(len(cells), np.int64)
    for i, cell in enumerate(cells):
        try:
            moment = dt.datetime.fromisoformat(cell.strip())
            offset = moment.utcoffset()
        except ValueError:
            offset = None
        if offset is None:
            raise _fail(cell, int(row_numbers[i]), where)
        seconds[i], offsets[i] = round(moment.timestamp()), offset.total_seconds()
    hours = offsets[np.lexsort((offsets, seconds))[0]]
    note = (
        ""
        if np.all(offsets == hours)
        else "The clock was changed during the log; all times were put on the first."
    )
    return seconds + hours, note


def _digit_groups(cells: list[str], row_numbers: Seconds, where: str) -> Groups:
    """All whole numbers of every cell, shape ``(n, k)``; every cell must hold as many as the first."""
    text = "\n".join(cells)
    if _MONTH_WORD.search(cells[0]):
        text = _with_month_numbers(text)
    spaced = text.encode("ascii", "replace").translate(_DIGITS_AND_ROWS).replace(b"\n", b" -1 ") + b" -1 "
    found = np.fromstring(spaced.decode(), dtype=np.int64, sep=" ")
    width = int(np.argmax(found == -1)) + 1
    regular = 6 <= width <= 8 and found.size % width == 0 and bool(np.all(found[width - 1 :: width] == -1))
    if not regular or found.size // width != len(cells):
        raise _odd_row(text.split("\n"), cells, row_numbers, where)
    return found.reshape(-1, width)[:, : width - 1]


def _with_month_numbers(text: str) -> str:
    for word in sorted(set(_WORD.findall(text)), key=len, reverse=True):
        if found := _MONTH_WORD.fullmatch(word):
            text = text.replace(word, f" {_MONTH_NUMBER[found[1].lower()]} ")
    return text


def _odd_row(texts: list[str], cells: list[str], row_numbers: Seconds, where: str) -> KeeperError:
    counts = [len(re.findall(r"\d+", text)) for text in texts]
    usual = counts[0] if 5 <= counts[0] <= 7 else -1
    i = next((i for i, count in enumerate(counts) if count != usual), 0)
    return _fail(cells[i], int(row_numbers[i]), where)


def _calendar(groups: Groups, cells: list[str], row_numbers: Seconds, where: str) -> tuple[Seconds, str]:
    hour = _clock_hours(groups[:, 3], cells)
    second = groups[:, 5] if groups.shape[1] > 5 else np.zeros_like(hour)
    of_day = hour * 3600 + groups[:, 4] * 60 + second
    sound = (hour < 24) & (groups[:, 4] < 60) & (second < 61)
    readings = {name: _dates(groups[:, list(order)], sound) for name, order in _orders(groups).items()}
    usable = {name: days for name, (days, fine) in readings.items() if fine.all()}
    if not usable:
        fine = np.any([fine for _, fine in readings.values()], axis=0)
        bad = int(np.argmin(fine)) if not fine.all() else 0
        raise _fail(cells[bad], int(row_numbers[bad]), where)
    chosen, note = _likeliest_order(usable, cells)
    return usable[chosen] * SECONDS_PER_DAY + of_day, note


def _clock_hours(hours: Groups, cells: list[str]) -> Groups:
    if not (_AFTERNOON.search(cells[0]) or _MORNING.search(cells[0])):
        return hours
    afternoon = np.array([bool(_AFTERNOON.search(cell)) for cell in cells])
    return np.asarray(hours % 12 + 12 * afternoon)


def _orders(groups: Groups) -> dict[str, tuple[int, int, int]]:
    if np.all(groups[:, 0] > 31):
        return {"year first": _ORDERS["year first"]}
    return {name: order for name, order in _ORDERS.items() if name != "year first"}


def _dates(ymd: Groups, sound: NDArray[np.bool_]) -> tuple[Groups, NDArray[np.bool_]]:
    """Days since 1970-01-01 of (year, month, day) rows, and which rows are real dates with a real time."""
    year = np.where(ymd[:, 0] < _SHORT_YEAR, ymd[:, 0] + 2000, ymd[:, 0])
    month, day = ymd[:, 1], ymd[:, 2]
    fine = sound & (year >= _FIRST_YEAR) & (year <= _LAST_YEAR) & (month >= 1) & (month <= 12) & (day >= 1)
    first = np.where(fine, (year - 1970) * 12 + month - 1, 0).astype("M8[M]")
    length = ((first + 1).astype("M8[D]") - first.astype("M8[D]")).astype(np.int64)
    return first.astype("M8[D]").astype(np.int64) + day - 1, np.asarray(fine & (day <= length))


def _likeliest_order(usable: dict[str, Groups], cells: list[str]) -> tuple[str, str]:
    """The one order that can be, else the one in which the log is shortest, else the custom of its marks."""
    if len(usable) == 1:
        return next(iter(usable)), ""
    spans = {name: int(days.max() - days.min()) for name, days in usable.items()}
    shortest = min(spans, key=spans.__getitem__)
    if len(set(spans.values())) == 1:
        american = bool(_AFTERNOON.search(cells[0]) or _MORNING.search(cells[0])) and "/" in cells[0]
        shortest = "month first" if american else "day first"
    first, second = usable.values()
    if np.array_equal(first, second) or (shortest == "day first" and "." in cells[0]):
        return shortest, ""
    return shortest, f"Dates such as {cells[0].strip()[:20]} were read with the {shortest}."


def _check_years(years: Groups, cells: list[str], row_numbers: Seconds, where: str) -> None:
    bad = (years < _FIRST_YEAR) | (years > _LAST_YEAR)
    if bad.any():
        i = int(np.argmax(bad))
        raise _fail(cells[i], int(row_numbers[i]), where)
