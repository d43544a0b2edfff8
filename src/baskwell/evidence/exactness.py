"""How exact the evidence is: of each table, what share of rows is measured, published or judged."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from baskwell.evidence.reader import Reader
from baskwell.evidence.sourcing import head, items, source_ids
from baskwell.evidence.tables import Table

CLASSES = (
    "measured", "published", "extrapolated", "common practice", "judgement", "memory", "own", "definition",
    "none",
)  # fmt: skip
"""From the most exact to the least; a row counts as the least exact of the words its cell holds."""

_BY_SOURCE = {
    "JUDGEMENT": "judgement",
    "COMMON_PRACTICE": "common practice",
    "MEMORY": "memory",
    "CALC": "extrapolated",
    "DEFINITION": "definition",
    "OWN": "own",
}
_BY_PROVENANCE = {"from memory": "memory", "common practice": "common practice", "computed": "extrapolated"}


@dataclass(frozen=True, slots=True)
class GradeMeaning:
    """What a grade word means in one area, and its class."""

    kind: str
    meaning: str


Grades = Mapping[tuple[str, str], GradeMeaning]
NO_GRADE = GradeMeaning("none", "no grade is stated")


@dataclass(frozen=True)
class Exactness:
    """Rows of one table by class; the shares add up to one."""

    table: str
    rows: int
    counts: Mapping[str, int]

    def share(self, kind: str) -> float:
        """The share of rows of a class, in [0, 1]."""
        return self.counts.get(kind, 0) / self.rows if self.rows else 0.0


def exactness(reader: Reader | None = None) -> tuple[Exactness, ...]:
    """The report for every table that holds values, in the order of the package.

    >>> report = {table.table: table for table in exactness()}
    >>> round(report["clinical_links"].share("judgement"), 1)
    0.9
    """
    reader = reader or Reader()
    known = known_grades(reader)
    return tuple(
        _report(table, known)
        for table in reader.all_tables.values()
        if table.resource.schema.grade not in ("none", "")
    )


def known_grades(reader: Reader) -> Grades:
    """The grade words of ``grades.csv`` by area (empty = all) and word."""
    rows = reader.all_tables["grades.csv"].records
    return {(row["area"], row["grade"]): GradeMeaning(row["class"], row["meaning"]) for row in rows}


def _report(table: Table, known: Grades) -> Exactness:
    counts = Counter(row_class(table, index, known) for index in range(len(table.rows)))
    return Exactness(table.resource.name, len(table.rows), dict(counts))


def row_class(table: Table, index: int, known: Grades) -> str:
    """The class of one row: by a pseudo-source alone, by provenance, else by its grade."""
    schema, record = table.resource.schema, table.records[index]
    sources = source_ids(record.get(schema.source[6:], "")) if schema.source.startswith("field:") else ()
    if sources and all(source in _BY_SOURCE for source in sources):
        return _least(_BY_SOURCE[source] for source in sources)
    if record.get("provenance") in _BY_PROVENANCE:
        return _BY_PROVENANCE[record["provenance"]]
    kind, _, rest = schema.grade.partition(":")
    if kind == "field":
        return class_of(known, table.resource.area, record.get(rest, ""))
    return class_of(known, table.resource.area, rest) if kind == "constant" else "published"


def class_of(known: Grades, area: str, cell: str) -> str:
    """The class of a grade cell: the least exact of the words it holds.

    >>> grades = {("", "A"): GradeMeaning("measured", ""), ("clinical", "C"): GradeMeaning("memory", "")}
    >>> class_of(grades, "clinical", "A; C")
    'memory'
    """
    return least_exact(known, area, cell).kind


def least_exact(known: Grades, area: str, cell: str) -> GradeMeaning:
    """The meaning of the least exact word of a grade cell."""
    words = [head(item).partition(":")[0] for item in items(cell)]
    meanings = [known.get((area, word)) or known.get(("", word), NO_GRADE) for word in words]
    return max(meanings, key=lambda grade: CLASSES.index(grade.kind), default=NO_GRADE)


def _least(classes: Iterable[str]) -> str:
    return max(classes, key=CLASSES.index)


def exactness_text(report: tuple[Exactness, ...]) -> str:
    """The report as a table of percentages, at most 100 columns wide.

    >>> print(exactness_text((Exactness("foods_foods", 4, {"measured": 3, "memory": 1}),)).splitlines()[1])
    foods_foods                           4    75     .     .     .     .    25     .     .     .
    """
    names = ["meas", "publ", "extr", "pract", "judg", "mem", "own", "def", "none"]
    lines = [f"{'table':<33}{'rows':>6}" + "".join(f"{name:>6}" for name in names)]
    for table in report:
        cells = (_percent(table.share(kind)) for kind in CLASSES)
        lines.append(f"{table.table:<33}{table.rows:>6}" + "".join(f"{cell:>6}" for cell in cells))
    return "\n".join(lines)


def _percent(share: float) -> str:
    return f"{100 * share:.0f}" if share else "."
