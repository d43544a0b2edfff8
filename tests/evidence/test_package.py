"""The data package: valid for others, complete, and of one mind with the row classes."""

import dataclasses
import importlib
import json
import pkgutil
import re
import types
import typing
from pathlib import Path

import pytest

import baskwell.evidence.rows as row_modules
from baskwell.evidence import load_evidence
from baskwell.evidence.catalogue import Source
from baskwell.evidence.package import DATA, Field, read_package

EVIDENCE = Path(DATA).parent
PACKAGE = read_package()


def _classes() -> dict[str, type]:
    modules = [
        importlib.import_module(f"baskwell.evidence.rows.{m.name}")
        for m in pkgutil.iter_modules(row_modules.__path__)
    ]
    found = {
        name: thing
        for module in modules
        for name, thing in vars(module).items()
        if dataclasses.is_dataclass(thing)
    }
    return {**found, "Source": Source}  # type: ignore[dict-item]


def _pairs() -> list[tuple[str, type]]:
    """Each path of the loader with the class of its rows, read from the loader's own lines."""
    text = "".join((EVIDENCE / name).read_text(encoding="utf-8") for name in ("loader.py", "catalogue.py"))
    classes = _classes()
    single = re.findall(r'\.(?:rows|keyed)\(\s*"([^"]+)",\s*(?:\w+\.)?(\w+)', text)
    pairs = [(path, classes[name]) for path, name in single]
    for area, group in re.findall(r'\.group\("(\w+)",\s*(?:\w+\.)?(\w+)', text):
        for name, hint in typing.get_type_hints(classes[group]).items():
            pairs.append((f"{area}/{name}.csv", typing.get_args(hint)[0]))
    return sorted(set(pairs), key=lambda pair: pair[0])


PAIRS = _pairs()


@pytest.mark.slow
def test_a_general_library_finds_the_package_valid() -> None:
    """Frictionless, which reads any Frictionless Data package, has no complaint about any table."""
    from frictionless import validate

    report = validate(str(DATA / "datapackage.json"))
    faults = [error.message for task in report.tasks for error in task.errors]
    assert report.valid, (faults, [error.message for error in report.errors])


def test_every_table_is_named_once_and_exists() -> None:
    """No CSV file lies beside the package, none is missing (raw food tables are not part of it)."""
    on_disk = {path.relative_to(DATA).as_posix() for path in DATA.rglob("*.csv") if "raw" not in path.parts}
    assert set(PACKAGE.by_path) == on_disk


def test_every_schema_is_used() -> None:
    """No schema is left over."""
    descriptor = json.loads((DATA / "datapackage.json").read_text(encoding="utf-8"))
    used = {entry["schema"] for entry in descriptor["resources"]}
    assert used == {path.relative_to(DATA).as_posix() for path in (DATA / "schemas").glob("*.json")}


def test_every_table_has_a_title_words_and_a_licence() -> None:
    """Who opens the package elsewhere is told what it is and what may be done with it."""
    descriptor = json.loads((DATA / "datapackage.json").read_text(encoding="utf-8"))
    assert descriptor["licenses"]
    assert [r.name for r in PACKAGE.resources.values() if not (r.schema.title and r.schema.description)] == []


def test_every_table_is_loaded() -> None:
    """Each table can be reached from the evidence."""
    assert {path for path, _ in PAIRS} == set(PACKAGE.by_path)


@pytest.mark.parametrize(("path", "kind"), PAIRS, ids=[path for path, _ in PAIRS])
def test_the_row_class_says_what_the_schema_says(path: str, kind: type) -> None:
    """Columns, types, what may be empty and the words of word columns are the same in both."""
    schema = PACKAGE.by_path[path].schema
    hints = {name.rstrip("_"): hint for name, hint in typing.get_type_hints(kind).items()}
    assert list(hints) == [field.name for field in schema.fields]
    wrong = {
        name: (hint, schema.by_name[name])
        for name, hint in hints.items()
        if not _agree(hint, schema.by_name[name])
    }
    assert wrong == {}


def _agree(hint: object, field: Field) -> bool:
    origin, args = typing.get_origin(hint), typing.get_args(hint)
    if field.separator or origin is tuple:
        return origin is tuple and bool(field.separator)
    if origin is typing.Literal:
        return set(args) - {""} == set(field.enum) and ("" in args) != field.required
    if hint is str:
        return field.type == "string"
    kinds: dict[str, object] = {"number": float, "integer": int, "boolean": bool}
    wanted = kinds.get(field.type)
    if origin is types.UnionType:
        return not field.required and set(args) == {wanted, type(None)}
    return field.required and hint is wanted


def test_the_wheel_holds_the_tables_and_not_the_raw_ones() -> None:
    """The build takes the package folder whole, the raw food tables apart."""
    text = (EVIDENCE.parents[2] / "pyproject.toml").read_text(encoding="utf-8")
    assert 'packages = ["src/baskwell"]' in text
    assert '"src/baskwell/evidence/data/foods/raw"' in text


def test_check_values_name_sources_that_exist() -> None:
    """The outside check values name sources of sources.csv too, not only the tables."""
    import csv

    from baskwell.evidence.sourcing import source_ids

    known = load_evidence().sources
    folder = EVIDENCE.parents[2] / "tests" / "data"
    for name in ("food_checks.csv", "environment/checks.csv", "nutrition/worked_examples.csv"):
        with (folder / name).open(newline="", encoding="utf-8") as handle:
            named = {source for row in csv.DictReader(handle) for source in source_ids(row["source_id"])}
        assert named - set(known) == set(), name
