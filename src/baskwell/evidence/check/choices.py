"""What counts where rows disagree is stated, and stated once."""

from collections.abc import Iterator, Mapping
from itertools import groupby

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.tables import Table

Tables = Mapping[str, Table]

ENVIRONMENT = "environment/species_environment.csv"
TARGETS = "nutrition/nutrient_targets.csv"
PREFERENCES = "preferences.csv"


def one_default_each(tables: Tables) -> Iterator[Problem]:
    """Of the rows of one taxon and parameter at most one is the default, ranks are told apart."""
    table = tables.get(ENVIRONMENT)
    if table is None:
        return
    for rows in _groups(table, ("taxon_id", "parameter")):
        defaults = [index for index, record in rows if record["use"] == "default"]
        for index in defaults[1:]:
            todo = "Leave one default and rank the others."
            yield at(table, index, "use", "choice", "is a second default for one parameter", todo)
        yield from _ranks(table, rows)


def _groups(table: Table, keys: tuple[str, ...]) -> Iterator[list[tuple[int, Mapping[str, str]]]]:
    def key(row: tuple[int, Mapping[str, str]]) -> tuple[str, ...]:
        return tuple(row[1][name] for name in keys)

    yield from (list(rows) for _, rows in groupby(sorted(enumerate(table.records), key=key), key))


def _ranks(table: Table, rows: list[tuple[int, Mapping[str, str]]]) -> Iterator[Problem]:
    seen: set[str] = set()
    for index, record in rows:
        shown_only = record["use"] in ("display", "never")
        if shown_only == bool(record["prefer"]):
            wrong = f"does not suit use = {record['use']}"
            yield at(table, index, "prefer", "choice", wrong, "Rank the rows in use, leave the others empty.")
        if record["prefer"] and record["prefer"] in seen:
            yield at(table, index, "prefer", "choice", "is a rank given twice", "Rank the rows 1, 2, 3.")
        seen.add(record["prefer"])


def conflicts_decided(tables: Tables) -> Iterator[Problem]:
    """Where a taxon has two rows of one parameter, ``preferences.csv`` names the row in use."""
    table, choices = tables.get(ENVIRONMENT), tables.get(PREFERENCES)
    if table is None or choices is None:
        return
    chosen = {(record["subject"], record["topic"]): record["preferred"] for record in choices.records}
    for rows in _groups(table, ("taxon_id", "parameter")):
        index, record = rows[0]
        key = (record["taxon_id"], record["parameter"])
        default = next((row["row_id"] for _, row in rows if row["use"] == "default"), "")
        if len(rows) > 1 and chosen.get(key, "") != default:
            named = chosen.get(key, "none")
            wrong = f"has {len(rows)} rows, of which preferences.csv names '{named}', not '{default}'"
            yield at(table, index, "parameter", "choice", wrong, f"State the choice in {PREFERENCES}.")


def choices_exist(tables: Tables) -> Iterator[Problem]:
    """The rows named in ``preferences.csv`` exist, and say themselves whether they are preferred."""
    choices = tables.get(PREFERENCES)
    if choices is None:
        return
    keys = {table.resource.name: _keys(table) for table in tables.values()}
    for index, record in enumerate(choices.records):
        for column in ("preferred", "instead_of"):
            for key in filter(None, record[column].split(";")):
                if key not in keys.get(record["table"], {}):
                    todo = "Correct the key or the table."
                    yield at(
                        choices,
                        index,
                        column,
                        "id",
                        f"names '{key}', which {record['table']} does not hold",
                        todo,
                    )


def _keys(table: Table) -> set[str]:
    return {table.key(index) for index in range(len(table.rows))}


def one_preferred_target(tables: Tables) -> Iterator[Problem]:
    """Of the nutrient rows of one taxon, stage, unit and basis at most one is preferred."""
    table = tables.get(TARGETS)
    if table is None:
        return
    keys = ("taxon_or_group", "nutrient", "life_stage", "unit", "basis")
    for rows in _groups(table, keys):
        preferred = [index for index, record in rows if record["prefer"] == "y"]
        for index in preferred[1:]:
            todo = "Prefer one of them, by the README of the table."
            yield at(table, index, "prefer", "choice", "is a second preferred row", todo)
