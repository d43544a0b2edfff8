"""Figures can be true at all."""

from collections.abc import Iterator, Mapping

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.tables import Table

Tables = Mapping[str, Table]
Range = tuple[float | None, float | None]


def values_physical(tables: Tables) -> Iterator[Problem]:
    """Numbers lie in the physical range of their parameter, nutrient or unit."""
    yield from _by_register(
        tables,
        "environment/species_environment.csv",
        "environment/parameters.csv",
        "parameter",
        ("low", "high"),
    )
    yield from _by_register(
        tables, "nutrition/nutrient_targets.csv", "nutrition/nutrients.csv", "nutrient",
        ("minimum", "target_low", "target_high", "maximum"),
    )  # fmt: skip
    yield from _by_unit(tables)


def _range(record: Mapping[str, str]) -> Range:
    low, high = record["physical_low"], record["physical_high"]
    return (float(low) if low else None, float(high) if high else None)


def _by_register(
    tables: Tables, path: str, register: str, key: str, columns: tuple[str, ...]
) -> Iterator[Problem]:
    if path not in tables or register not in tables:
        return
    ranges = {record[key]: (record["unit"], _range(record)) for record in tables[register].records}
    for index, record in enumerate(tables[path].records):
        unit, limits = ranges.get(record[key], ("", (None, None)))
        if record["unit"] == unit:
            yield from _outside(tables[path], index, columns, limits, record[key])


def _by_unit(tables: Tables) -> Iterator[Problem]:
    ranges = {record["unit"]: _range(record) for record in tables["units.csv"].records}
    for table in tables.values():
        for field in table.resource.schema.fields:
            by_row = field.unit.startswith("row:")
            if field.type not in ("number", "integer") or not (by_row or any(_ends(ranges, field.unit))):
                continue
            for index, record in enumerate(table.records):
                unit = record.get(field.unit[4:], "") if by_row else field.unit
                if any(_ends(ranges, unit)):
                    yield from _outside(table, index, (field.name,), ranges[unit], unit)


def _ends(ranges: Mapping[str, Range], unit: str) -> tuple[bool, bool]:
    """Which sides of a unit's range are limited."""
    low, high = ranges.get(unit, (None, None))
    return low is not None, high is not None


def _outside(
    table: Table, index: int, columns: tuple[str, ...], limits: Range, what: str
) -> Iterator[Problem]:
    low, high = limits
    for column in columns:
        cell = table.records[index].get(column, "")
        try:
            value = float(cell)
        except ValueError:
            continue
        if (low is not None and value < low) or (high is not None and value > high):
            wrong = f"cannot be for {what}: {_words(low)} to {_words(high)}"
            yield at(table, index, column, "physical", wrong, "Look for a misprint or a wrong unit.")


def _words(limit: float | None) -> str:
    return "no limit" if limit is None else f"{limit:g}"
