"""Tables that users keep in a folder of their own, beside the shipped ones.

The files have the form of the shipped tables; columns that may be empty may be left out, and a column
``replaces`` may be added: ``y`` puts the row in the place of the shipped row with the same key. Own rows
get the grade ``own``. Safety limits are not among the files: they stand above own rows as above all.
"""

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol

from baskwell.evidence.check.problem import Problem
from baskwell.evidence.errors import OwnTablesError
from baskwell.evidence.package import Package, Resource
from baskwell.evidence.tables import Table

OWN_FILES: Mapping[str, str] = {
    "taxa.csv": "clinical/taxa.csv",
    "foods.csv": "foods/foods.csv",
    "labels.csv": "foods/labels.csv",
    "species_environment.csv": "environment/species_environment.csv",
    "sources.csv": "sources.csv",
}
_GRADES = ("grade", "evidence_grade", "quality")
_OWN = {"grade": "own", "source": "OWN"}
_GROUPS = {"herbivorous": "herbivore", "omnivorous": "omnivore", "carnivorous": "carnivore"}


class Shipped(Protocol):
    """The reader of the shipped tables."""

    package: Package

    def table(self, path: str) -> Table:
        """The table at a path, as text."""


@dataclass(frozen=True)
class OwnRow:
    """A row of a user file: where it stands, its cells by column, whether it replaces a shipped one."""

    file: str
    line: int
    cells: Mapping[str, str]
    replaces: bool


def own_bytes_in(folder: Path) -> Mapping[str, bytes]:
    """The bytes of the user files, for the version of the evidence."""
    return {f"own/{name}": (folder / name).read_bytes() for name in OWN_FILES if (folder / name).exists()}


def with_own_rows(shipped: Shipped, folder: Path) -> Mapping[str, Table]:
    """The shipped tables that a user folder adds to, with the own rows at their end.

    Raises ``OwnTablesError`` with every finding where a file is not of the right form, an id clashes with
    a shipped one without ``replaces = y``, or the rows do not pass the checks of the shipped tables.
    """
    problems = list(_strange_files(folder))
    merged: dict[str, Table] = {}
    for name, path in OWN_FILES.items():
        if (folder / name).exists():
            table = shipped.table(path)
            rows, found = _read_own(folder / name, table.resource)
            problems += [*found, *_clashes(table, rows)]
            merged[path] = _joined(table, _completed(_from_replaced(table, rows), path, merged))
    merged |= _names_of_own_taxa(shipped, merged)
    if not any(problem.rule == "columns" for problem in problems):
        problems += _checked(shipped, merged, folder)
    if problems:
        raise OwnTablesError([problem.sentence for problem in problems])
    return merged


def _strange_files(folder: Path) -> Iterator[Problem]:
    if not folder.is_dir():
        todo = "Check the name of the folder."
        yield Problem("file", str(folder), 0, "", "", "", "is not a folder", todo)
    for path in sorted(folder.glob("*.csv")):
        if path.name not in OWN_FILES:
            todo = f"Files that are read: {', '.join(OWN_FILES)}."
            yield Problem("file", str(path), 0, "", "", "", "is not a table that can be added to", todo)


def _read_own(path: Path, resource: Resource) -> tuple[list[OwnRow], list[Problem]]:
    reader = csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig")))
    known = {field.name for field in resource.schema.fields}
    strange = [name for name in reader.fieldnames or () if name not in known | {"replaces"}]
    if strange:
        wrong, todo = "is not a column of this table", f"Columns: {', '.join(sorted(known))}."
        return [], [Problem("columns", str(path), 1, "", name, name, wrong, todo) for name in strange]
    rows = [
        OwnRow(
            str(path), line, {k: v or "" for k, v in raw.items() if k in known}, raw.get("replaces") == "y"
        )
        for line, raw in enumerate(reader, start=2)
    ]
    return rows, []


def _clashes(table: Table, rows: list[OwnRow]) -> Iterator[Problem]:
    keys = table.resource.schema.primary_key
    held = set(zip(*(table.cells(key) for key in keys), strict=True)) if table.rows else set()
    for row in rows:
        own = tuple(row.cells.get(key, "") for key in keys)
        if own in held and not row.replaces:
            wrong = f"is the id of a shipped row of {table.resource.path}"
            todo = "Choose another id, or write y in a column 'replaces'."
            yield Problem("clash", row.file, row.line, ".".join(own), keys[0], own[0], wrong, todo)


def _from_replaced(table: Table, rows: list[OwnRow]) -> list[OwnRow]:
    """A row that replaces another takes from it what it leaves out."""
    keys = table.resource.schema.primary_key
    held = {tuple(record[key] for key in keys): record for record in table.records}
    return [
        replace(row, cells={**held.get(tuple(row.cells.get(key, "") for key in keys), {}), **row.cells})
        if row.replaces
        else row
        for row in rows
    ]


def _completed(rows: list[OwnRow], path: str, merged: Mapping[str, Table]) -> list[OwnRow]:
    """Own rows with the cells that a person need not write: grade, source, keys and choice."""
    if path == OWN_FILES["species_environment.csv"]:
        rows = _environment_keys(rows, merged)
    return [replace(row, cells={**row.cells, **_defaults(row, path)}) for row in rows]


def _defaults(row: OwnRow, path: str) -> Mapping[str, str]:
    if path == "sources.csv":
        return {"areas": row.cells.get("areas") or "own"}
    source = next((name for name in ("source", "source_id") if name in _columns_of(path)), "")
    filled = {name: "own" for name in _GRADES if name in _columns_of(path)}
    if path == OWN_FILES["foods.csv"]:
        filled["source_ref"] = row.cells.get("source_ref") or "own entry"
    return {**filled, source: row.cells.get(source) or "OWN"} if source else filled


def _columns_of(path: str) -> tuple[str, ...]:
    columns = {
        "clinical/taxa.csv": ("grade", "source"),
        "foods/foods.csv": ("quality", "source_id"),
        "environment/species_environment.csv": ("evidence_grade", "source_id"),
    }
    return columns.get(path, ())


def _environment_keys(rows: list[OwnRow], merged: Mapping[str, Table]) -> list[OwnRow]:
    own_taxa = merged.get(OWN_FILES["taxa.csv"])
    names = {record["taxon_id"]: record["scientific_name"] for record in own_taxa.records} if own_taxa else {}
    done = []
    for number, row in enumerate(rows, start=1):
        cells = row.cells
        taxon = cells.get("taxon_id", "")
        keys = {
            "row_id": cells.get("row_id") or f"own.{taxon}.{cells.get('parameter', '')}.{number}",
            "taxon_scientific": cells.get("taxon_scientific") or names.get(taxon, _as_name(taxon)),
            "taxon_common": cells.get("taxon_common") or taxon,
            "bound": cells.get("bound") or "range",
            "use": cells.get("use") or "alternative",
            "prefer": cells.get("prefer") or str(100 + number),
            "prior": cells.get("prior") or "practice",
            "why": cells.get("why") or "own row",
        }
        done.append(replace(row, cells={**cells, **keys}))
    return done


def _as_name(taxon_id: str) -> str:
    return taxon_id.replace("_", " ").capitalize()


def _joined(table: Table, own: list[OwnRow]) -> Table:
    keys = table.resource.schema.primary_key
    replaced = {tuple(row.cells.get(key, "") for key in keys) for row in own if row.replaces}
    shipped = [row for row, record in zip(table.rows, table.records, strict=True)
               if tuple(record[key] for key in keys) not in replaced]  # fmt: skip
    added = [tuple(row.cells.get(name, "") for name in table.header) for row in own]
    return Table(table.resource, table.header, [*shipped, *added], tuple((row.file, row.line) for row in own))


def _names_of_own_taxa(shipped: Shipped, merged: Mapping[str, Table]) -> Mapping[str, Table]:
    """The rows of ``taxon_names.csv`` that lead from an own species to its rows and trophic groups."""
    taxa = merged.get(OWN_FILES["taxa.csv"])
    if taxa is None:
        return {}
    names = shipped.table("clinical/taxon_names.csv")
    known = set(names.cells("taxon_id"))
    own = [
        row
        for index, record in enumerate(taxa.records)
        if index >= len(taxa.rows) - len(taxa.tail) and record["taxon_id"] not in known
        for row in _names_of(record, taxa.place(index), merged)
    ]
    return {"clinical/taxon_names.csv": _joined(names, own)}


def _names_of(
    record: Mapping[str, str], place: tuple[str, int], merged: Mapping[str, Table]
) -> Iterator[OwnRow]:
    base = {
        "taxon_id": record["taxon_id"],
        "life_stage": "all",
        "topics": "all",
        "grade": "own",
        "source": "OWN",
    }
    environment = merged.get(OWN_FILES["species_environment.csv"])
    if environment and record["scientific_name"] in environment.cells("taxon_scientific"):
        cells = {**base, "table": "species_environment", "name": record["scientific_name"]}
        yield OwnRow(*place, {**cells, "rank": "1", "relation": "own"}, False)
    words = [group for tag, group in _GROUPS.items() if tag in record["tags"].split(";")]
    if not words and "insectivorous" in record["tags"]:
        words = ["carnivore"]
    for rank, word in enumerate([*words, "all"], start=1):
        cells = {**base, "table": "nutrient_targets", "name": f"group:{word}"}
        yield OwnRow(*place, {**cells, "rank": str(rank), "relation": "group"}, False)


def _checked(shipped: Shipped, merged: Mapping[str, Table], folder: Path) -> Iterator[Problem]:
    """The findings of all checks that fall on own rows."""
    from baskwell.evidence.check import check_tables

    tables = {path: merged.get(path) or shipped.table(path) for path in shipped.package.by_path}
    yield from (problem for problem in check_tables(tables) if problem.file.startswith(str(folder)))
