"""Taxon texts and covers speak of animals that exist."""

from collections.abc import Iterator, Mapping

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.covers import cover_holds, parse_cover
from baskwell.evidence.rows.clinical import Taxon
from baskwell.evidence.tables import Table, cells_of, typed_rows

Tables = Mapping[str, Table]

TAXA = "clinical/taxa.csv"
GROUPS = "clinical/taxon_groups.csv"
NAMES = "clinical/taxon_names.csv"
_COLUMNS = {"clade": "clade", "family": "family", "genus": "genus", "species": "taxon_id"}
_NAME_COLUMNS = {
    "species_environment": ("environment/species_environment.csv", "taxon_scientific"),
    "nutrient_targets": ("nutrition/nutrient_targets.csv", "taxon_or_group"),
    "diet_mix": ("nutrition/diet_mix.csv", "taxon"),
}


def covers_sound(tables: Tables) -> Iterator[Problem]:
    """Covers follow the grammar, and their words are of ``taxa.csv``."""
    words = _words(tables)
    for table in tables.values():
        for field in table.resource.schema.fields:
            if field.cover:
                for index, cell in cells_of(table, field.name):
                    yield from _cover(table, index, field.name, cell, words)


def _words(tables: Tables) -> Mapping[str, set[str]]:
    taxa = tables[TAXA]
    words = {kind: set(taxa.cells(column)) for kind, column in _COLUMNS.items()}
    words["tag"] = {tag for cell in taxa.cells("tags") for tag in cell.split(";")}
    return words


def _cover(
    table: Table, index: int, column: str, cell: str, words: Mapping[str, set[str]]
) -> Iterator[Problem]:
    try:
        terms = parse_cover(cell)
    except ValueError as error:
        yield at(table, index, column, "cover", "does not follow the grammar of covers", str(error))
        return
    for _, kind, word in (part for term in terms for part in term):
        if kind and word not in words[kind]:
            todo = "Correct the word, or add the animal to clinical/taxa.csv."
            yield at(
                table, index, column, "cover", f"speaks of the {kind} '{word}', which no taxon has", todo
            )


def counts_true(tables: Tables) -> Iterator[Problem]:
    """``n_taxa`` of a group is the number of species it covers."""
    table = tables[GROUPS]
    species = _species(tables)
    for index, record in enumerate(table.records):
        try:
            count = sum(cover_holds(record["covers"], taxon) for taxon in species)
        except ValueError:
            continue
        if record["n_taxa"] != str(count):
            wrong = f"is not the number of species that '{record['covers']}' covers ({count})"
            yield at(table, index, "n_taxa", "count", wrong, f"Write {count}, or correct the cover.")


def _species(tables: Tables) -> list[Taxon]:
    return [taxon for taxon in typed_rows(tables[TAXA], Taxon) if taxon.rank == "species"]


def groups_used(tables: Tables) -> Iterator[Problem]:
    """A taxon text of ``taxon_groups.csv`` stands in the tables that it says use it."""
    texts = {table.resource.path: set(_taxon_texts(table)) for table in tables.values()}
    for index, record in enumerate(tables[GROUPS].records):
        for name in filter(None, map(str.strip, record["used_in"].split(";"))):
            held = texts.get(f"clinical/{name}.csv") or texts.get(f"nutrition/{name}.csv", set())
            if record["taxon_string"] not in held:
                wrong = f"names the table {name}, which does not use '{record['taxon_string']}'"
                yield at(tables[GROUPS], index, "used_in", "unused", wrong, "Take the table out of used_in.")


def _taxon_texts(table: Table) -> Iterator[str]:
    """The cells that refer to ``taxon_groups.csv`` by the schema of their table."""
    for key in table.resource.schema.foreign_keys:
        if key.resource == "clinical_taxon_groups":
            yield from table.cells(key.field)


def names_known(tables: Tables) -> Iterator[Problem]:
    """A name of ``taxon_names.csv`` stands in its table, and every such table's names are mapped."""
    table = tables.get(NAMES)
    if table is None:
        return
    for name, (path, column) in _NAME_COLUMNS.items():
        if path not in tables:
            continue
        held = set(tables[path].cells(column))
        for index, record in enumerate(table.records):
            if record["table"] == name and record["name"] not in held:
                wrong = f"is a name that {path} does not use"
                yield at(table, index, "name", "id", wrong, "Correct the name, or take the row out.")
        yield from _unmapped(tables, name, path, column)


def _unmapped(tables: Tables, name: str, path: str, column: str) -> Iterator[Problem]:
    mapped = {record["name"] for record in tables[NAMES].records if record["table"] == name}
    seen: set[str] = set()
    for index, cell in cells_of(tables[path], column):
        if cell not in mapped and "analogue" not in cell and cell not in seen:
            seen.add(cell)
            todo = f"Add a row for it to {NAMES}."
            yield at(
                tables[path], index, column, "unreachable", "is a taxon name that no taxon_id leads to", todo
            )


def taxa_consistent(tables: Tables) -> Iterator[Problem]:
    """A species' id is its scientific name in small letters, and its genus the first word of it."""
    table = tables[TAXA]
    for index, record in enumerate(table.records):
        wanted = record["scientific_name"].lower().replace(" ", "_")
        if record["rank"] == "species" and record["taxon_id"] != wanted:
            yield at(table, index, "taxon_id", "id", f"should be {wanted}", "Name it after the species.")
        if record["rank"] == "species" and not record["scientific_name"].startswith(record["genus"] + " "):
            todo = "Correct the genus or the name."
            yield at(table, index, "genus", "id", "is not the first word of the scientific name", todo)
