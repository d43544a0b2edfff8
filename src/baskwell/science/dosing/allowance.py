"""What each limit still leaves for one dose, with the arithmetic in a sentence."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from baskwell.science.dosing.book import Setting, entries_for, had_in
from baskwell.science.dosing.ceilings import Ceiling, ceilings_for
from baskwell.science.dosing.result import Allowance, Entry
from baskwell.science.dosing.substances import SUBSTANCES
from baskwell.science.dosing.supplied import total
from baskwell.science.dosing.tell import down, figure
from baskwell.science.draws import Draws

G_PER_KG = 1000.0
SURE = 0.95  # what was had is taken at the end that 19 of 20 possible worlds stay below


def allowances_for(
    setting: Setting, nutrient: str, every_days: int, *, ordered: bool, once: bool = False
) -> tuple[Allowance, ...]:
    """The most of a nutrient in one dose by each limit, the strictest first.

    A dose is taken to be repeated every ``every_days`` (1 or more), unless it is given ``once`` only.
    Limits that do not stand above an order are left out where ``ordered``. Needs ``setting.mass``; limits
    on the whole diet need a diet.
    """
    entries = entries_for(setting, SUBSTANCES[nutrient])
    found = (
        allowance
        for ceiling in ceilings_for(setting.evidence, setting.case.animal, nutrient)
        if ceiling.rule.with_order or not ordered
        for allowance in _by_ceiling(setting, entries, ceiling, every_days, once)
    )
    return tuple(sorted(found, key=lambda one: one.most))


@dataclass(frozen=True)
class Proposal:
    """What a default row proposes for one dose, 0 where what is had is enough; ``sentence`` says how."""

    amount: float
    sentence: str


def proposed(setting: Setting, nutrient: str, every_days: int) -> Proposal | None:
    """What is proposed where nobody asks for an amount: the low end of the default row, less what is had.

    What counts towards that row is taken at its high end; all that is eaten, whole prey too, at its median:
    prey is exempt from the limits, not from being food.
    """
    substance = SUBSTANCES[nutrient]
    entries = entries_for(setting, substance)
    for ceiling in ceilings_for(setting.evidence, setting.case.animal, nutrient):
        if ceiling.proposed is not None and setting.mass is not None:
            counted = _sure(total(entries, ceiling.rule.counts, setting.n_draws))
            had = max(counted, float(np.median(total(entries, None, setting.n_draws))))
            daily = ceiling.proposed * setting.mass.least_kg
            told = (
                f"{ceiling.rule.evidence_id} proposes {figure(daily)} {substance.unit} a day for this mass; "
                f"what it eats and gets already is reckoned as {figure(had)} ({ceiling.said_by})."
            )
            return Proposal(max(daily - had, 0.0) * every_days, told)
    return None


def doses_within(window: float, every_days: int) -> int:
    """How many doses can fall into any window of so many days.

    >>> doses_within(7, 7), doses_within(7, 2), doses_within(7, 30)
    (1, 4, 1)
    """
    return max(math.ceil(window / every_days), 1)


def _by_ceiling(
    setting: Setting, entries: tuple[Entry, ...], ceiling: Ceiling, every_days: int, once: bool
) -> Iterator[Allowance]:
    if ceiling.rule.basis == "single":
        yield _single(setting, entries, ceiling)
    elif ceiling.rule.basis == "diet_dm":
        if setting.dry_kg is not None:
            yield _whole_diet(setting, entries, ceiling, every_days)
    else:
        for days in ceiling.windows:
            count = 1 if once else doses_within(days, every_days)
            yield _window(setting, entries, ceiling, days, count)


def _single(setting: Setting, entries: tuple[Entry, ...], ceiling: Ceiling) -> Allowance:
    """One dose; what was given within the last day is part of it."""
    kilograms = _least(setting)
    today = had_in(entries, ceiling.rule.counts, 1.0)
    most = max(ceiling.value * kilograms - today, 0.0)
    unit = SUBSTANCES[ceiling.rule.nutrient].unit
    less = f" less {figure(today)} given within a day" if today else ""
    whole = f"{figure(ceiling.value)} {ceiling.unit} x {figure(kilograms)} kg"
    told = f"{whole}{less} leaves at most {down(most)} {unit}"
    return _allowance(ceiling, ceiling.value, most, told)


def _window(
    setting: Setting, entries: tuple[Entry, ...], ceiling: Ceiling, days: float, count: int
) -> Allowance:
    kilograms, unit = _least(setting), SUBSTANCES[ceiling.rule.nutrient].unit
    limit = ceiling.over(days)
    supply = _sure(total(entries, ceiling.rule.counts, setting.n_draws)) * days
    given = had_in(entries, ceiling.rule.counts, days)
    most = max(limit * kilograms - supply - given, 0.0) / count
    shared = f", shared by {count} doses" if count > 1 else ""
    rate = "" if days == ceiling.windows[0] else " (the same rate for longer)"
    told = (
        f"{figure(limit)} {unit} per kg in {days:g} days{rate} x {figure(kilograms)} kg = "
        f"{figure(limit * kilograms)}, less {figure(supply)} from what goes on and {figure(given)} given"
        f"{shared}, leaves at most {down(most)} {unit} a dose"
    )
    return _allowance(ceiling, limit, most, told)


def _whole_diet(setting: Setting, entries: tuple[Entry, ...], ceiling: Ceiling, every_days: int) -> Allowance:
    dry = setting.dry_kg
    if dry is None:
        raise ValueError("A limit on the whole diet needs a diet.")
    had = total(entries, ceiling.rule.counts, setting.n_draws)
    room = np.maximum(ceiling.value * dry - had, 0.0)
    most = max(float(np.quantile(room, 1.0 - SURE)), 0.0) * every_days
    unit, grams = SUBSTANCES[ceiling.rule.nutrient].unit, float(np.median(dry)) * G_PER_KG
    often = "a day" if every_days == 1 else f"{every_days} days"
    told = (
        f"{figure(ceiling.value)} {ceiling.unit}, of which it eats about {figure(grams)} g a day "
        f"holding {figure(float(np.median(had)))}, leaves at most {down(most)} {unit} for {often}"
    )
    return _allowance(ceiling, ceiling.value, most, told)


def _allowance(ceiling: Ceiling, limit: float, most: float, told: str) -> Allowance:
    sentence = f"{ceiling.rule.evidence_id}: {told} ({ceiling.said_by})."
    return Allowance(
        evidence_id=ceiling.rule.evidence_id,
        nutrient=ceiling.rule.nutrient,
        kind=ceiling.kind,
        limit=limit,
        unit=ceiling.unit,
        said_by=ceiling.said_by,
        most=most,
        sentence=sentence,
    )


def _least(setting: Setting) -> float:
    if setting.mass is None:
        raise ValueError("An allowance per kilogram needs a mass.")
    return setting.mass.least_kg


def _sure(draws: Draws) -> float:
    return float(np.quantile(draws, SURE))
