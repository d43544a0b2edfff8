"""The published rules on room, applied: how much floor, side, height and depth each asks for."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence.rows.surroundings import SpaceRule
from baskwell.science.draws import Draws


@dataclass(frozen=True)
class Need:
    """What one rule asks for: draws of shape ``(n_draws,)``, NaN where it does not hold or does not say.

    ``floor_m2`` is for all animals together, ``side_cm`` the long side; ``row_ids`` are the steps that
    held in some world, ``name`` and ``purpose`` those of the rule. ``silent_on_further``: more animals are
    kept than the rule speaks of, so it is a lower bound.
    """

    rule: str
    name: str
    purpose: str
    row_ids: tuple[str, ...]
    source_ids: tuple[str, ...]
    grade: str
    silent_on_further: bool
    floor_m2: Draws = field(repr=False)
    side_cm: Draws = field(repr=False)
    height_cm: Draws = field(repr=False)
    water_depth_cm: Draws = field(repr=False)


def further_animals_m2(row: SpaceRule, floor_m2: Draws, animals: int) -> Draws:
    """Floor that the animals beyond those included add, in m2; 0 where the rule says nothing of them.

    >>> import numpy as np
    >>> from baskwell.evidence import load_evidence
    >>> rules = load_evidence().surroundings.space_rules
    >>> nsw = next(row for row in rules if row.row_id == "NSW13_adult")
    >>> round(float(further_animals_m2(nsw, np.array([0.375]), 5)[0]), 4)   # 0.375 x (0.5 + 3 x 0.2)
    0.4125
    """
    further = max(0, animals - int(row.animals))
    if row.further_m2 is not None:
        return np.full(floor_m2.shape, further * row.further_m2)
    first = min(further, int(row.further_first_count or 0))
    share = first * (row.further_first_share or 0.0) + (further - first) * (row.further_share or 0.0)
    return np.asarray(floor_m2 * share)


def says_nothing_of_further(row: SpaceRule, animals: int) -> bool:
    """Whether more animals are kept than the rule speaks of."""
    return animals > row.animals and row.further_m2 is None and row.further_share is None


def apply_rules(
    rules: Iterable[SpaceRule],
    lengths_cm: Mapping[str, Draws],
    age_months: Draws,
    animals: int,
    height_cm: Draws | None,
) -> tuple[Need, ...]:
    """What each rule asks for an animal so long and so old, kept with ``animals`` in all.

    ``rules`` are the rows that cover the animal; rows of one ``rule`` are the steps of its table, and a
    step holds in the worlds in which the length lies within it. ``height_cm`` turns a volume into a
    floor. A rule whose kind of length is not known, or that holds in no world, is left out.
    """
    found = []
    for _, steps in groupby(rules, key=lambda row: row.rule):
        need = _apply_steps(list(steps), lengths_cm, age_months, animals, height_cm)
        if need is not None:
            found.append(need)
    return tuple(found)


def _apply_steps(
    steps: list[SpaceRule],
    lengths_cm: Mapping[str, Draws],
    age_months: Draws,
    animals: int,
    height_cm: Draws | None,
) -> Need | None:
    length = lengths_cm.get(steps[0].length_kind)
    if length is None:
        if any(_needs_length(row) for row in steps):
            return None
        length = np.full(age_months.shape, np.nan)
    floor, side, height, depth = (np.full(age_months.shape, np.nan) for _ in range(4))
    used = []
    for row in steps:
        here = _holds(row, length, age_months)
        if here.any():
            used.append(row)
            floor = np.where(here, _floor(row, length, animals, height_cm), floor)
            side = np.where(here, _sum(None, row.side_lengths, length), side)
            height = np.where(here, _sum(row.height_cm, row.height_lengths, length), height)
            depth = np.where(here, _sum(row.water_depth_cm, row.water_depth_lengths, length), depth)
    return _need(used, animals, floor, side, height, depth) if used else None


def _need(used: list[SpaceRule], animals: int, *asked: Draws) -> Need:
    first = used[0]
    sources, rows = tuple(first.source_id.split(";")), tuple(row.row_id for row in used)
    silent = says_nothing_of_further(first, animals)
    return Need(first.rule, first.name, first.purpose, rows, sources, first.evidence_grade, silent, *asked)


def _needs_length(row: SpaceRule) -> bool:
    by_length = (row.over_cm, row.up_to_cm, row.area_lengths2, row.side_lengths, row.height_lengths)
    return any(value is not None for value in (*by_length, row.water_depth_lengths))


def _holds(row: SpaceRule, length: Draws, age_months: Draws) -> NDArray[np.bool_]:
    with np.errstate(invalid="ignore"):
        long_enough = length > row.over_cm if row.over_cm is not None else np.ones(length.shape, bool)
        short_enough = length <= row.up_to_cm if row.up_to_cm is not None else np.ones(length.shape, bool)
    old_enough = age_months >= (row.from_age_months or 0.0)
    young_enough = age_months < (np.inf if row.up_to_age_months is None else row.up_to_age_months)
    grown = np.isinf(age_months) & (row.up_to_age_months is None)
    return np.asarray(long_enough & short_enough & old_enough & (young_enough | grown))


def _floor(row: SpaceRule, length: Draws, animals: int, height_cm: Draws | None) -> Draws:
    if row.volume_l is not None:
        return (
            np.full(length.shape, np.nan)
            if height_cm is None
            else np.asarray(row.volume_l / (10.0 * height_cm))
        )
    if row.area_m2 is not None:
        base = np.full(length.shape, row.area_m2)
    elif row.area_lengths2 is not None:
        base = row.area_lengths2 * (length / 100.0) ** 2
    else:
        return np.full(length.shape, np.nan)
    return np.asarray(base + further_animals_m2(row, base, animals))


def _sum(fixed: float | None, lengths: float | None, length: Draws) -> Draws:
    if fixed is None and lengths is None:
        return np.full(length.shape, np.nan)
    by_length = lengths * length if lengths is not None else 0.0
    return np.asarray(np.full(length.shape, fixed or 0.0) + by_length)


def middle_of(needs: Iterable[Draws]) -> Draws | None:
    """World by world the median of what the rules ask for; None where none asks for anything.

    >>> middle_of([np.array([1.0]), np.array([2.0]), np.array([np.nan])]).tolist()
    [1.5]
    """
    table = np.array([need for need in needs if not np.all(np.isnan(need))])
    if not table.size or np.any(np.all(np.isnan(table), axis=0)):
        return None
    return np.asarray(np.nanmedian(table, axis=0))
