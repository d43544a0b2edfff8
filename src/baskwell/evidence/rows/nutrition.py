"""Rows of the nutrition tables: one frozen class a table, one attribute a column."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NutrientTarget:
    """A nutrient level wanted for a taxon or trophic group.

    ``copied_from_group``: the group row repeated under a species name, no evidence on the species.
    """

    row_id: str
    taxon_or_group: str
    life_stage: str
    nutrient: str
    unit: str
    basis: str
    minimum: float | None
    target_low: float | None
    target_high: float | None
    maximum: float | None
    value_text: str
    upper_is_toxic: bool | None
    evidence_grade: str
    source_id: str
    source_locator: str
    note: str
    provenance: str
    prefer: bool
    copied_from_group: bool


@dataclass(frozen=True, slots=True)
class Nutrient:
    """A nutrient: the unit and basis in which its targets can be compared, and the finding it serves."""

    nutrient: str
    unit: str
    basis: str
    physical_low: float | None
    physical_high: float | None
    finding_id: str
    meaning: str


@dataclass(frozen=True, slots=True)
class DietShare:
    """The share of a food group in a wild or recommended diet."""

    row_id: str
    taxon: str
    life_stage: str
    food_group: str
    share_low: float | None
    share_high: float | None
    basis: str
    feeding_frequency: str
    evidence_grade: str
    source_id: str
    source_locator: str
    note: str
    provenance: str


@dataclass(frozen=True, slots=True)
class EnergyRelation:
    """A metabolic equation, multiplier or limit."""

    id: str
    kind: str
    taxon_or_group: str
    quantity: str
    equation: str
    coefficient: float | None
    exponent: float | None
    mass_unit: str
    output_unit: str
    temperature_low_c: float | None
    temperature_high_c: float | None
    temperature_text: str
    q10: float | None
    value_low: float | None
    value_high: float | None
    evidence_grade: str
    source_id: str
    source_locator: str
    note: str
    provenance: str
    prefer: bool


@dataclass(frozen=True, slots=True)
class Dose:
    """A published dose, limit or guard."""

    row_id: str
    agent: str
    taxon: str
    route: str
    dose_low: float | None
    dose_high: float | None
    unit: str
    interval: str
    max_duration: str
    toxic_threshold: str
    prescription_only: bool
    tool_use: str
    caution: str
    evidence_grade: str
    source_id: str
    source_locator: str
    provenance: str


@dataclass(frozen=True, slots=True)
class WeaningStep:
    """A feeding step or an escalation threshold."""

    row_id: str
    taxon: str
    kind: str
    step_or_threshold: str
    value_low: float | None
    value_high: float | None
    unit: str
    action: str
    evidence_grade: str
    source_id: str
    source_locator: str
    note: str
    provenance: str


@dataclass(frozen=True, slots=True)
class Agent:
    """What is given as a supplement, dose or treatment.

    ``supplies`` are nutrients; ``food_id`` names its composition where that is known.
    """

    agent_id: str
    name: str
    kind: str
    supplies: tuple[str, ...]
    food_id: str
    prescription_only: bool
    aliases: tuple[str, ...]
    note: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class TrophicGroup:
    """Which nutrient group a taxon borrows from."""

    taxon: str
    scientific_name: str
    life_stage: str
    trophic_group: str
    evidence_grade: str
    source_id: str
    source_locator: str
    note: str
    provenance: str
