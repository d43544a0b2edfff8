"""Rows of the tables on heat, humidity, space and substrate: one frozen class a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Instrument:
    """How far a thermometer or hygrometer is trusted.

    ``model_sd`` is the standard deviation of the error in ``unit``; ``share_if_unknown`` the share of
    this kind where nobody said which was read (they add to one for a quantity).
    """

    instrument_id: str
    quantity: str
    name: str
    error_low: float
    error_high: float
    model_sd: float
    share_if_unknown: float
    unit: str
    evidence_grade: str
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class SurroundingsPrior:
    """What a word or a missing figure stands for: low, most likely and high; all judgement."""

    prior_id: str
    low: float
    mode: float
    high: float
    unit: str
    evidence_grade: str
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class Substrate:
    """A floor material, the words people use for it, and its properties (None = it depends)."""

    substrate_id: str
    name: str
    words: tuple[str, ...]
    fine_loose: bool | None
    coarse_swallowable: bool | None
    holds_moisture: bool | None
    abrasive: bool | None
    diggable: bool | None
    evidence_grade: str
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class CareRule:
    """What one answer about care means for the animals it covers; the narrowest cover wins."""

    rule_id: str
    finding_id: str
    covers: str
    answer: str
    verdict: str
    because: str
    evidence_grade: str
    source_id: str
    note: str


@dataclass(frozen=True, slots=True)
class SpaceRule:
    """One published rule on room, or one step of a table by body length.

    Rows of one ``rule`` are its steps: the row holds for lengths over ``over_cm`` up to ``up_to_cm``
    and ages from ``from_age_months`` up to ``up_to_age_months``. The floor for ``animals`` animals is
    ``area_m2``, or ``area_lengths2`` times the squared body length (``length_kind`` SCL, SVL or TL).
    Each further animal adds ``further_m2``, or ``further_first_share`` of that floor for the first
    ``further_first_count`` and ``further_share`` for the rest; with none of these the rule says nothing
    about further animals. The long side is at least ``side_lengths`` body lengths; height and water
    depth are so many cm plus so many body lengths; ``volume_l`` is a volume.
    """

    row_id: str
    rule: str
    name: str
    covers: str
    setting: str
    purpose: str
    length_kind: str
    over_cm: float | None
    up_to_cm: float | None
    from_age_months: float | None
    up_to_age_months: float | None
    area_m2: float | None
    area_lengths2: float | None
    animals: float
    further_first_count: float | None
    further_first_share: float | None
    further_share: float | None
    further_m2: float | None
    side_lengths: float | None
    height_cm: float | None
    height_lengths: float | None
    water_depth_cm: float | None
    water_depth_lengths: float | None
    volume_l: float | None
    evidence_grade: str
    source_id: str
    locator: str
    note: str


@dataclass(frozen=True)
class SurroundingsTables:
    """The tables that only the history of the surroundings reads."""

    instruments: tuple[Instrument, ...]
    surroundings_priors: tuple[SurroundingsPrior, ...]
    substrates: tuple[Substrate, ...]
    care_rules: tuple[CareRule, ...]
    space_rules: tuple[SpaceRule, ...]

    def prior(self, prior_id: str) -> SurroundingsPrior:
        """One judged range; KeyError names an id that is not in the table."""
        found = next((row for row in self.surroundings_priors if row.prior_id == prior_id), None)
        if found is None:
            raise KeyError(f"surroundings_priors.csv has no row {prior_id}.")
        return found

    def instrument(self, instrument_id: str) -> Instrument:
        """One instrument; KeyError names an id that is not in the table."""
        found = next((row for row in self.instruments if row.instrument_id == instrument_id), None)
        if found is None:
            raise KeyError(f"instruments.csv has no row {instrument_id}.")
        return found
