"""Which column holds what: the heading row of a logger file and the units it names."""

import re
from dataclasses import dataclass
from typing import Literal

from baskwell.science.errors import KeeperError
from baskwell.science.history.climate_log.grid import Rows, Sheet

Unit = Literal["C", "F", ""]

_TIME = re.compile(
    r"^(?!.*(elapsed|time.?zone|laufzeit|duration)).*\b(date|time|datetime|timestamp|datum|zeit|uhrzeit|zeitstempel|zeitpunkt|fecha|hora|heure)",
    re.I,
)
_TEMPERATURE = re.compile(r"temp|celsius|fahrenheit|[°º]\s*[cf]\b|^\s*[cf]\s*$", re.I)
_HUMIDITY = re.compile(r"humid|\b(hum|rh|rf|hr|r\.h\.)(\b|_)|%\s*rh|feucht|luftf|humedad", re.I)
_DERIVED = re.compile(
    r"dew|taupunkt|heat.?index|\bvpd\b|absolut|set.?point|alarm|\bhigh limit|\blow limit", re.I
)
_PLACE = re.compile(r"\b(zone|sensor|probe|location|place|channel|ort|fühler|kanal)\b", re.I)
_FAHRENHEIT = re.compile(r"fahrenheit|[°º�]\s*f\b|[\s_(\[,]f\b|degf\b|deg f\b|^f$", re.I)
_CELSIUS = re.compile(r"celsius|[°º�]\s*c\b|[\s_(\[,]c\b|degc\b|deg c\b|^c$", re.I)
_ZONES = (
    ("basking_surface", re.compile(r"bask|hot|sonnen|spot", re.I)),
    ("warm_side", re.compile(r"warm", re.I)),
    ("cool_side", re.compile(r"cool|cold|kühl|kalt", re.I)),
)
_NUMBER = re.compile(r"^\s*[-+]?\d+([.,]\d+)?\s*([°º]?\s*[CFcf]|%(\s*rh)?)?\s*$", re.I)


@dataclass(frozen=True)
class Headings:
    """Columns (counted from 0) of one file, and the row (counted from 0) on which readings begin.

    ``time`` is one column, or two where date and time of day stand apart. ``temperatures`` and
    ``humidities`` list their columns in order; ``place`` is the column that names the probe, if any.
    ``texts`` are the headings themselves, () in a file without.
    """

    first_row: int
    time: tuple[int, ...]
    temperatures: tuple[int, ...]
    humidities: tuple[int, ...]
    place: int | None
    texts: tuple[str, ...]

    def text(self, column: int) -> str:
        """The heading of a column, "" in a file without headings."""
        return self.texts[column] if column < len(self.texts) else ""


def find_headings(sheet: Sheet) -> Headings:
    """Find the heading row among the first hundred rows; without one, read the columns by their looks.

    Raises KeeperError where no column of times or none of temperatures can be told.

    >>> head = [["Time", "Temp (C)", "RH"], ["2026-03-14 09:30", "21.5", "55"]]
    >>> found = find_headings(Sheet("tub4.csv", head))
    >>> (found.time, found.temperatures, found.humidities, found.first_row)
    ((0,), (1,), (2,), 1)
    """
    for number, row in enumerate(sheet.head):
        if _is_heading(row):
            return _read_heading(row, number, sheet.name)
    return _without_heading(sheet.head, sheet.name)


def unit_named(text: str) -> Unit:
    """The temperature unit that a heading or a cell names, "" where it names none.

    >>> [unit_named(text) for text in ("Temperature (°F)", "temp_c", "Temperature")]
    ['F', 'C', '']
    """
    if _FAHRENHEIT.search(text):
        return "F"
    return "C" if _CELSIUS.search(text) else ""


def zone_named(text: str) -> str:
    """The place in the enclosure that a heading or probe name tells, "" where it tells none.

    >>> [zone_named(text) for text in ("Basking spot", "warm end", "probe 2")]
    ['basking_surface', 'warm_side', '']
    """
    return next((zone for zone, words in _ZONES if words.search(text)), "")


def _is_heading(row: list[str]) -> bool:
    if any(_NUMBER.match(cell) for cell in row):
        return False
    timed = any(_TIME.search(cell) for cell in row)
    return timed and any(_measures_something(cell) for cell in row)


def _measures_something(text: str) -> bool:
    wanted = _TEMPERATURE.search(text) or _HUMIDITY.search(text) or zone_named(text)
    return bool(wanted) and not _DERIVED.search(text)


def _read_heading(row: list[str], number: int, name: str) -> Headings:
    columns = range(len(row))
    time = tuple(i for i in columns if _TIME.search(row[i]))[:2]
    humid = tuple(i for i in columns if _HUMIDITY.search(row[i]) and not _DERIVED.search(row[i]))
    rest = [i for i in columns if i not in time and i not in humid]
    warm = tuple(i for i in rest if _measures_something(row[i]))
    if not warm:
        found = ", ".join(filter(None, row))
        raise KeeperError(
            f"{name}, row {number + 1}: no column is called temperature (found {found}). "
            "Name one, for example 'Temperature (C)'."
        )
    place = next((i for i in rest if i not in warm and _PLACE.search(row[i])), None)
    return Headings(number + 1, time, warm, humid, place, tuple(cell.strip() for cell in row))


def _without_heading(rows: Rows, name: str) -> Headings:
    number, row = next(((i, r) for i, r in enumerate(rows) if _looks_like_readings(r)), (0, []))
    numeric = tuple(i for i, cell in enumerate(row) if _NUMBER.match(cell))
    time = next((i for i, cell in enumerate(row) if looks_like_time(cell)), None)
    numeric = tuple(i for i in numeric if time is not None and i > time)
    if time is None or not 1 <= len(numeric) <= 2:
        raise KeeperError(
            f"{name} has no row of headings, and its columns cannot be told apart. "
            "Put a first row with the names time, temperature (C) and humidity above the readings."
        )
    return Headings(number, (time,), numeric[:1], numeric[1:], None, ())


def _looks_like_readings(row: list[str]) -> bool:
    return any(looks_like_time(cell) for cell in row) and any(_NUMBER.match(cell) for cell in row)


def looks_like_time(cell: str) -> bool:
    """Whether a cell may hold a date with a time of day.

    >>> [looks_like_time(cell) for cell in ("14.03.2026 09:30", "14.03.2026", "21.5")]
    [True, False, False]
    """
    return len(re.findall(r"\d+", cell)) >= 5 and ":" in cell
