"""All checks of the evidence at once: ``check_evidence()``.

Each rule is a small function from tables to findings. Known findings are accepted by
``exceptions.csv``, where each has a reason and an end.
"""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from baskwell.evidence.check import choices, forms, ids, limits, orders, ranges, sources, taxa, units
from baskwell.evidence.check.exceptions import without_accepted
from baskwell.evidence.check.problem import Problem
from baskwell.evidence.errors import EvidenceError
from baskwell.evidence.package import DATA, read_package
from baskwell.evidence.reader import Reader
from baskwell.evidence.tables import Table

__all__ = ["RULES", "Problem", "check_evidence", "check_tables"]

Rule = Callable[[Mapping[str, Table]], Iterator[Problem]]

FIRST: tuple[Rule, ...] = (forms.columns_as_stated, forms.cells_of_type)
RULES: tuple[Rule, ...] = (
    forms.cells_within,
    forms.rows_once,
    units.units_known,
    units.units_suit_names,
    units.units_as_registered,
    ranges.values_physical,
    orders.runs_ascend,
    orders.shares_within_whole,
    ids.ids_found,
    ids.exposure_targets,
    ids.exposures_with_priors,
    ids.every_condition_has_links,
    ids.variability_foods,
    ids.variability_nutrients,
    sources.sources_exist,
    sources.every_row_has_a_source,
    sources.grades_known,
    sources.no_source_twice,
    taxa.covers_sound,
    taxa.counts_true,
    taxa.groups_used,
    taxa.names_known,
    taxa.taxa_consistent,
    limits.limits_have_reasons,
    limits.limits_in_order,
    limits.rows_below_alarms,
    limits.every_profile_has_a_hot_spot,
    choices.one_default_each,
    choices.conflicts_decided,
    choices.choices_exist,
    choices.one_preferred_target,
)


def check_evidence(folder: Path = DATA) -> tuple[Problem, ...]:
    """All findings about a data package, those that ``exceptions.csv`` accepts left out.

    >>> check_evidence()
    ()

    A file that cannot be read as a table, or a file in the folder that the package does not name, is a
    finding too.
    """
    try:
        tables = Reader(folder).all_tables
    except (EvidenceError, OSError, KeyError) as error:
        return (
            Problem("file", str(folder), 0, "", "", "", f"cannot be read: {error}", "Mend the file first."),
        )
    return (*_strays(folder), *check_tables(tables))


def check_tables(tables: Mapping[str, Table]) -> tuple[Problem, ...]:
    """All findings about tables already read, in the order of the rules.

    Where cells are not of their type, only that is reported: the other rules read numbers.
    """
    first = tuple(problem for rule in FIRST for problem in rule(tables))
    rest = () if first else tuple(problem for rule in RULES for problem in rule(tables))
    return without_accepted(tables, (*first, *rest))


def _strays(folder: Path) -> Iterator[Problem]:
    """CSV files beside the package that it does not name."""
    named = read_package(folder).by_path
    for path in sorted(folder.rglob("*.csv")):
        name = path.relative_to(folder).as_posix()
        if name not in named and "raw" not in path.parts:
            todo = "Add it to datapackage.json with a schema, or take it out."
            yield Problem("file", name, 0, "", "", "", "is not a table of the package", todo)
