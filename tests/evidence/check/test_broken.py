"""Every refusal of the checks, by a broken copy of the shipped tables (tests/data/broken_evidence.toml)."""

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from baskwell.evidence.check import FIRST, RULES, Problem, check_evidence, check_tables
from baskwell.evidence.reader import Reader
from baskwell.evidence.tables import Table

FILE = Path(__file__).parents[2] / "data" / "broken_evidence.toml"
BROKEN: list[dict[str, Any]] = tomllib.loads(FILE.read_text(encoding="utf-8"))["broken"]


@pytest.fixture(scope="module")
def shipped() -> Mapping[str, Table]:
    """The shipped tables as text."""
    return Reader().all_tables


def _broken(table: Table, case: dict[str, Any]) -> Table:
    if "field" in case:
        return _with_field(table, case["field"])
    if "schema" in case:
        return replace(
            table, resource=replace(table.resource, schema=replace(table.resource.schema, **case["schema"]))
        )
    if "drop_column" in case:
        at = table.header.index(case["drop_column"])
        rows = [[*row[:at], *row[at + 1 :]] for row in table.rows]
        return replace(table, header=(*table.header[:at], *table.header[at + 1 :]), rows=rows)
    return _with_row(table, case)


def _with_field(table: Table, change: dict[str, Any]) -> Table:
    schema = table.resource.schema
    fields = tuple(replace(f, **change) if f.name == change["name"] else f for f in schema.fields)
    return replace(table, resource=replace(table.resource, schema=replace(schema, fields=fields)))


def _with_row(table: Table, case: dict[str, Any]) -> Table:
    keys = [table.key(index) for index in range(len(table.rows))]
    index = 0 if case.get("first_row") else keys.index(case["row"])
    cells = {**table.records[index], **case["set"]}
    row = [cells[name] for name in table.header]
    rows = [*table.rows, row] if case.get("add") else [*table.rows[:index], row, *table.rows[index + 1 :]]
    return replace(table, rows=rows)


@pytest.mark.parametrize("case", BROKEN, ids=lambda case: case["what"])
def test_is_refused_with_the_words_that_help(case: dict[str, Any], shipped: Mapping[str, Table]) -> None:
    """The message names the place, the value, what is wrong and what to do."""
    tables = {**shipped, case["table"]: _broken(shipped[case["table"]], case)}
    problems = [problem for problem in check_tables(tables) if problem.rule == case["rule"]]
    sentences = [problem.sentence for problem in problems]
    assert any(all(word in sentence for word in case["words"]) for sentence in sentences), sentences


def test_each_rule_word_has_a_broken_example() -> None:
    """A rule that no broken file reaches could be dead."""
    words = {case["rule"] for case in BROKEN}
    assert words == {
        "columns", "type", "word", "range", "duplicate", "order", "whole", "unit", "physical", "id",
        "links", "source", "grade", "cover", "count", "unused", "unreachable", "reason", "limit", "choice",
        "exception",
    }  # fmt: skip


def test_the_shipped_tables_are_in_order() -> None:
    """The tables that users get have no finding."""
    assert [problem.sentence for problem in check_evidence()] == []


def test_all_findings_come_at_once(shipped: Mapping[str, Table]) -> None:
    """Two faults in two tables give two findings in one run."""
    cases = [case for case in BROKEN if case["what"] in ("low is above mode", "a source that is not listed")]
    broken = {case["table"]: _broken(shipped[case["table"]], case) for case in cases}
    assert {problem.rule for problem in check_tables({**shipped, **broken})} == {"order", "source"}


def test_a_broken_file_is_a_finding_not_a_crash(tmp_path: Path) -> None:
    """A folder without the package is told in one sentence."""
    problems = check_evidence(tmp_path)
    assert len(problems) == 1
    assert "datapackage.json" in problems[0].sentence


def test_rules_are_all_listed() -> None:
    """Each public rule of the check modules is run."""
    from baskwell.evidence.check import choices, forms, ids, limits, orders, ranges, sources, taxa, units

    helpers = {"path_of", "known_units", "is_known"}
    rules = {
        name
        for module in (choices, forms, ids, limits, orders, ranges, sources, taxa, units)
        for name, thing in vars(module).items()
        if callable(thing)
        and getattr(thing, "__module__", "") == module.__name__
        and not name.startswith("_")
    }
    assert rules - helpers - {rule.__name__ for rule in (*FIRST, *RULES)} == set()


def test_a_finding_prints_as_its_sentence() -> None:
    """Printing a finding and asking for its sentence give one text."""
    problem = Problem("order", "a.csv", 3, "x", "low", "5", "is above high 2", "Swap them.")
    assert str(problem) == problem.sentence
