"""Every value says who says so, and how good that is."""

from collections.abc import Iterator, Mapping
from difflib import get_close_matches

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.sourcing import head, items, source_ids
from baskwell.evidence.tables import Table, cells_of

Tables = Mapping[str, Table]


def sources_exist(tables: Tables) -> Iterator[Problem]:
    """Every source named in a source cell is a row of ``sources.csv``."""
    known = set(tables["sources.csv"].cells("source_id"))
    for table in tables.values():
        for field in table.resource.schema.fields:
            if not field.sources:
                continue
            for index, cell in cells_of(table, field.name):
                for source in source_ids(cell):
                    if source not in known:
                        nearest = get_close_matches(source, list(known), n=3)
                        hint = f" Nearest: {', '.join(nearest)}." if nearest else ""
                        wrong = f"names the source '{source}', which sources.csv does not hold"
                        todo = f"Add the source; put remarks in parentheses.{hint}"
                        yield at(table, index, field.name, "source", wrong, todo)


def every_row_has_a_source(tables: Tables) -> Iterator[Problem]:
    """A table says in its schema where a value's source is found, and no such cell is empty."""
    for table in tables.values():
        place = table.resource.schema.source
        if not place:
            wrong = "is a table whose schema does not say where sources are found"
            yield Problem(
                "source", table.resource.path, 0, "", "", table.resource.name, wrong, "State 'source' there."
            )
        if place.startswith("field:"):
            column = place[6:]
            for index, cell in enumerate(table.cells(column)):
                if not cell:
                    todo = "Name a source; JUDGEMENT is one."
                    yield at(table, index, column, "source", "names no source", todo)


def grades_known(tables: Tables) -> Iterator[Problem]:
    """Every grade word is of ``grades.csv``."""
    known = {(record["area"], record["grade"]) for record in tables["grades.csv"].records}
    for table in tables.values():
        place = table.resource.schema.grade
        if not place:
            wrong = "is a table whose schema does not say where grades are found"
            yield Problem(
                "grade", table.resource.path, 0, "", "", table.resource.name, wrong, "State 'grade' there."
            )
        if place.startswith("field:"):
            yield from _grades_of(table, place[6:], known)


def _grades_of(table: Table, column: str, known: set[tuple[str, str]]) -> Iterator[Problem]:
    area = table.resource.area
    for index, cell in enumerate(table.cells(column)):
        words = [head(item).partition(":")[0] for item in items(cell)]
        for word in words or [""]:
            if ("", word) not in known and (area, word) not in known:
                wrong = "is no grade that grades.csv knows" if word else "has no grade"
                yield at(table, index, column, "grade", wrong, "Use a known word, or add it to grades.csv.")


def no_source_twice(tables: Tables) -> Iterator[Problem]:
    """A source is used by some row, or says in its note what it is for."""
    table = tables["sources.csv"]
    citations: dict[str, int] = {}
    for index, cell in cells_of(table, "citation"):
        if citations.setdefault(cell, index) != index:
            wrong = f"is the citation of {table.records[citations[cell]]['source_id']} as well"
            yield at(table, index, "citation", "duplicate", wrong, "Merge the two sources into one id.")
