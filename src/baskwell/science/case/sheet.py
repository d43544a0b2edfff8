"""What the reader carries along: where it is, what may stand there, what it has found wrong."""

import datetime as dt
from dataclasses import dataclass, field
from typing import Any

from baskwell.science.case.lines import LineIndex
from baskwell.science.case.problem import MOST_PROBLEMS, CaseFileError, Path, Problem, path_text, shown
from baskwell.science.case.vocabulary import Vocabulary


@dataclass
class Sheet:
    """One file being read: its lines, its words, the day, and the problems and warnings so far."""

    lines: LineIndex
    words: Vocabulary
    today: dt.date
    problems: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)

    def refuse(self, path: Path, sentence: str, value: Any = "") -> None:
        """Note a problem; past the fiftieth the reading ends with ``CaseFileError``."""
        self.problems.append(self._problem(path, sentence, value))
        if len(self.problems) >= MOST_PROBLEMS:
            self.end(more=True)

    def warn(self, path: Path, sentence: str, value: Any = "") -> None:
        """Note something doubtful; past the fiftieth they are no longer kept."""
        if len(self.warnings) < MOST_PROBLEMS:
            self.warnings.append(self._problem(path, sentence, value))

    def end(self, *, more: bool = False) -> None:
        """Raise ``CaseFileError`` if there are problems, in the order of the file."""
        if self.problems:
            raise CaseFileError(sorted(self.problems, key=lambda one: one.line or 0), more)

    def _problem(self, path: Path, sentence: str, value: Any) -> Problem:
        line, where = self.lines.of(path), path_text(path)
        place = ", ".join([*([f"Line {line}"] if line else []), *([where] if where else [])])
        return Problem(line, where, "" if value == "" else shown(value), f"{place or 'The file'}: {sentence}")


@dataclass(frozen=True)
class Spot:
    """One place of the file: the sheet and the path to the place."""

    sheet: Sheet
    path: Path = ()

    def at(self, part: str | int) -> "Spot":
        """Return the place one step further in."""
        return Spot(self.sheet, (*self.path, part))

    @property
    def key(self) -> str:
        """The nearest key: ``amount`` for ``history.diet[2].amount``."""
        return next((part for part in reversed(self.path) if isinstance(part, str)), "")

    def refuse(self, sentence: str, value: Any = "") -> None:
        """Note a problem at this place."""
        self.sheet.refuse(self.path, sentence, value)

    def warn(self, sentence: str, value: Any = "") -> None:
        """Note something doubtful at this place."""
        self.sheet.warn(self.path, sentence, value)
