"""Every number's unit is known and suits its column."""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.package import Field
from baskwell.evidence.tables import Table

Tables = Mapping[str, Table]
Known = frozenset[str]

_SUFFIXES = {
    "_mm": "mm", "_cm": "cm", "_m2": "m2", "_g": "g", "_mg": "mg", "_ug": "ug", "_iu": "IU", "_pct": "%",
    "_kcal": "kcal", "_h": "h", "_c": "degC", "_l": "L",
}  # fmt: skip
_SUFFIX = re.compile(r"^(?!per_).*(_(?:mm|cm|m2|mg|ug|iu|pct|kcal|g|h|c|l))(?:_(?:low|mode|high))?$")


def known_units(tables: Tables) -> Known:
    """The units and heads of units of ``units.csv``."""
    return frozenset(tables["units.csv"].cells("unit"))


@lru_cache(maxsize=4096)
def is_known(unit: str, known: Known) -> bool:
    """Whether a unit is known: as it stands, or up to a slash or blank (``IU/kg animal`` by ``IU/kg``).

    >>> is_known("mg/kg DM", frozenset({"mg/kg"})), is_known("furlong", frozenset({"mg"}))
    (True, False)
    """
    heads = [unit[: found.start()] for found in re.finditer(r"[ /(;,]", unit)]
    return unit in known or any(head.strip() in known for head in heads)


def units_known(tables: Tables) -> Iterator[Problem]:
    """Every number has a unit, and every unit is of ``units.csv``."""
    known = known_units(tables)
    for table in tables.values():
        for field in table.resource.schema.fields:
            if field.type in ("number", "integer"):
                yield from _unit_of_column(table, field, known)


def _unit_of_column(table: Table, field: Field, known: Known) -> Iterator[Problem]:
    if field.unit.startswith("row:"):
        yield from _units_of_rows(table, field, field.unit[4:], known)
    elif not is_known(field.unit, known):
        wrong = "has no unit" if not field.unit else "has a unit that units.csv does not know"
        todo = "Name the unit in the schema, and add it to units.csv if it is new."
        yield Problem("unit", table.resource.path, 1, "", field.name, field.unit, wrong, todo)


def _units_of_rows(table: Table, field: Field, column: str, known: Known) -> Iterator[Problem]:
    for index, record in enumerate(table.records):
        unit = record.get(column, "")
        if _weighs(record.get(field.name, "")) and not is_known(unit, known):
            wrong = "is a number without a unit" if not unit else f"has the unit '{unit}', which is not known"
            yield at(
                table, index, field.name, "unit", wrong, f"Name its unit in column {column}, see units.csv."
            )


def _weighs(cell: str) -> bool:
    """Nothing is nothing in any unit."""
    return cell not in ("", "0")


def units_suit_names(tables: Tables) -> Iterator[Problem]:
    """A column named ``..._mm`` holds millimetres."""
    for table in tables.values():
        for field in table.resource.schema.fields:
            found = _SUFFIX.match(field.name)
            wanted = _SUFFIXES[found.group(1)] if found else field.unit
            if field.type in ("number", "integer") and field.unit != wanted:
                wrong = f"is the unit of a column whose name says {wanted}"
                todo = "Correct the unit in the schema, or rename the column."
                yield Problem("unit", table.resource.path, 1, "", field.name, field.unit, wrong, todo)


def units_as_registered(tables: Tables) -> Iterator[Problem]:
    """A row of a parameter or nutrient is in the unit stated for it, unless it is not for use."""
    yield from _as_registered(
        tables, "environment/species_environment.csv", "environment/parameters.csv", "parameter"
    )
    yield from _as_registered(tables, "nutrition/nutrient_targets.csv", "nutrition/nutrients.csv", "nutrient")


def _as_registered(tables: Tables, path: str, register: str, column: str) -> Iterator[Problem]:
    if path not in tables or register not in tables:
        return
    wanted = {record[column]: record["unit"] for record in tables[register].records}
    for index, record in enumerate(tables[path].records):
        unit = wanted.get(record[column], record["unit"])
        is_number = any(
            record.get(name) for name in ("low", "high", "minimum", "target_low", "target_high", "maximum")
        )
        if is_number and record["unit"] != unit and record.get("prefer") not in ("n", ""):
            wrong = f"is not the unit of {record[column]} ({unit})"
            todo = "Convert the row, or give the quantity a name of its own."
            yield at(tables[path], index, "unit", "unit", wrong, todo)
