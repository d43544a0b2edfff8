"""Who says so, for people: source ids and keys of the evidence turned into citations."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from baskwell.evidence import Evidence, Source
from baskwell.evidence.sourcing import PSEUDO, head, items, source_ids
from baskwell.science.history.finding import Wanted

if TYPE_CHECKING:
    from baskwell.evidence.exactness import Grades
    from baskwell.evidence.reader import Reader
    from baskwell.evidence.tables import Table

    Rows = dict[str, list[tuple[Table, int]]]

LONGEST_LABEL = 80
NO_LINK = "no table links the two"
"""Said of a sign that speaks against a cause because nobody reports it there."""


@dataclass(frozen=True)
class Said:
    """One part of a "who says so": its words, and the source behind it where one is known."""

    words: str
    source: Source | None = None


class Sources:
    """Looks citations and names up; without evidence everything stays as it was written.

    >>> from baskwell.evidence import load_evidence
    >>> sources = Sources(load_evidence())
    >>> [said.words for said in sources.said("MERCK_MET; judgement (score steps)")]
    ['Merck/MSD Veterinary Manual, metabolic and endocrine diseases of reptiles', 'judgement (score steps)']
    >>> sources.sign("anorexia")
    'not eating'
    """

    def __init__(self, evidence: Evidence | None = None) -> None:
        self._evidence = evidence

    def said(self, cell: str) -> tuple[Said, ...]:
        """The parts of a "who says so" cell, each with its source."""
        return tuple(part for item in items(cell) for part in self._item(item))

    def behind(self, key: str) -> tuple[Source, ...]:
        """The sources of the rows that a key names, written as ``baskwell evidence show`` has it."""
        if self._evidence is None:
            return ()
        ids = dict.fromkeys(source for place in self._places(key) for source in self._ids(*place))
        return tuple(self._evidence.sources[found] for found in ids if found in self._evidence.sources)

    def _places(self, key: str) -> "list[tuple[Table, int]]":
        """The rows of a key, or of what follows a table's name in it."""
        table, _, rest = key.partition(".")
        return self._rows.get(key) or [p for p in self._rows.get(rest, []) if _table_name(p[0]) == table]

    def _ids(self, table: "Table", index: int) -> tuple[str, ...]:
        """The source ids of a row; a row drawn from rows of another table has those of that table."""
        kind, _, rest = table.resource.schema.source.partition(":")
        if kind == "constant":
            return (rest,)
        own = source_ids(table.records[index].get(rest if kind == "field" else "sources", ""))
        if kind != "rows":
            return own
        parts = table.key(index).rpartition(".")[0]
        drawn = (p for p in self._rows.get(parts, []) if p[0].resource.name == rest.strip())
        return (*(source for place in drawn for source in self._ids(*place)), *own)

    @cached_property
    def _rows(self) -> "Rows":
        reader = self._reader()
        return _rows_of(reader) if reader else {}

    def sign(self, sign_id: str) -> str:
        """The plain name of a sign."""
        row = self._evidence.signs.get(sign_id) if self._evidence else None
        return row.lay_name if row else sign_id.replace("_", " ")

    def condition(self, condition_id: str) -> str:
        """The name of a condition."""
        row = self._evidence.conditions.get(condition_id) if self._evidence else None
        return row.name if row else condition_id.replace("_", " ")

    def grade(self, word: str, topic: str) -> str:
        """What a grade of a finding of this topic means; the word itself where it is not known."""
        from baskwell.evidence.exactness import least_exact

        area = "nutrition" if topic == "diet" else "environment"
        meaning = least_exact(self._grades, area, word.replace("/", "; "))
        return word if meaning.kind == "none" else meaning.meaning

    @cached_property
    def _grades(self) -> "Grades":
        from baskwell.evidence.exactness import known_grades

        reader = self._reader()
        return known_grades(reader) if reader else {}

    def _reader(self) -> "Reader | None":
        from baskwell.evidence.reader import Reader

        read = self._evidence.read if self._evidence else None
        return read if isinstance(read, Reader) else None

    def _item(self, item: str) -> tuple[Said, ...]:
        if self._evidence is None:
            return (Said(item),)
        name = head(item)
        source = self._evidence.sources.get(PSEUDO.get(name.lower(), name))
        if source is not None:
            note = item[len(name) :].strip()
            return (Said(f"{label(source)} {note}".strip(), source),)
        behind = tuple(Said(label(found), found) for found in self.behind(item))
        return behind or (Said(NO_LINK if item.startswith("links.") else item),)


class Citations:
    """Sources as they are named on one page, so that the page can list each once at its end."""

    def __init__(self, sources: Sources) -> None:
        self._sources = sources
        self._used: dict[str, Source] = {}

    def said(self, cell: str) -> tuple[Said, ...]:
        """As ``Sources.said``, remembered."""
        parts = self._sources.said(cell)
        self._remember(part.source for part in parts if part.source)
        return parts

    def wanted(self, wanted: Wanted) -> tuple[Said, ...]:
        """Who says what is wanted: as said, and the sources of the rows it rests on, each once."""
        parts = self.said(wanted.said_by)
        told = {part.source.source_id for part in parts if part.source}
        rows = (source for key in wanted.evidence_ids for source in self._sources.behind(key))
        behind = {source.source_id: source for source in rows if source.source_id not in told}
        self._remember(behind.values())
        words = {part.words.removesuffix("…") for part in parts}
        added = (Said(label(source), source) for source in behind.values())
        return (*parts, *(said for said in added if said.words.removesuffix("…") not in words))

    def used(self) -> tuple[Source, ...]:
        """Every source named so far, by citation."""
        return tuple(sorted(self._used.values(), key=lambda source: source.citation.lower()))

    def _remember(self, sources: Iterable[Source]) -> None:
        self._used |= {source.source_id: source for source in sources}


def label(source: Source) -> str:
    """A citation short enough to stand in a line; one word for what is no publication."""
    if source.kind == "pseudo-source":
        return source.how_read or source.source_id.lower().replace("_", " ")
    if len(source.citation) <= LONGEST_LABEL:
        return source.citation
    return source.citation[: LONGEST_LABEL - 1].rsplit(" ", 1)[0].rstrip(",;:") + "…"


@lru_cache(maxsize=2)
def _rows_of(reader: "Reader") -> "Rows":
    """Every row of the evidence by its key, and by its key without the last part (mostly the taxon)."""
    rows: Rows = {}
    for table in (reader.table(path) for path in reader.package.by_path):
        parts = zip(*(table.cells(name) for name in table.resource.schema.primary_key), strict=True)
        for index, part in enumerate(parts):
            rows.setdefault(".".join(part), []).append((table, index))
            if len(part) > 1:
                rows.setdefault(".".join(part[:-1]), []).append((table, index))
    return rows


def _table_name(table: "Table") -> str:
    name = table.resource.path.rpartition("/")[2].removesuffix(".csv")
    return {"links_empirical": "links", "links": "prior_links"}.get(name, name)
