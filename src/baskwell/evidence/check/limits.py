"""The safety limits are sound, and the other tables stay under them."""

from collections.abc import Iterator, Mapping
from itertools import pairwise

from baskwell.evidence.check.problem import Problem, at
from baskwell.evidence.tables import Table

Tables = Mapping[str, Table]

LIMITS = "safety/limits.csv"
_VALUED = {"warn", "block", "alarm", "default_low", "default_high", "assume", "never"}


def limits_have_reasons(tables: Tables) -> Iterator[Problem]:
    """A limit holds a value or words, and says why: a reason, or a source that does."""
    table = tables[LIMITS]
    for index, record in enumerate(table.records):
        if not record["reason"] and not record["source"]:
            yield at(table, index, "reason", "reason", "is a limit without a reason", "Say why it stands.")
        if record["kind"] in _VALUED and not record["value"]:
            wrong = f"is empty in a limit of kind {record['kind']}"
            yield at(table, index, "value", "reason", wrong, "Give the number, or another kind.")
        if not record["value"] and not record["value_text"] and record["kind"] not in ("none", "rule"):
            yield at(
                table,
                index,
                "value_text",
                "reason",
                "is a limit that limits nothing",
                "Say what it asks for.",
            )


def limits_in_order(tables: Tables) -> Iterator[Problem]:
    """Of one topic and cover: default low <= default high <= alarm, and a warning comes before a block."""
    table = tables[LIMITS]
    seen: dict[tuple[str, ...], dict[str, tuple[int, float]]] = {}
    for index, record in enumerate(table.records):
        if record["value"]:
            same = tuple(record[name] for name in ("topic", "covers", "unit", "uv_zone"))
            basis = "" if record["topic"] == "hot_spot" else record["basis"]
            seen.setdefault((*same, basis), {})[record["kind"]] = (index, float(record["value"]))
    for kinds in seen.values():
        yield from _falling(table, kinds)


def _falling(table: Table, kinds: Mapping[str, tuple[int, float]]) -> Iterator[Problem]:
    run = [kinds[kind] for kind in ("default_low", "default_high", "warn", "alarm", "block") if kind in kinds]
    for (index, low), (_, high) in pairwise(run):
        if low > high:
            wrong = f"is above the next stricter limit of the same topic ({high:g})"
            yield at(table, index, "value", "order", wrong, "Put the limits in order.")


def rows_below_alarms(tables: Tables) -> Iterator[Problem]:
    """No hot spot that the tool uses reaches above the alarm, none of its classes is 'never'."""
    table = tables.get("environment/species_environment.csv")
    if table is None:
        return
    alarms = {
        record["covers"].removeprefix("species:"): float(record["value"])
        for record in tables[LIMITS].records
        if record["topic"] == "hot_spot" and record["kind"] == "alarm" and record["value"]
    }
    for index, record in enumerate(table.records):
        alarm = alarms.get(record["taxon_id"])
        is_hot = record["parameter"] == "basking_surface_C" and record["prefer"] and record["high"]
        if alarm is not None and is_hot and float(record["high"]) > alarm:
            wrong = f"is used and reaches above the alarm of safety/limits.csv ({alarm:g})"
            yield at(table, index, "high", "limit", wrong, "Set use to display and empty prefer.")


def every_profile_has_a_hot_spot(tables: Tables) -> Iterator[Problem]:
    """Each species with a profile has a hot-spot limit of its own."""
    covered = {record["covers"] for record in tables[LIMITS].records if record["topic"] == "hot_spot"}
    taxa = tables["clinical/taxa.csv"]
    for index, record in enumerate(taxa.records):
        if record["profile"] == "y" and f"species:{record['taxon_id']}" not in covered:
            todo = f"Add hot_{record['taxon_id']}_low and _high to {LIMITS}."
            yield at(taxa, index, "taxon_id", "limit", "has a profile but no hot-spot limit", todo)
