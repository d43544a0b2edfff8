"""Print a value of the evidence with who says so: ``show_value(evidence, "collard_greens.calcium_mg")``.

A key is the id of a row (``terrapene_ornata``, ``hot_pogona_vitticeps_low``, ``LEGLER60``), an id and a
column (``collard_greens.calcium_mg``), or a path into a table (``links.hypovit_a.anorexia``).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from textwrap import wrap

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.errors import UnknownKey
from baskwell.evidence.exactness import class_of, known_grades, least_exact
from baskwell.evidence.package import Field
from baskwell.evidence.reader import Reader
from baskwell.evidence.sourcing import source_ids
from baskwell.evidence.tables import Table

_SHORT = {"links": "clinical_links_empirical", "prior_links": "clinical_links"}
_BARE = ("count", "rank", "identifier")
_WIDTH = 80
_MOST = 4


@dataclass(frozen=True, slots=True)
class Place:
    """Where a key stands: a table, a row of it, and a column or none; ``exact`` = the whole key."""

    table: Table
    index: int
    column: str = ""
    exact: bool = True

    @property
    def record(self) -> Mapping[str, str]:
        """The row as text."""
        return self.table.records[self.index]


def show_value(evidence: Evidence, key: str) -> str:
    """A value, or a whole row, with its unit, grade and sources, as lines of at most 80 characters.

    Where a key names one row and begins the keys of others, the others are only counted.

    >>> from baskwell.evidence import load_evidence
    >>> print(show_value(load_evidence(), "collard_greens.calcium_mg"))
    collard_greens.calcium_mg   (Foods, foods/foods.csv, line 3)
      calcium_mg: 232 mg
      grade: table = measured (a national table of analyses)
      said by: usda_sr28 - US Department of Agriculture, Agricultural Research
        Service, Nutrient Data Laboratory. USDA National Nutrient Database for
        Standard Reference, Release 28. Files ABBREV, FOOD_DES, WEIGHT

    Raises ``UnknownKey`` with the nearest known keys.
    """
    reader = _reader(evidence)
    places = list(find(reader, key))
    if not places:
        raise UnknownKey(key, nearest_keys(reader, key))
    shown = [place for place in places if place.exact] or places[:_MOST]
    blocks = ["\n".join(_lines(reader, key, place)) for place in shown]
    return "\n\n".join([*blocks, *_further(key, [place for place in places if place not in shown])])


def _further(key: str, places: Sequence[Place]) -> Iterator[str]:
    counts: dict[str, int] = {}
    for place in places:
        name = place.table.resource.path.rpartition("/")[2].removesuffix(".csv")
        counts[name] = counts.get(name, 0) + 1
    if counts:
        listed = ", ".join(f"{name}.{key} ({count})" for name, count in counts.items())
        yield "\n".join(_wrapped(f"More rows: {listed}", ""))


def _reader(evidence: Evidence) -> Reader:
    if not isinstance(evidence.read, Reader):
        raise TypeError("this evidence was not loaded from files: show needs load_evidence().")
    return evidence.read


def find(reader: Reader, key: str) -> Iterator[Place]:
    """Every place that a key names; more than one where two tables use an id.

    >>> from baskwell.evidence.reader import Reader
    >>> {place.table.resource.name for place in find(Reader(), "links.hypovit_a.anorexia")}
    {'clinical_links_empirical'}
    """
    head, _, rest = key.partition(".")
    for table in reader.all_tables.values():
        if rest and head in _names_of(table):
            yield from _in_table(table, rest)
        yield from _in_table(table, key)


def _names_of(table: Table) -> tuple[str, ...]:
    """The words by which a key may name a table; ``links`` is the one with the counts."""
    name = table.resource.name
    short = table.resource.path.rpartition("/")[2].removesuffix(".csv")
    aliases = [alias for alias, resource in _SHORT.items() if resource == name]
    return (name, *aliases, *([] if short in _SHORT else [short]))


def _in_table(table: Table, key: str) -> Iterator[Place]:
    """Rows whose key this is or begins with it, and the cell that it names with a column."""
    head, _, column = key.rpartition(".")
    for index, name in _row_keys(table):
        if name == key or name.startswith(f"{key}."):
            yield Place(table, index, exact=name == key)
        elif name == head and column in table.header:
            yield Place(table, index, column)


def _row_keys(table: Table) -> Iterator[tuple[int, str]]:
    if table.resource.schema.primary_key:
        yield from ((index, table.key(index)) for index in range(len(table.rows)))


def nearest_keys(reader: Reader, key: str) -> list[str]:
    """At most three known keys that look like this one: columns where the row is known, else rows."""
    head, _, column = key.rpartition(".")
    tables = reader.all_tables.values()
    rows = [(table, name) for table in tables for _, name in _row_keys(table)]
    columns = [
        f"{head}.{alike}"
        for table, name in rows
        if head and name == head
        for alike in get_close_matches(column, table.header, n=3, cutoff=0.4)
    ]
    names = list(dict.fromkeys(name for _, name in rows))
    return columns[:3] or get_close_matches(key, names, n=3) or [name for name in names if key in name][:3]


def _lines(reader: Reader, key: str, place: Place) -> Iterator[str]:
    file, line = place.table.place(place.index)
    yield from _wrapped(f"{key}   ({place.table.resource.schema.title}, {file}, line {line})", "")
    for name in [place.column] if place.column else _telling(place.table):
        cell = place.record.get(name, "")
        if cell or place.column:
            unit = _unit(place.table.resource.schema.by_name[name], place.record)
            yield from _wrapped(f"{name}: {cell or 'not known'}{unit if cell else ''}", "  ")
    yield from _grade(reader, place)
    yield from _said_by(reader, place)


def _telling(table: Table) -> list[str]:
    """The columns worth printing: units, grades and sources are told beside the values."""
    schema = table.resource.schema
    told = {schema.grade[6:], schema.source[6:], *(field.unit[4:] for field in schema.fields)}
    return [name for name in table.header if name not in told and not schema.by_name[name].sources]


def _unit(field: Field, record: Mapping[str, str]) -> str:
    unit = record.get(field.unit[4:], "") if field.unit.startswith("row:") else field.unit
    return f" {unit}" if unit and unit not in _BARE and field.type in ("number", "integer") else ""


def _grade(reader: Reader, place: Place) -> Iterator[str]:
    kind, _, rest = place.table.resource.schema.grade.partition(":")
    word = place.record.get(rest, "") if kind == "field" else rest if kind == "constant" else ""
    if word:
        known, area = known_grades(reader), place.table.resource.area
        meaning = least_exact(known, area, word).meaning
        yield from _wrapped(f"grade: {word} = {class_of(known, area, word)} ({meaning})", "  ")


def _said_by(reader: Reader, place: Place) -> Iterator[str]:
    filled = dict(_fills(place.record.get("fill_refs", ""))).get(place.column, "")
    if filled:
        yield from _wrapped(f"this cell from: {filled}", "  ")
    for source in [filled.partition(" ")[0]] if filled else _sources(reader, place):
        yield from _wrapped(f"said by: {source} - {_citation(reader, source)}", "  ")


def _fills(cell: str) -> Iterator[tuple[str, str]]:
    """The nutrients of a food that come from elsewhere: ``nutrient=source place`` joined by ``;``."""
    for part in cell.split(";"):
        name, sign, where = part.partition("=")
        if sign:
            yield name.strip(), where.strip()


def _sources(reader: Reader, place: Place) -> tuple[str, ...]:
    kind, _, rest = place.table.resource.schema.source.partition(":")
    if kind == "field":
        return source_ids(place.record.get(rest, ""))
    if kind == "constant":
        return (rest,)
    if kind == "rows":
        return (*_sources_of_rows(reader, place, rest.strip()), *source_ids(place.record.get("sources", "")))
    return ()


def _sources_of_rows(reader: Reader, place: Place, resource: str) -> tuple[str, ...]:
    """The sources of the row of another table that this row rests on: its key begins this one's."""
    other = reader.all_tables[reader.package.resources[resource].path]
    own = place.table.key(place.index)
    found = (index for index, key in _row_keys(other) if own == key or own.startswith(f"{key}."))
    return tuple(source for index in found for source in _sources(reader, Place(other, index)))


def _citation(reader: Reader, source: str) -> str:
    rows = reader.all_tables["sources.csv"].records
    found = next((row for row in rows if row["source_id"] == source), None)
    if found is None:
        return "not in sources.csv"
    how = f" [{found['how_read']}]" if found["how_read"] else ""
    return f"{found['citation']}{how}"


def _wrapped(text: str, indent: str) -> list[str]:
    return wrap(text, _WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ", break_on_hyphens=False)
