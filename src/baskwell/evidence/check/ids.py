"""Every id stands in the table it points to."""

from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.tables import Table, cells_of

Tables = Mapping[str, Table]

_WIDER_GROUPS = ("feed", "fresh_plant", "all_plant", "grass_fresh", "legume_fresh", "herb_fresh")
_TARGETS = {
    "condition": ("clinical/conditions.csv", "condition_id"),
    "sign": ("clinical/signs.csv", "sign_id"),
}


def path_of(resource: str, tables: Tables) -> str:
    """The path of a resource by its name."""
    return next((table.resource.path for table in tables.values() if table.resource.name == resource), "")


def ids_found(tables: Tables) -> Iterator[Problem]:
    """Foreign keys, and the items of lists that refer to another table."""
    for table in tables.values():
        for key in table.resource.schema.foreign_keys:
            known = _known(tables, key.resource, key.reference)
            for index, cell in cells_of(table, key.field):
                yield from _unless_known(table, index, key.field, cell, known, key.resource)
        for field in table.resource.schema.fields:
            if field.references:
                resource, _, column = field.references.rpartition(".")
                known = _known(tables, resource, column)
                for index, cell in cells_of(table, field.name):
                    for item in filter(None, map(str.strip, cell.split(field.separator or ";"))):
                        yield from _unless_known(table, index, field.name, item, known, resource)


def _known(tables: Tables, resource: str, column: str) -> frozenset[str]:
    table = tables.get(path_of(resource, tables))
    return frozenset(table.cells(column)) if table else frozenset()


def _unless_known(
    table: Table, index: int, column: str, item: str, known: Iterable[str], where: str
) -> Iterator[Problem]:
    if item not in known:
        nearest = get_close_matches(item, list(known), n=3)
        hint = f" Nearest: {', '.join(nearest)}." if nearest else ""
        todo = f"Correct the id or add it to {where}.{hint}"
        yield at(table, index, column, "id", f"names '{item}', which {where} does not hold", todo)


def exposure_targets(tables: Tables) -> Iterator[Problem]:
    """The target of an exposure is a condition, a sign, or an outcome in words."""
    table = tables.get("clinical/exposures.csv")
    if table is None:
        return
    for index, record in enumerate(table.records):
        path, column = _TARGETS.get(record["target_kind"], ("", ""))
        if path in tables:
            known = tables[path].cells(column)
            yield from _unless_known(table, index, "target_id", record["target_id"], known, path)


def variability_foods(tables: Tables) -> Iterator[Problem]:
    """Variability rows speak of a food, of ``*`` and a food group, or of ``*`` alone."""
    table, foods = tables.get("foods/variability.csv"), tables.get("foods/foods.csv")
    if table is None or foods is None:
        return
    groups = {f"*{group}" for group in (*foods.cells("group"), *_WIDER_GROUPS)}
    known = {*foods.cells("food_id"), *groups, "*"}
    for index, cell in cells_of(table, "food_id"):
        yield from _unless_known(table, index, "food_id", cell, known, "foods/foods.csv")


def variability_nutrients(tables: Tables) -> Iterator[Problem]:
    """A variability row's nutrient is a column of the food table."""
    table, foods = tables.get("foods/variability.csv"), tables.get("foods/foods.csv")
    if table is None or foods is None:
        return
    for index, cell in cells_of(table, "nutrient"):
        yield from _unless_known(
            table, index, "nutrient", cell, foods.header, "the columns of foods/foods.csv"
        )


def exposures_with_priors(tables: Tables) -> Iterator[Problem]:
    """Every exposure has a prior and every prior an exposure."""
    table, priors = tables.get("clinical/exposures.csv"), tables.get("clinical/exposure_priors.csv")
    if table is None or priors is None:
        return
    known = set(priors.cells("exposure_id"))
    for index, cell in cells_of(table, "exposure_id"):
        yield from _unless_known(table, index, "exposure_id", cell, known, "clinical/exposure_priors.csv")


def every_condition_has_links(tables: Tables) -> Iterator[Problem]:
    """Every condition but the remainder has links; a sign without any cannot be explained."""
    links, conditions = tables.get("clinical/links.csv"), tables.get("clinical/conditions.csv")
    if links is None or conditions is None:
        return
    linked = set(links.cells("condition_id"))
    for index, cell in cells_of(conditions, "condition_id"):
        if cell not in linked and cell != "other_or_none":
            wrong = "is a condition without any link to a sign"
            yield at(
                conditions, index, "condition_id", "links", wrong, "Add its signs to clinical/links.csv."
            )
