"""What is wrong with a case file, as sentences for the person who wrote it."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from baskwell.science.case.model import Case
from baskwell.science.errors import KeeperError

MOST_PROBLEMS = 50
Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong, or that looks wrong.

    ``line`` counts from 1 and is None where the case did not come from text. ``path`` is
    ``history.diet[2].amount``, entries counted from 1. ``value`` is what stood there, cut short.
    ``sentence`` is complete in itself: what is wrong, where, which value, what to do.
    """

    line: int | None
    path: str
    value: str
    sentence: str


@dataclass(frozen=True)
class CaseReading:
    """A case that could be read, with what looks doubtful in it."""

    case: Case
    warnings: tuple[Problem, ...] = ()


class CaseFileError(KeeperError):
    """A case file that cannot be used, with everything found wrong with it at once.

    ``problems`` holds them in the order of the file; ``more`` tells that reading stopped at the
    fiftieth, so that a hostile or a wholly other file costs no time.

    >>> print(CaseFileError([Problem(3, "animal.mass_g", "-4", "Line 3, animal.mass_g: too low.")]))
    Line 3, animal.mass_g: too low.
    """

    def __init__(self, problems: Sequence[Problem], more: bool = False) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        self.more = more
        super().__init__(self._told())

    def _told(self) -> str:
        sentences = [problem.sentence for problem in self.problems]
        if len(sentences) == 1:
            return sentences[0]
        if self.more:
            sentences.append("There may be more. Mend these first, then try again.")
        return "\n".join([f"{len(self.problems)} things are wrong:", *sentences])


class Refused(Exception):  # noqa: N818 - a refusal is what the reader raises to itself, not to callers
    """A value that may not stand where it stands; caught by the reader, which knows the place."""


def path_text(path: Path) -> str:
    """Write a path the way it is shown: entries of a list counted from 1.

    >>> path_text(("history", "diet", 1, "amount"))
    'history.diet[2].amount'
    """
    parts = [f"[{part + 1}]" if isinstance(part, int) else f".{shown_key(part)}" for part in path]
    return "".join(parts).removeprefix(".")


def shown_key(key: str) -> str:
    """Write a key so that nothing in it can disturb a screen: odd ones quoted, long ones cut."""
    plain = key.replace("_", "").replace("-", "")
    return key if plain.isalnum() and plain.isascii() and len(key) <= 60 else shown(key)


def shown(value: Any, longest: int = 60) -> str:
    """Write a value the way it stood in the file, cut short, control characters escaped.

    >>> shown("a" * 80)
    '"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa...'
    >>> shown([1, True, {"grams": 2.5}])
    '[1, true, { grams = 2.5 }]'
    """
    written = _written(value, longest)
    return written if len(written) <= longest else written[:longest] + "..."


def _written(value: Any, longest: int) -> str:
    if isinstance(value, str):
        return json.dumps(value[: longest + 1], ensure_ascii=not value.isprintable())
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) >= 10**18:
        return "a whole number of more than 18 digits"
    if isinstance(value, list):
        return "[" + ", ".join(_written(one, longest) for one in value[:longest]) + "]"
    if isinstance(value, dict):
        pairs = [f"{shown_key(key)} = {_written(one, longest)}" for key, one in list(value.items())[:longest]]
        return "{ " + ", ".join(pairs) + " }"
    return str(value)
