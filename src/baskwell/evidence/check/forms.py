"""Every cell has the form that its schema asks for."""

from collections.abc import Iterator, Mapping

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.package import Field
from baskwell.evidence.tables import Table

Tables = Mapping[str, Table]


def columns_as_stated(tables: Tables) -> Iterator[Problem]:
    """The header holds the columns of the schema, in its order."""
    for table in tables.values():
        wanted = tuple(field.name for field in table.resource.schema.fields)
        if table.header != wanted:
            strange = [name for name in table.header if name not in wanted]
            missing = [name for name in wanted if name not in table.header]
            wrong = f"is not the header of the schema (strange: {strange}, missing: {missing})"
            yield Problem(
                "columns",
                table.resource.path,
                1,
                "",
                "",
                ",".join(table.header),
                wrong,
                "Name them as there.",
            )


def cells_of_type(tables: Tables) -> Iterator[Problem]:
    """Numbers are finite numbers, flags are y or n, required cells are filled."""
    for table in tables.values():
        for field in table.resource.schema.fields:
            if field.type == "string" and not field.required:
                continue
            for index, cell in enumerate(table.cells(field.name)):
                wrong = _wrong_form(field, cell)
                if wrong:
                    yield at(table, index, field.name, "type", wrong, _todo(field, cell))


def _wrong_form(field: Field, cell: str) -> str:
    if not cell:
        return "is empty and must not be" if field.required else ""
    if field.type == "boolean":
        return "" if cell in ("y", "n") else "is neither y nor n"
    if field.type == "integer":
        return "" if cell.lstrip("-").isdigit() else "is not a whole number"
    if field.type == "number":
        return "" if _is_finite(cell) else "is not a number"
    return ""


def _is_finite(cell: str) -> bool:
    try:
        return abs(float(cell)) < float("inf")
    except ValueError:
        return False


def _todo(field: Field, cell: str) -> str:
    if not cell:
        return "Fill it in."
    if field.type == "boolean":
        return "Write y or n."
    unknown = "." if field.required else ", or leave it empty for not known."
    return f"Write the number alone, words belong into a text column{unknown}"


def cells_within(tables: Tables) -> Iterator[Problem]:
    """Words are of the list of the schema, numbers within its limits."""
    for table in tables.values():
        for field in table.resource.schema.fields:
            if field.enum or field.minimum is not None or field.maximum is not None:
                yield from _outside(table, field)


def _outside(table: Table, field: Field) -> Iterator[Problem]:
    for index, cell in enumerate(table.cells(field.name)):
        if not cell:
            continue
        if field.enum and cell not in field.enum:
            todo = f"Use one of: {', '.join(field.enum)}."
            yield at(table, index, field.name, "word", "is not a word of this column", todo)
        elif not field.enum and _is_finite(cell):
            yield from _beyond(table, index, field, float(cell))


def _beyond(table: Table, index: int, field: Field, value: float) -> Iterator[Problem]:
    todo = f"Check the figure and its unit ({field.unit})."
    if field.minimum is not None and value < field.minimum:
        yield at(table, index, field.name, "range", f"is below {field.minimum:g}", todo)
    if field.maximum is not None and value > field.maximum:
        yield at(table, index, field.name, "range", f"is above {field.maximum:g}", todo)


def rows_once(tables: Tables) -> Iterator[Problem]:
    """No primary key and no whole row stands twice."""
    for table in tables.values():
        keys = table.resource.schema.primary_key or table.header
        first: dict[tuple[str, ...], int] = {}
        for index, record in enumerate(table.records):
            row = tuple(record.get(key, "") for key in keys)
            if first.setdefault(row, index) != index:
                wrong = f"stands twice ({', '.join(keys)})"
                yield at(table, index, keys[0], "duplicate", wrong, "Keep one row, or tell them apart.")
