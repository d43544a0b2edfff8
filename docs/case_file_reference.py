"""Write the reference part of case-file.md from the declarations of the fields.

Run ``python docs/case_file_reference.py`` after a field was added or changed; a test compares.
"""

from collections.abc import Iterator
from pathlib import Path

from baskwell.evidence import load_evidence
from baskwell.science.case import FieldDescription, describe_fields
from baskwell.science.case.vocabulary import guarantee_names

PAGE = Path(__file__).with_name("case-file.md")
BEGIN, END = "<!-- fields: begin -->\n", "<!-- fields: end -->\n"
TABLES = {
    "@taxa": "an animal of `clinical/taxa.csv`",
    "@foods": "a food of `foods/foods.csv`",
    "@labels": "a label of this file, or a typical one of `foods/labels.csv`",
    "@agents": "an agent of `nutrition/agents.csv`",
    "@lamps": "a lamp of `environment/lamps.csv`",
    "@signs": "a sign of `clinical/signs.csv`",
    "@body_systems": "a body system of `clinical/signs.csv`",
    "@exposures": "an exposure of `clinical/exposures.csv`",
}
FORMS = {
    "flag": "true, false",
    "flag_or_count": "true, false, or a whole number",
    "text": "words in quotes",
    "texts": "a list of words in quotes",
    "date": "a day: 2026-03-14",
    "moment": "a day with its time: 2026-03-14T09:10:00",
    "pair": "two numbers: [length, width]",
    "guarantees": "{ name = number, ... }, names below",
}
PERIODS, SURROUNDINGS = "history.periods[]", "history.surroundings"
NESTED = {"table", "tables", "named_tables"}


def reference() -> str:
    """Return the generated part of the page: one table for each heading of the case file."""
    fields = [one for one in describe_fields() if one.path != "notes"]
    shared = {_name(one) for one in fields if one.table == SURROUNDINGS}
    tables = {heading: [one for one in fields if one.table == heading] for heading in _headings(fields)}
    written = [_table(heading, tables[heading], shared) for heading in tables]
    return "\n".join([*written, _guarantees()])


def _headings(fields: list[FieldDescription]) -> Iterator[str]:
    """Yield the headings, each where it is first named, so that sections stand in the order of the file."""
    yield ""
    yield from (one.path for one in fields if one.kind in NESTED)


def _table(heading: str, fields: list[FieldDescription], shared: set[str]) -> str:
    own = [one for one in fields if heading != PERIODS or _name(one) not in shared]
    rows = [f"| `{_name(one)}` | {_means(one)} | {_allowed(one)} |" for one in own]
    return "\n".join(
        [
            f"### {_title(heading)}",
            "",
            *_intro(heading),
            "| key | meaning | what may stand |",
            "|---|---|---|",
            *rows,
            "",
        ]
    )


def _title(heading: str) -> str:
    if not heading:
        return "The sections"
    name = heading.removesuffix(".*").removesuffix("[]")
    if heading.endswith(".*"):
        return f"`[{name}.NAME]`"
    return f"`[[{name}]]`" if heading.endswith("[]") else f"`[{name}]`"


def _name(one: FieldDescription) -> str:
    return one.path.removeprefix(f"{one.table}.").removesuffix(".*").removesuffix("[]")


def _intro(heading: str) -> list[str]:
    return ["Any key of `[history.surroundings]` may stand here, and:", ""] if heading == PERIODS else []


def _means(one: FieldDescription) -> str:
    return one.means + (" **Needed.**" if one.required else "")


def _allowed(one: FieldDescription) -> str:
    if one.kind in NESTED:
        return {"table": "a section", "tables": "entries", "named_tables": "a section for each name"}[
            one.kind
        ]
    return "; ".join(part for part in (_form(one), _words(one)) if part)


def _form(one: FieldDescription) -> str:
    if one.kind in {"number", "word_or_number", "integer"}:
        kind = "a whole number" if one.kind == "integer" else "a number or a range"
        return f"{kind}, {one.low:,g} to {one.high:,g} {_unit(one.unit)}".rstrip()
    if one.kind == "pair":
        return f"{FORMS['pair']}, in {one.unit}"
    if one.kind == "amount":
        return "`{ grams = 12 }`, `{ share = 0.6 }`"
    return FORMS.get(one.kind, "")


def _unit(unit: str) -> str:
    return {"degC": "°C", "m2": "m²", "1-5": "", "share": ""}.get(unit, unit)


def _words(one: FieldDescription) -> str:
    words = ", ".join(TABLES.get(word) or f"`{word}`" for word in one.vocabulary)
    many = one.kind in {"ids", "words"}
    return f"a list of: {words}" if many and words else words


def _guarantees() -> str:
    sentence = (
        "### Names of guarantees\n\n"
        "A name is made of nutrient, `min` or `max` (left out where the label states one figure), and unit. "
        "A range `[low, high]` is read as a minimum and a maximum.\n"
    )
    rows = [f"| {_unit_words(unit)} | {', '.join(names)} |" for unit, names in _by_unit()]
    return "\n".join([sentence, "| unit | nutrients |", "|---|---|", *rows, ""])


def _by_unit() -> Iterator[tuple[str, list[str]]]:
    kept = dict.fromkeys(guarantee_names(load_evidence()).values())
    for unit in ("pct", "iu_per_kg", "mg_per_kg"):
        plain = [name for name in kept if name.endswith(f"_{unit}") and f"_min_{unit}" not in name]
        yield unit, [f"`{name}`" for name in plain if f"_max_{unit}" not in name]


def _unit_words(unit: str) -> str:
    return {"pct": "percent as fed", "iu_per_kg": "IU/kg as fed", "mg_per_kg": "mg/kg as fed"}[unit]


def with_reference(page: str) -> str:
    """Return a page with its generated part renewed."""
    head, _, rest = page.partition(BEGIN)
    _, _, tail = rest.partition(END)
    return f"{head}{BEGIN}\n{reference()}\n{END}{tail}"


if __name__ == "__main__":
    PAGE.write_text(with_reference(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
