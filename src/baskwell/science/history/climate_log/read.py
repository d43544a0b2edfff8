"""A logger file to a ClimateLog: rows, headings, figures and times put together."""

from dataclasses import dataclass

import numpy as np

from baskwell.science.errors import KeeperError
from baskwell.science.history.climate_log.grid import Columns, Sheet, read_sheet
from baskwell.science.history.climate_log.headings import (
    Headings,
    find_headings,
    looks_like_time,
    zone_named,
)
from baskwell.science.history.climate_log.numbers import (
    COLDEST_C,
    HOTTEST_C,
    Column,
    read_numbers,
    to_celsius,
    without_faults,
)
from baskwell.science.history.climate_log.series import ClimateLog, ClimateSeries, Readings, Seconds
from baskwell.science.history.climate_log.times import read_times

_MOST_PROBES = 16
_WETTEST_PCT = 105.0
_MIDNIGHT = " 00:00:00"


@dataclass
class _Table:
    """The readings of one file as columns of equal length, and the notes gathered on the way."""

    name: str
    headings: Headings
    columns: Columns
    row_numbers: Seconds
    notes: list[str]

    def cells(self, column: int) -> list[str]:
        if column < len(self.columns):
            return self.columns[column]
        return [""] * len(self.row_numbers)


def read_climate_log(data: bytes, name: str = "climate log") -> ClimateLog:
    r"""Read a logger file: delimited text or XLSX, any order of rows, C or F, comma or point.

    ``name`` stands in errors and in the result. Columns for time, temperature and, if there, humidity
    are found by their headings; several temperature columns, or a column that names the probe, give
    several series. Times are wall-clock times as written. Readings of one probe with the same time
    (a clock put back, a double read-out) are averaged; fault codes and impossible figures become
    gaps; the notes of the result say how many. Limits: 10 MB, 1,000,000 rows, 64 columns, 16 probes.

    Raises KeeperError, with the row where there is one, for anything that cannot be read.

    >>> log = read_climate_log(b"Time,Temp (F)\n2026-03-14 09:30,68\n2026-03-14 10:00,77\n", "tub4.csv")
    >>> log.series[0].temperature_c
    array([20., 25.])
    """
    sheet = read_sheet(data, name)
    table = _table(sheet, find_headings(sheet))
    times, note = read_times(_time_cells(table), table.row_numbers, name)
    table.notes += [note] if note else []
    series = [one for column in table.headings.temperatures for one in _series(table, times, column)]
    if len(series) > _MOST_PROBES:
        raise KeeperError(
            f"{name} holds {len(series)} probes; at most {_MOST_PROBES} are read. Split the file."
        )
    if not any(np.any(~np.isnan(one.temperature_c)) for one in series):
        raise KeeperError(
            f"{name} holds no temperature that can be read. Look at the file in a table program."
        )
    return ClimateLog(name, tuple(series), tuple(dict.fromkeys(table.notes)))


def _table(sheet: Sheet, headings: Headings) -> _Table:
    columns, numbers = sheet.columns(headings.first_row)
    if len(columns) <= headings.time[0]:
        raise KeeperError(f"{sheet.name} has headings and no readings. Read the logger out again.")
    table = _Table(sheet.name, headings, columns, numbers, [])
    _refuse_decimal_commas(table)
    return _without_empty_rows(table)


def _refuse_decimal_commas(table: _Table) -> None:
    """More cells than headings in every row: commas both between and inside the figures."""
    expected = len(table.headings.texts)
    beyond = table.columns[expected:] if expected else []
    if beyond and all(cell.strip() for cell in beyond[0][:20]):
        row, cells = table.row_numbers[0], len(table.columns)
        raise KeeperError(
            f"{table.name}, row {row}: {cells} cells under {expected} headings. "
            "If the figures have decimal commas, export with semicolons between the columns."
        )


def _without_empty_rows(table: _Table) -> _Table:
    """Leave out rows without any figure, such as 'logger stopped': they need no readable time."""
    headings = table.headings
    figures = [table.cells(i) for i in (*headings.temperatures, *headings.humidities)]
    if all(map(str.strip, figures[0])):
        return table
    kept = [i for i, cells in enumerate(zip(*figures, strict=True)) if "".join(cells).strip()]
    if not kept:
        raise KeeperError(f"{table.name}: the columns of readings are empty. Read the logger out again.")
    if len(kept) < len(figures[0]):
        table.notes.append(f"{len(figures[0]) - len(kept)} rows without a reading were left out.")
        table.columns = [[column[i] for i in kept] for column in table.columns]
        table.row_numbers = table.row_numbers[kept]
    return table


def _time_cells(table: _Table) -> list[str]:
    first, *second = (table.cells(i) for i in table.headings.time)
    if not second or looks_like_time(first[0].removesuffix(_MIDNIGHT)):
        return [cell.strip().strip('"') for cell in first]
    return [_joined(date.strip(), time.strip()) for date, time in zip(first, second[0], strict=True)]


def _joined(date: str, time: str) -> str:
    """Date and time of day of two cells; a workbook writes a date cell with a midnight of its own."""
    return f"{date.removesuffix(_MIDNIGHT)} {time}"


def _series(table: _Table, times: Seconds, column: int) -> list[ClimateSeries]:
    celsius = _temperatures(table, column)
    humidity = _humidities(table, column)
    heading = table.headings.text(column)
    if table.headings.place is None:
        return [_in_order(table, heading, times, celsius, humidity)]
    places = np.array([cell.strip() for cell in table.cells(table.headings.place)])
    return [
        _in_order(table, str(place), times[here], celsius[here], humidity[here])
        for place in np.unique(places)
        for here in [places == place]
    ]


def _temperatures(table: _Table, column: int) -> Readings:
    read = _numbers(table, column)
    heading = table.headings.text(column)
    celsius, note = to_celsius(
        read.values, heading, table.cells(column)[0], f"{table.name}, {heading or 'column'}"
    )
    sound, faults = without_faults(celsius, COLDEST_C, HOTTEST_C)
    table.notes += [note] if note else []
    if faults:
        table.notes.append(
            f"{faults} readings of {heading or 'temperature'} are fault codes and were left out."
        )
    return sound


def _humidities(table: _Table, temperature_column: int) -> Readings:
    """The humidity that belongs to a temperature column: the only one, or the one in the same order."""
    columns = table.headings.humidities
    place = table.headings.temperatures.index(temperature_column)
    if not columns or place >= len(columns):
        return np.full(len(table.row_numbers), np.nan)
    values = _numbers(table, columns[place]).values
    if np.any(values > 0) and float(np.nanmax(values)) <= 1.0:
        table.notes.append("Humidity is written as a fraction and was read as per cent.")
        values = values * 100.0
    sound, faults = without_faults(values, -1e-9, _WETTEST_PCT)
    if faults:
        table.notes.append(f"{faults} humidities outside 0 to 100 % were left out.")
    return np.minimum(sound, 100.0)


def _numbers(table: _Table, column: int) -> Column:
    read = read_numbers(table.cells(column))
    if not read.unreadable:
        return read
    bad = len(read.unreadable)
    first = read.unreadable[0]
    where = f"row {table.row_numbers[first]}, '{table.cells(column)[first].strip()[:40]}'"
    if bad > len(table.row_numbers) / 2:
        heading = table.headings.text(column) or f"column {column + 1}"
        raise KeeperError(
            f"{table.name}: {heading} holds no figures ({where}). Name the right column temperature."
        )
    table.notes.append(f"{bad} cells that are no figures were left out, the first in {where}.")
    return read


def _in_order(
    table: _Table, label: str, times: Seconds, celsius: Readings, humidity: Readings
) -> ClimateSeries:
    """Sort by time and average readings of the same time, so that the order of rows means nothing."""
    order = np.lexsort((humidity, celsius, times))
    times, celsius, humidity = times[order], celsius[order], humidity[order]
    starts = np.flatnonzero(np.r_[True, np.diff(times) > 0])
    if len(starts) < len(times):
        table.notes.append(
            f"{len(times) - len(starts)} readings carry a time that is already there (a clock put back, "
            "or read out twice); they were averaged."
        )
        celsius, humidity = _averages(celsius, starts), _averages(humidity, starts)
    return ClimateSeries(zone_named(label), label, times[starts], celsius, humidity)


def _averages(values: Readings, starts: Seconds) -> Readings:
    known = ~np.isnan(values)
    count = np.add.reduceat(known.astype(np.float64), starts)
    total = np.add.reduceat(np.where(known, values, 0.0), starts)
    return np.asarray(np.divide(total, count, out=np.full(len(starts), np.nan), where=count > 0))
