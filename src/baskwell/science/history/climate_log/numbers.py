"""Columns of text to columns of numbers: decimal commas, units behind the figure, faults of the logger."""

import re
from dataclasses import dataclass

import numpy as np

from baskwell.science.errors import KeeperError
from baskwell.science.history.climate_log.headings import unit_named
from baskwell.science.history.climate_log.series import Readings

_DROPPED = {ord(mark): None for mark in '°º�%CcFf \u00a0\u202f"'}
_EMPTY = {"", "-", "--", "---", "n/a", "na", "nan", "null", "none", "err", "error", "ol", "lo", "hi"}
_ONE_NUMBER = re.compile(r"([-+]?\d+(?:\.\d+)?)(?:deg|rh|r\.h\.)?", re.I)

COLDEST_C, HOTTEST_C = -40.0, 85.0
"""A reading at or beyond these is a fault code of the probe (85 C is what a common chip says at power-on)."""

SURELY_F, SURELY_C = 50.0, 33.0
"""A file whose middle reading lies above 50 without a unit is in F, below 33 in C: no animal lives at 50 C,
and a middle below 33 F is frost."""


@dataclass(frozen=True)
class Column:
    """Numbers of one column, shape ``(n_rows,)``, NaN where nothing readable stood; bad rows from 0."""

    values: Readings
    unreadable: tuple[int, ...]


def read_numbers(cells: list[str]) -> Column:
    """Read a column of figures; a decimal comma is a decimal point, units and per cent signs are dropped.

    Cells that are empty or say "no reading" become NaN; cells that are neither are listed.

    >>> read_numbers(["21,5", "22.0 °C", "", "wet"])
    Column(values=array([21.5, 22. ,  nan,  nan]), unreadable=(3,))
    """
    cleaned = "\n".join(cells).replace(",", ".").translate(_DROPPED).split("\n")
    try:
        return Column(_finite(np.array([*map(float, cleaned)])), ())
    except ValueError:
        return _one_by_one(cells, cleaned)


def _one_by_one(cells: list[str], cleaned: list[str]) -> Column:
    values = np.full(len(cells), np.nan)
    unreadable = []
    for i, text in enumerate(cleaned):
        if found := _ONE_NUMBER.fullmatch(text):
            values[i] = float(found[1])
        elif cells[i].strip().strip('"').lower() not in _EMPTY:
            unreadable.append(i)
    return Column(_finite(values), tuple(unreadable))


def _finite(values: Readings) -> Readings:
    return np.where(np.isfinite(values), values, np.nan)


def to_celsius(values: Readings, heading: str, first_cell: str, where: str) -> tuple[Readings, str]:
    """Temperatures in C and a note on how the unit was told ("" where the file names it).

    The heading decides, then a unit behind the figures, then the figures themselves. Raises
    KeeperError where the middle reading lies between 33 and 50 and no unit is named: that may be a
    hot spot in C or a cold room in F.

    >>> to_celsius(np.array([50.0, 68.0]), "Temperature (°F)", "50", "tub4.csv")[0]
    array([10., 20.])
    """
    unit = unit_named(heading) or unit_named(first_cell)
    if unit:
        return (_celsius(values) if unit == "F" else values), ""
    middle = float(np.nanmedian(values)) if np.any(~np.isnan(values)) else 0.0
    if middle > SURELY_F:
        return _celsius(values), "No unit is named; the figures can only be Fahrenheit and were converted."
    if middle < SURELY_C:
        return values, "No unit is named; the figures were read as Celsius."
    raise KeeperError(
        f"{where}: no unit is named and the middle reading of {middle:.1f} may be Celsius or Fahrenheit. "
        "Write C or F behind the name of the column, for example 'Temperature (C)'."
    )


def _celsius(fahrenheit: Readings) -> Readings:
    return (fahrenheit - 32.0) / 1.8


def without_faults(values: Readings, low: float, high: float) -> tuple[Readings, int]:
    """Readings outside ``low`` to ``high`` (exclusive) become NaN; returns them and how many went.

    >>> without_faults(np.array([21.0, -999.0, 85.0]), -40.0, 85.0)
    (array([21., nan, nan]), 2)
    """
    with np.errstate(invalid="ignore"):
        bad = (values <= low) | (values >= high)
    return np.where(bad, np.nan, values), int(bad.sum())
