"""Where each key and entry of a case file stands: line numbers that the TOML reader does not give.

One pass over the pieces of the text. The pass also refuses, before the TOML reader sees it, what
would make any reader slow or overflow its stack: deep nesting, endless dotted keys, endless lists.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from baskwell.science.case.problem import Path

DEEPEST = 12
MOST_DOTS = 12
MOST_PIECES = 150_000

_PIECE = re.compile(
    r"""
      (?P<skip>[ \t\r]++|\#[^\n]*+)
    | (?P<newline>\n)
    | (?P<string>
          \"{3}(?:[^"\\]++|\\.|"{1,2}(?!"))*+(?:"{3,5}|\\?\Z)
        | '{3}(?:[^']++|'{1,2}(?!'))*+(?:'{3,5}|\Z)
        | "(?:[^"\\\n]++|\\[^\n])*+"?
        | '[^'\n]*+'?
      )
    | (?P<mark>[\[\]{},=.])
    | (?P<bare>[^\s\[\]{},=."'\#]++|.)
    """,
    re.VERBOSE | re.DOTALL,
)


class TooMuch(Exception):  # noqa: N818 - becomes a Problem at once
    """The text nests or repeats beyond what any case needs; ``line`` says where."""

    def __init__(self, line: int, sentence: str) -> None:
        self.line = line
        super().__init__(sentence)


@dataclass(frozen=True)
class LineIndex:
    """The line on which each path of the file begins."""

    lines: Mapping[Path, int] = field(default_factory=dict)

    def of(self, path: Path) -> int | None:
        """Return the line of a path, or of the nearest table around it; None where there is none."""
        for length in range(len(path), 0, -1):
            found = self.lines.get(path[:length])
            if found is not None:
                return found
        return None


@dataclass
class _Frame:
    """One open bracket: a list with its counter, a table with the key being read, or the top."""

    path: Path
    is_list: bool = False
    count: int = 0
    key: list[str] = field(default_factory=list)
    dots: int = 0
    in_value: bool = False

    @property
    def value_path(self) -> Path:
        return (*self.path, self.count) if self.is_list else (*self.path, *self.key)

    def next_entry(self) -> None:
        self.key, self.dots, self.in_value = [], 0, False

    def dot(self, line: int) -> None:
        self.dots += not self.in_value
        if self.dots > MOST_DOTS:
            raise TooMuch(line, f"a key here has more than {MOST_DOTS} dots; a case needs three.")


def index_lines(text: str) -> LineIndex:
    r"""Index a text; of a text that is no TOML the index is partial.

    Raises ``TooMuch`` where the text nests or repeats beyond what a case can need.

    >>> index_lines('[animal]\nmass_g = 395\n').of(("animal", "mass_g"))
    2
    """
    walk = _Walk()
    for line, kind, piece in _pieces(text):
        walk.step(line, kind, piece)
    return LineIndex(walk.lines)


def _pieces(text: str) -> Iterator[tuple[int, str, str]]:
    line = 1
    for number, match in enumerate(_PIECE.finditer(text)):
        kind, piece = match.lastgroup or "", match.group()
        if number > MOST_PIECES:
            raise TooMuch(line, "the file holds more entries than a case can need. Is it the right file?")
        if kind != "skip":
            yield line, kind, piece
        if kind in {"newline", "string"}:
            line += piece.count("\n")


class _Walk:
    """The state of the pass: open brackets, the table of the last header, entries counted."""

    def __init__(self) -> None:
        self.lines: dict[Path, int] = {}
        self.counts: dict[Path, int] = {}
        self.frames = [_Frame(())]
        self.header: _Frame | None = None

    def step(self, line: int, kind: str, piece: str) -> None:
        """Take one piece."""
        if self.header is not None:
            self._in_header(self.header, line, kind, piece)
        elif kind == "newline":
            self._end_of_line()
        elif kind == "mark":
            self._mark(line, piece)
        else:
            self._word(line, piece)

    def _in_header(self, header: _Frame, line: int, kind: str, piece: str) -> None:
        if piece == "[" and not header.key:
            header.is_list = True
        elif piece == "." and kind == "mark":
            header.dot(line)
        elif piece == "]" or kind == "newline":
            self._close_header(header, line)
        elif kind != "mark":
            header.key.append(_unquoted(piece))

    def _close_header(self, header: _Frame, line: int) -> None:
        path: Path = ()
        for place, part in enumerate(header.key):
            path = (*path, part)
            self.lines.setdefault(path, line)
            if header.is_list and place == len(header.key) - 1:
                self.counts[path] = self.counts.get(path, 0) + 1
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
        self.lines.setdefault(path, line)
        self.frames, self.header = [_Frame(path)], None

    def _end_of_line(self) -> None:
        if len(self.frames) == 1:
            self.frames[0].next_entry()

    def _mark(self, line: int, piece: str) -> None:
        top = self.frames[-1]
        if piece in "[{":
            self._open(line, piece)
        elif piece in "]}":
            self.frames = self.frames[:-1] or self.frames[:1]
        elif piece == "=":
            top.in_value = True
            self.lines.setdefault(top.value_path, line)
        elif piece == ",":
            top.count += 1
            top.next_entry()
        else:
            top.dot(line)

    def _open(self, line: int, piece: str) -> None:
        top = self.frames[-1]
        if len(self.frames) == 1 and not top.in_value:
            self.header = _Frame(())
            return
        if len(self.frames) > DEEPEST:
            raise TooMuch(line, f"brackets are nested more than {DEEPEST} deep; a case needs four.")
        self.lines.setdefault(top.value_path, line)
        self.frames.append(_Frame(top.value_path, is_list=piece == "["))

    def _word(self, line: int, piece: str) -> None:
        top = self.frames[-1]
        if top.is_list:
            self.lines.setdefault(top.value_path, line)
        elif not top.in_value:
            top.key.append(_unquoted(piece))


def _unquoted(piece: str) -> str:
    return piece.strip("\"'") if piece[:1] in {'"', "'"} else piece
