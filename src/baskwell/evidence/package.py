"""The data package: which tables there are and what form each column has, read from JSON."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"
DESCRIPTOR = "datapackage.json"


@dataclass(frozen=True)
class Field:
    """A column: its type (string, number, integer, boolean), unit, and what a cell must be.

    ``unit`` is a unit, or ``row:COLUMN`` where the row tells. ``separator`` splits a cell into a list.
    ``references`` is ``resource.column`` that every item of the list must be found in. ``sources`` marks
    a cell that names sources, ``cover`` one that holds a taxon cover.
    """

    name: str
    type: str
    unit: str = ""
    separator: str = ""
    references: str = ""
    sources: bool = False
    cover: bool = False
    required: bool = False
    enum: tuple[str, ...] = ()
    minimum: float | None = None
    maximum: float | None = None


@dataclass(frozen=True)
class ForeignKey:
    """A column whose cells must be found in a column of another table."""

    field: str
    resource: str
    reference: str


@dataclass(frozen=True)
class Schema:
    """The form of one table.

    ``orderings`` are runs of columns that must not fall from left to right. ``grade`` and ``source``
    say where a value's grade and source are found: ``field:COLUMN``, ``constant:WORD`` or words.
    """

    title: str
    description: str
    fields: tuple[Field, ...]
    primary_key: tuple[str, ...] = ()
    foreign_keys: tuple[ForeignKey, ...] = ()
    orderings: tuple[tuple[str, ...], ...] = ()
    grade: str = ""
    source: str = ""

    @cached_property
    def by_name(self) -> Mapping[str, Field]:
        """The columns by name."""
        return {field.name: field for field in self.fields}


@dataclass(frozen=True)
class Resource:
    """A table of the package: its name (``area_table``), file and form."""

    name: str
    path: str
    schema: Schema

    @property
    def area(self) -> str:
        """The folder of the table, empty for those that serve all areas."""
        return self.path.rpartition("/")[0]


@dataclass(frozen=True)
class Package:
    """All tables of one folder."""

    folder: Path
    version: str
    resources: Mapping[str, Resource]

    @cached_property
    def by_path(self) -> Mapping[str, Resource]:
        """The tables by the path of their file."""
        return {resource.path: resource for resource in self.resources.values()}


def read_package(folder: Path = DATA) -> Package:
    """Read ``datapackage.json`` and the schemas it names.

    >>> package = read_package()
    >>> package.resources["clinical_links"].schema.primary_key
    ('condition_id', 'sign_id', 'taxon')

    Raises ``FileNotFoundError`` where the descriptor or a schema is missing.
    """
    descriptor = _json(folder / DESCRIPTOR)
    resources = {entry["name"]: _resource(folder, entry) for entry in descriptor["resources"]}
    return Package(folder, descriptor["version"], resources)


def _json(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))


def _resource(folder: Path, entry: Mapping[str, Any]) -> Resource:
    return Resource(entry["name"], entry["path"], schema_from(_json(folder / entry["schema"])))


def schema_from(raw: Mapping[str, Any]) -> Schema:
    """Read one Table Schema with our further properties.

    >>> schema_from({"fields": [{"name": "p", "type": "number", "unit": "probability"}]}).fields[0].unit
    'probability'
    """
    return Schema(
        title=raw.get("title", ""),
        description=raw.get("description", ""),
        fields=tuple(_field(field) for field in raw["fields"]),
        primary_key=tuple(raw.get("primaryKey", ())),
        foreign_keys=tuple(_foreign_key(key) for key in raw.get("foreignKeys", ())),
        orderings=tuple(tuple(run) for run in raw.get("orderings", ())),
        grade=raw.get("grade", ""),
        source=raw.get("source", ""),
    )


def _field(raw: Mapping[str, Any]) -> Field:
    limits = raw.get("constraints", {})
    return Field(
        name=raw["name"],
        type=raw["type"],
        unit=raw.get("unit", ""),
        separator=raw.get("list", ""),
        references=raw.get("references", ""),
        sources=raw.get("sources", False),
        cover=raw.get("cover", False),
        required=limits.get("required", False),
        enum=tuple(limits.get("enum", ())),
        minimum=limits.get("minimum"),
        maximum=limits.get("maximum"),
    )


def _foreign_key(raw: Mapping[str, Any]) -> ForeignKey:
    reference = raw["reference"]
    return ForeignKey(raw["fields"][0], reference["resource"], reference["fields"][0])
