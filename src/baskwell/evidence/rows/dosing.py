"""Rows of the tables that dosing needs: one frozen class a table, one attribute a column."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class CeilingRule:
    """How a row of ``limits.csv`` or ``doses.csv`` is reckoned with; its value stays in that row.

    ``basis``: ``single`` (per kg of animal, one dose), ``animal`` (per kg of animal and ``per_days`` days,
    summed over each of ``windows`` days) or ``diet_dm`` (per kg of dry matter of the whole diet); these are
    never mixed. ``counts``: ``added`` (supplements, liver, oils, doses), ``fortified`` (those and complete
    or pet feeds) or ``food`` (all that is eaten; of vitamin A without whole vertebrate prey). ``role``
    ``default``: its low end is what is proposed. ``with_order``: it stands above a veterinarian's order.
    ``covers`` is empty where the row itself says whom it covers.
    """

    evidence_id: str
    table: Literal["nutrition_doses", "safety_limits"]
    nutrient: str
    covers: str
    basis: Literal["animal", "diet_dm", "single"]
    per_days: float | None
    windows: tuple[str, ...]
    counts: Literal["added", "food", "fortified"]
    role: Literal["ceiling", "default"]
    with_order: bool
    note: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class MeasuringTool:
    """What a person can measure, in ``unit``: steps, how far off, the least and most of one measure.

    ``made_up_to``: sizes of the mixtures that it is practical to make for this kind of product.
    """

    tool_id: str
    name: str
    measures: Literal["animal", "capsule", "drop", "liquid", "powder", "tablet"]
    unit: str
    step: float | None
    error: float | None
    least: float | None
    most: float | None
    made_up_to: tuple[str, ...]
    note: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class EnergyChoice:
    """What a row of ``energy.csv`` is used for, and for whom.

    ``use``: ``rest`` (a resting need; ``low`` to ``high`` is the temperature it holds at), ``rest_own`` (the
    same, measured in the species), ``q10`` (the temperatures between which it holds), ``activity`` and
    ``growth`` (multipliers), ``start`` and ``ramp`` (days of refeeding).
    """

    choice_id: str
    use: Literal["activity", "growth", "q10", "ramp", "rest", "rest_own", "start"]
    relation_id: str
    covers: str
    low: float | None
    high: float | None
    unit: str
    note: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class DosingTables:
    """The tables of dosing and of energy needs, each named as its file in ``nutrition/``."""

    ceilings: tuple[CeilingRule, ...]
    energy_choices: tuple[EnergyChoice, ...]
    measuring: tuple[MeasuringTool, ...]
