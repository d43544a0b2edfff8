"""Ranges run the right way, and parts do not pass the whole."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.tables import Table

Tables = Mapping[str, Table]


def runs_ascend(tables: Tables) -> Iterator[Problem]:
    """Low <= mode <= high, minimum <= target <= maximum, and the like, as the schema lists them."""
    for table in tables.values():
        for run in table.resource.schema.orderings:
            for index, record in enumerate(table.records):
                yield from _falls(table, index, run, [record.get(name, "") for name in run])


def _falls(table: Table, index: int, run: Sequence[str], cells: Sequence[str]) -> Iterator[Problem]:
    filled = [
        (name, number) for name, cell in zip(run, cells, strict=True) if (number := _number(cell)) is not None
    ]
    for (left, low), (right, high) in pairwise(filled):
        if low > high:
            wrong = f"is above {right} {high:g}"
            yield at(table, index, left, "order", wrong, "Put them in order, or correct the misprint.")


def _number(cell: str) -> float | None:
    try:
        return float(cell)
    except ValueError:
        return None


def shares_within_whole(tables: Tables) -> Iterator[Problem]:
    """The proximates of a food do not pass 100 g per 100 g by more than the tables' own rounding."""
    table = tables.get("foods/foods.csv")
    parts = ("water_g", "protein_g", "fat_g", "ash_g", "carbohydrate_g")
    if table is None:
        return
    for index, record in enumerate(table.records):
        numbers = [_number(record[part]) for part in parts]
        total = sum(number for number in numbers if number is not None)
        if total > 103:
            wrong = f"together with the other proximates makes {total:.1f} g in 100 g"
            todo = "Check the row against its source; record a known oddity in exceptions.csv."
            yield at(table, index, "water_g", "whole", wrong, todo)
