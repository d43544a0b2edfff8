"""The line index agrees with the TOML reader on every path, and never costs much."""

import contextlib
import time
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case import write_case
from baskwell.science.case.lines import TooMuch, index_lines
from baskwell.science.case.model import Case
from baskwell.science.case.problem import Path
from strategies import cases


def paths(value: Any, path: Path = ()) -> Iterator[Path]:
    """Yield every path of a parsed file."""
    if path:
        yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for part, one in inner:
        yield from paths(one, (*path, part))


@given(cases(load_evidence()))
def test_every_path_of_a_written_case_has_its_line(case: Case) -> None:
    """Whatever the TOML reader finds, the index knows, and the key stands on the line it names."""
    text = write_case(case)
    index, rows = index_lines(text), text.split("\n")
    for path in paths(tomllib.loads(text)):
        line = index.lines[path]
        key = next(part for part in reversed(path) if isinstance(part, str))
        assert key in rows[line - 1]


@pytest.mark.parametrize(
    ("text", "path", "line"),
    [
        ('a = "[x]"\n# [b]\n[b]\nc = 1', ("b", "c"), 4),
        ('a = """\n[b]\nc = 1\n"""\n[b]\nc = 2', ("b", "c"), 6),
        ("a = '''\n\"\n'''\nb = 1", ("b",), 4),
        ('a = """x\\"""\\\\""""\nb = 1', ("b",), 2),
        ("a = [\n  1,\n  2, # ]\n  3,\n]\nb = 1", ("a", 2), 4),
        ("a = [{ b = 1 },\n { b = 2 }]", ("a", 1, "b"), 2),
        ("[[a]]\n[[a]]\nb = 1", ("a", 1, "b"), 3),
        ("[[a]]\n[a.c]\nb = 1\n[[a]]\n[a.c]\nb = 2", ("a", 1, "c", "b"), 6),
        ("[[a]]\n[[a.c]]\n[[a.c]]\nb = 1", ("a", 0, "c", 1, "b"), 4),
        ('[ "a b" . c ]\nd = 1', ("a b", "c", "d"), 2),
        ("a.b.c = 1", ("a", "b", "c"), 1),
        ("a = 1.5\r\nb = 2026-03-14T09:10:00\r\nc = 3\r\n", ("c",), 3),
        ('"a.b" = 1', ("a.b",), 1),
    ],
)
def test_line_of_a_path(text: str, path: Path, line: int) -> None:
    """Strings, comments, lists over several lines, quoted and dotted keys do not lead it astray."""
    tomllib.loads(text)
    assert index_lines(text).of(path) == line


def test_an_unknown_path_has_the_line_of_the_table_around_it() -> None:
    """What is missing is told at the heading under which it should stand."""
    assert index_lines("\n[animal]\nname = 1").of(("animal", "taxon")) == 2
    assert index_lines("").of(("animal",)) is None


@given(st.text(st.sampled_from("[]{}=,.\"'\\#\n ab1"), max_size=60))
def test_any_text_can_be_indexed(text: str) -> None:
    """The index of what is no TOML may be poor, but making it never fails otherwise than by refusal."""
    try:
        index_lines(text)
    except TooMuch as refusal:
        assert refusal.line >= 1


@given(st.text(st.sampled_from("[]{}=,.\"'\\#\n ab1"), max_size=40))
def test_valid_toml_is_indexed_whole(text: str) -> None:
    """Where the TOML reader accepts a text, each of its paths (short of dotted keys) has a line."""
    try:
        values = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return
    index = index_lines(text)
    assert all(index.of(path) is not None for path in paths(values))


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 100_000,
        "a" + ".a" * 400_000 + " = 1",
        "a = [" + "1," * 400_000 + "]",
        "[a]\n" * 200_000,
    ],
    ids=["nested", "dotted", "long list", "many headings"],
)
def test_too_much_is_refused_at_once(text: str) -> None:
    """Nesting, dotted keys and entries beyond any case end the pass (at most two seconds of one core)."""
    start = time.process_time()
    with pytest.raises(TooMuch):
        index_lines(text)
    assert time.process_time() - start < 2


@pytest.mark.parametrize("unit", ['"', '"""', "'''\"", '"\\', '\'"""\\', "#", "\\"])
def test_no_quoting_makes_it_slow(unit: str) -> None:
    """A megabyte of any quote pattern takes linear time (at most two seconds of one core)."""
    start = time.process_time()
    with contextlib.suppress(TooMuch):
        index_lines(unit * (1_000_000 // len(unit)))
    assert time.process_time() - start < 2
