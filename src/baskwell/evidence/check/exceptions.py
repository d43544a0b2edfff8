"""Findings that are known and accepted, each with a reason and an end."""

from collections.abc import Iterator, Mapping, Sequence

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.tables import Table

EXCEPTIONS = "exceptions.csv"
Accepted = tuple[str, str, str, str]


def without_accepted(tables: Mapping[str, Table], problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """The findings that no exception accepts, and the exceptions that accept nothing any more."""
    table = tables.get(EXCEPTIONS)
    if table is None:
        return tuple(problems)
    accepted = {_key(record): index for index, record in enumerate(table.records)}
    met = {_met(problem) for problem in problems}
    left = tuple(problem for problem in problems if _met(problem) not in accepted)
    return (*left, *_idle(table, accepted, met))


def _key(record: Mapping[str, str]) -> Accepted:
    return record["rule"], record["table"], record["row_key"], record["column"]


def _met(problem: Problem) -> Accepted:
    return problem.rule, problem.file, problem.key, problem.column


def _idle(table: Table, accepted: Mapping[Accepted, int], met: set[Accepted]) -> Iterator[Problem]:
    for key, index in accepted.items():
        if key not in met:
            todo = "Take it out: it would hide the next finding of this kind."
            yield at(table, index, "rule", "exception", "is an exception that accepts nothing", todo)
