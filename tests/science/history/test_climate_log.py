"""Logger files: every common way of writing them gives the same series, and bad ones are told plainly."""

import datetime as dt
import io

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook

from baskwell.science.errors import KeeperError
from baskwell.science.history.climate_log import ClimateLog, ClimateSeries, read_climate_log

START = dt.datetime(2026, 3, 14, 9, 30)
TIMES = [START + dt.timedelta(minutes=30 * i) for i in range(60)]
CELSIUS = [round(20 + 8 * np.sin(i / 7), 1) for i in range(60)]
HUMIDITY = [round(50 + 10 * np.cos(i / 7), 1) for i in range(60)]
SECONDS = np.array([(t - dt.datetime(1970, 1, 1)).total_seconds() for t in TIMES], dtype=np.int64)


def text(
    stamp: str = "%Y-%m-%d %H:%M",
    heading: str = "Time,Temperature (C),RH (%)",
    delimiter: str = ",",
    decimal: str = ".",
    fahrenheit: bool = False,
) -> bytes:
    """A logger file in one of the usual dialects, with the same readings in each."""
    lines = [heading]
    for time, celsius, humidity in zip(TIMES, CELSIUS, HUMIDITY, strict=True):
        degrees = celsius * 1.8 + 32 if fahrenheit else celsius
        figures = [f"{degrees:.2f}".replace(".", decimal), f"{humidity}".replace(".", decimal)]
        lines.append(delimiter.join([time.strftime(stamp), *figures]))
    return "\n".join(lines).encode()


def only(log: ClimateLog) -> ClimateSeries:
    """The one series of a log."""
    assert len(log.series) == 1
    return log.series[0]


DIALECTS = {
    "ISO, comma": text(),
    "ISO with T and seconds": text(stamp="%Y-%m-%dT%H:%M:%S"),
    "ISO with fractions of a second": text(stamp="%Y-%m-%d %H:%M:%S.%f"),
    "ISO in one offset": text(stamp="%Y-%m-%dT%H:%M:%S+01:00"),
    "German, semicolon, decimal comma": text(
        "%d.%m.%Y %H:%M", "Zeit;Temperatur [°C];Luftfeuchte [%]", delimiter=";", decimal=","
    ),
    "tabs": text(delimiter="\t", heading="Timestamp\tTemp °C\tHumidity"),
    "bars": text(delimiter="|", heading="Time|temp_c|humidity"),
    "American": text("%m/%d/%Y %I:%M:%S %p", "Date Time,Temp (°F),RH", fahrenheit=True),
    "two-digit year": text("%d.%m.%y %H:%M"),
    "month by name": text("%d %b %Y %H:%M"),
    "month first by name": text("%b %d %Y %H:%M"),
    "date and time apart": text("%d/%m/%Y,%H:%M:%S", "Date,Time,Temp C,RH"),
    "year first with slashes": text("%Y/%m/%d %H:%M"),
    "quoted": text('"%Y-%m-%d %H:%M"', '"Time","Temperature (C)","RH (%)"'),
    "byte order mark": "\ufeff".encode() + text(),
    "UTF-16": text().decode().encode("utf-16"),
    "Windows line ends": text().replace(b"\n", b"\r\n"),
    "Latin-1 degree sign": text(heading="Time,Temperature (\u00b0C),RH").decode().encode("cp1252"),
    "preamble": b"Logger 7\nSerial no.,1234\n\n" + text(),
    "footer": text() + b"\n2026-03-15 20:00,,\nlogger stopped,,\n\n",
    "no headings": b"\n".join(text().split(b"\n")[1:]),
    "counted rows": b"\n".join(
        (b"#," if i == 0 else b"%d," % i) + row for i, row in enumerate(text().split(b"\n"))
    ),
}


@pytest.mark.parametrize("dialect", DIALECTS, ids=str)
def test_every_dialect_gives_the_same_series(dialect: str) -> None:
    """Delimiter, decimal mark, date form, unit, encoding and preamble change nothing."""
    series = only(read_climate_log(DIALECTS[dialect], "tub4.csv"))
    assert series.times_s.tolist() == SECONDS.tolist()
    np.testing.assert_allclose(series.temperature_c, CELSIUS, atol=0.006)
    np.testing.assert_allclose(series.relative_humidity_pct, HUMIDITY, atol=0.006)
    assert series.step_s == 1800.0
    assert series.coverage == 1.0


def workbook(*rows: list[object]) -> bytes:
    """An XLSX file with these rows."""
    book = Workbook()
    sheet = book.worksheets[0]
    for row in rows:
        sheet.append(row)
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def test_a_workbook_gives_the_same_series() -> None:
    """XLSX with real date cells equals the text file."""
    rows = [[t, c, h] for t, c, h in zip(TIMES, CELSIUS, HUMIDITY, strict=True)]
    series = only(read_climate_log(workbook(["Time", "Temp (C)", "RH"], *rows), "tub4.xlsx"))
    assert series.times_s.tolist() == SECONDS.tolist()
    np.testing.assert_allclose(series.temperature_c, CELSIUS)


def test_a_workbook_with_date_and_time_in_two_columns_is_read() -> None:
    """A date cell carries a midnight of its own; it is not taken for the time."""
    rows = [[dt.datetime(t.year, t.month, t.day), t.time(), c] for t, c in zip(TIMES, CELSIUS, strict=True)]
    series = only(read_climate_log(workbook(["Date", "Time", "Temp (C)"], *rows), "tub4.xlsx"))
    assert series.times_s.tolist() == SECONDS.tolist()


@pytest.mark.parametrize(
    "serial",
    [
        pytest.param(lambda s: f"{s / 86400 + 25569:.8f}", id="spreadsheet days since 1899-12-30"),
        pytest.param(lambda s: f"{s}", id="Unix seconds"),
        pytest.param(lambda s: f"{s}000", id="Unix milliseconds"),
    ],
)
def test_serial_times_are_read(serial: object) -> None:
    """Day numbers of spreadsheets and Unix times are told apart by their size."""
    assert callable(serial)
    rows = "".join(f"{serial(int(s))},{c}\n" for s, c in zip(SECONDS, CELSIUS, strict=True))
    series = only(read_climate_log(("Time,Temp (C)\n" + rows).encode()))
    assert series.times_s.tolist() == SECONDS.tolist()


@given(st.permutations(range(60)))
def test_the_order_of_rows_means_nothing(order: list[int]) -> None:
    """A log read in any order is the same log."""
    head, *rows = text().split(b"\n")
    shuffled = only(read_climate_log(b"\n".join([head, *(rows[i] for i in order)])))
    straight = only(read_climate_log(text()))
    assert shuffled.times_s.tolist() == straight.times_s.tolist()
    assert shuffled.temperature_c.tolist() == straight.temperature_c.tolist()


@given(st.lists(st.floats(-30, 70), min_size=2, max_size=30), st.booleans())
def test_the_unit_changes_nothing(celsius: list[float], named_in_cell: bool) -> None:
    """Fahrenheit, named in the heading or behind the figure, gives the same temperatures as Celsius."""

    def rows(unit: str) -> bytes:
        lines = ["Time,Temperature" if named_in_cell else f"Time,Temperature ({unit})"]
        for i, c in enumerate(celsius):
            figure = repr(c * 1.8 + 32 if unit == "F" else c)
            lines.append(f"2026-01-{i + 1:02d} 12:00,{figure}{f' °{unit}' if named_in_cell else ''}")
        return "\n".join(lines).encode()

    in_c, in_f = (only(read_climate_log(rows(unit))).temperature_c for unit in "CF")
    np.testing.assert_allclose(in_f, in_c, atol=1e-9)


def test_fahrenheit_without_a_unit_is_told_by_its_figures() -> None:
    """A middle reading above 50 can only be Fahrenheit; the note says so."""
    log = read_climate_log(text(heading="Time,Temperature,RH", fahrenheit=True))
    np.testing.assert_allclose(only(log).temperature_c, CELSIUS, atol=0.006)
    assert any("Fahrenheit" in note for note in log.notes)


def test_a_unit_that_cannot_be_told_is_asked_for() -> None:
    """40 without a unit may be a hot spot in C or a cold room in F: no guess is made."""
    rows = "".join(f"2026-01-0{i} 12:00,40.{i}\n" for i in range(1, 6))
    with pytest.raises(KeeperError, match="Celsius or Fahrenheit"):
        read_climate_log(("Time,Temperature\n" + rows).encode(), "tub4.csv")


def test_an_ambiguous_date_takes_the_order_in_which_the_log_is_shortest() -> None:
    """1 to 9 February, not the second of nine months."""
    rows = "".join(f"0{i}/02/2026 12:00,20\n" for i in range(1, 10))
    log = read_climate_log(("Time,Temp (C)\n" + rows).encode())
    assert only(log).days == 8.0
    assert any("day first" in note for note in log.notes)


def test_an_hour_that_comes_twice_is_averaged_and_told() -> None:
    """When clocks go back, two readings carry one time."""
    rows = "2026-10-25 02:30,20\n2026-10-25 02:30,22\n2026-10-25 03:00,21\n"
    log = read_climate_log(("Time,Temp (C)\n" + rows).encode())
    assert only(log).temperature_c.tolist() == [21.0, 21.0]
    assert any("clock put back" in note for note in log.notes)


def test_offsets_that_change_with_the_clock_do_not_move_readings() -> None:
    """02:30+02:00 and 02:30+01:00 are an hour apart."""
    rows = "2026-10-25T02:30:00+02:00,20\n2026-10-25T02:30:00+01:00,22\n"
    series = only(read_climate_log(("Time,Temp (C)\n" + rows).encode()))
    assert np.diff(series.times_s).tolist() == [3600]


def test_a_pause_longer_than_three_steps_lowers_the_coverage() -> None:
    """Twelve hours missing of about twenty-four."""
    stamps = [*range(24), *range(48, 61)]
    rows = "".join(f"{(START + dt.timedelta(minutes=30 * i)).isoformat()},20\n" for i in stamps)
    series = only(read_climate_log(("Time,Temp (C)\n" + rows).encode()))
    assert series.gaps_s.tolist() == [12.5 * 3600]
    assert series.coverage == pytest.approx(1 - 12.5 / 30)


def test_fault_codes_are_gaps_and_told() -> None:
    """-999 and the power-on value 85.0 are no temperatures."""
    rows = "2026-03-14 09:30,-999\n2026-03-14 10:00,85.0\n2026-03-14 10:30,21\n2026-03-14 11:00,Err\n"
    log = read_climate_log(("Time,Temp (C)\n" + rows).encode())
    assert np.isnan(only(log).temperature_c).tolist() == [True, True, False, True]
    assert any("fault codes" in note for note in log.notes)


def test_several_temperature_columns_are_several_places() -> None:
    """Headings that name the place in the enclosure give its zone."""
    rows = "2026-03-14 09:30,38,29,22,40\n2026-03-14 10:00,39,30,23,41\n"
    log = read_climate_log(("Time,Basking (C),Warm side (C),Cool side (C),RH\n" + rows).encode())
    assert [series.zone for series in log.series] == ["basking_surface", "warm_side", "cool_side"]
    assert log.series[0].relative_humidity_pct.tolist() == [40.0, 41.0]
    assert np.isnan(log.series[1].relative_humidity_pct).all()


def test_a_column_that_names_the_probe_gives_a_series_each() -> None:
    """Long files are parted by their place column."""
    rows = "2026-03-14 09:30,warm end,29\n2026-03-14 09:30,cool end,22\n2026-03-14 10:00,warm end,30\n"
    log = read_climate_log(("Time,Sensor,Temp (C)\n" + rows).encode())
    found = {series.zone: series.temperature_c.tolist() for series in log.series}
    assert found == {"warm_side": [29.0, 30.0], "cool_side": [22.0]}


def test_humidity_written_as_a_fraction_becomes_per_cent() -> None:
    """0.55 is 55 %."""
    log = read_climate_log(b"Time,Temp (C),RH\n2026-03-14 09:30,20,0.55\n2026-03-14 10:00,20,0.6\n")
    np.testing.assert_allclose(only(log).relative_humidity_pct, [55.0, 60.0])


@pytest.mark.parametrize(
    ("data", "words"),
    [
        pytest.param(b"", "is empty", id="nothing"),
        pytest.param(b"  \n \n", "is empty", id="blanks"),
        pytest.param(b"x" * 10_000_001, "at most 10 MB", id="too large"),
        pytest.param(b"\n" * 1_000_001 + b"x", "million rows", id="too many rows"),
        pytest.param(b"a" * 30_000, "characters in one row", id="one long row"),
        pytest.param(b"a,b\n" + b"," * 100, "row 2 has 101 cells", id="too many columns"),
        pytest.param(b"\x00\x01binary", "not a text file", id="binary"),
        pytest.param(b"\xd0\xcf\x11\xe0old", "old kind", id="old workbook"),
        pytest.param(b"PK\x03\x04broken", "damaged", id="broken workbook"),
        pytest.param(b"name,colour\nFlint,brown\n", "no row of headings", id="another table"),
        pytest.param(b"Time,Temp (C)\n", "no readings", id="headings only"),
        pytest.param(
            b"Time,RH\n2026-03-14 09:30,50\n", "no column is called temperature", id="no temperature"
        ),
        pytest.param(
            b"Time,Temp (C)\n2026-03-14 09:30,21\nyesterday,22\n", "row 3: 'yesterday'", id="no time in row 3"
        ),
        pytest.param(
            b"Time,Temp (C)\n2026-03-14 09:30,21\n2026-02-30 10:00,22\n",
            "row 3: '2026-02-30",
            id="30 February",
        ),
        pytest.param(b"Time,Temp (C)\n2026-03-14 27:30,21\n", "row 2", id="27 o'clock"),
        pytest.param(b"Time,Temp (C)\n2026-03-14,21\n", "time of day", id="date only"),
        pytest.param(b"Time,Temp (C)\n1066-10-14 09:30,21\n", "row 2", id="1066"),
        pytest.param(b"Time,Temp (C)\n2026-03-14 09:30,warm\n", "no figures", id="words for figures"),
        pytest.param(b"Time,Temp (C)\n2026-03-14 09:30,\n", "are empty", id="no figure at all"),
        pytest.param(b"Time,Temp (C)\n2026-03-14 09:30,-999\n", "no temperature", id="faults only"),
        pytest.param(
            b"Time,Temp (C),RH\n2026-03-14 09:30,21,5,55,1\n", "decimal commas", id="commas everywhere"
        ),
    ],
)
def test_bad_files_are_refused_in_a_sentence(data: bytes, words: str) -> None:
    """The error names the file, the row where there is one, and what to do."""
    with pytest.raises(KeeperError, match=words) as refused:
        read_climate_log(data, "tub4.csv")
    assert str(refused.value).startswith("tub4.csv")
    assert str(refused.value).endswith(".")


def test_a_number_too_large_for_a_date_is_refused_with_its_row() -> None:
    """Forty nines are no moment in any count of days or seconds."""
    data = b"Time,Temp (C)\n" + b"9" * 40 + b",21.5\n"
    with pytest.raises(KeeperError, match=r"row 2: '9+' is not a date"):
        read_climate_log(data, "log.csv")


@given(st.binary(max_size=400))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    """Nothing but a KeeperError ever comes out of a bad file."""
    with pytest.raises(KeeperError):
        read_climate_log(data)


CELLS = st.sampled_from(
    ["", "Time", "Temp (C)", "RH", "2026-03-14 09:30", "14.3.26 9:30 pm", "21,5", "21.5 °C", "-999", "9" * 40,
     "46095.4", '"', "nan", "1e308", "2026-03-14T09:30:00+25:00", "°F", "Sensor"]
)  # fmt: skip


@given(st.lists(st.lists(CELLS, max_size=5), max_size=8), st.sampled_from(",;\t"))
def test_any_mixture_of_usual_cells_is_read_or_refused(rows: list[list[str]], delimiter: str) -> None:
    """Jumbled cells give a log with rising times, or a sentence."""
    try:
        log = read_climate_log("\n".join(delimiter.join(row) for row in rows).encode())
    except KeeperError:
        return
    for series in log.series:
        assert np.all(np.diff(series.times_s) > 0)
        assert np.all(np.isnan(series.temperature_c) | (np.abs(series.temperature_c) < 85))
