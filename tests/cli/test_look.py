"""How output may look on a stream."""

import io

import pytest

from baskwell.cli.look import style_for
from baskwell.cli.progress import Progress


class _Terminal(io.TextIOWrapper):
    def isatty(self) -> bool:
        return True


def _terminal(encoding: str = "utf-8") -> _Terminal:
    return _Terminal(io.BytesIO(), encoding=encoding)


@pytest.fixture(autouse=True)
def _plain_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("NO_COLOR", "TERM", "LC_ALL", "LC_CTYPE", "COLUMNS"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LANG", "en_GB.UTF-8")


def test_colour_is_for_terminals_only() -> None:
    """A file or a pipe gets plain text."""
    assert style_for(_terminal()).colour
    assert not style_for(io.TextIOWrapper(io.BytesIO(), encoding="utf-8")).colour


@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_colour_can_be_turned_off(monkeypatch: pytest.MonkeyPatch, name: str, value: str) -> None:
    """NO_COLOR (no-color.org) and dumb terminals."""
    monkeypatch.setenv(name, value)
    assert not style_for(_terminal()).colour


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252"])
def test_other_encodings_get_ascii(encoding: str) -> None:
    """Dots and dashes that a stream cannot hold are written in ASCII."""
    assert style_for(_terminal(encoding)).ascii_only


@pytest.mark.parametrize("locale", ["C", "POSIX"])
def test_a_stated_c_locale_gets_ascii(monkeypatch: pytest.MonkeyPatch, locale: str) -> None:
    """Python writes UTF-8 there, but the terminal was said not to show it."""
    monkeypatch.setenv("LC_ALL", locale)
    assert style_for(_terminal()).ascii_only


@pytest.mark.parametrize(("columns", "width"), [("200", 80), ("60", 60), ("10", 40)])
def test_width_follows_a_narrow_terminal(monkeypatch: pytest.MonkeyPatch, columns: str, width: int) -> None:
    """Never over 80, never under 40."""
    monkeypatch.setenv("COLUMNS", columns)
    assert style_for(_terminal()).width == width


def test_progress_waits_a_second_and_clears_its_line() -> None:
    """A quick task shows nothing; a slow one shows one line and leaves none."""
    now = [0.0]
    stream = _terminal()
    with Progress(stream, clock=lambda: now[0]) as progress:
        progress("reading", 0.1)
        now[0] = 1.5
        progress("why", 0.5)
    stream.flush()
    shown = stream.buffer.getvalue().decode()  # type: ignore[attr-defined]
    assert "reading" not in shown
    assert "why, 50 %" in shown
    assert shown.endswith("\r")


def test_progress_is_silent_where_nobody_looks() -> None:
    """Nothing in a log file."""
    stream = io.StringIO()
    with Progress(stream, clock=iter([0.0, 5.0, 6.0]).__next__) as progress:
        progress("why", 0.5)
    assert stream.getvalue() == ""
