"""Rows of the tables that the ranking of causes adds: one frozen class a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SeverityShare:
    """How severe signs are when a condition brings them, and when nothing does."""

    severity: int
    by_condition: float
    by_background: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class OnsetClass:
    """How long signs go on untreated and how they begin, by class of onset."""

    onset_class: str
    longest_days_low: float | None
    longest_days_mode: float | None
    longest_days_high: float | None
    sudden_low: float
    sudden_mode: float
    sudden_high: float
    gradual_low: float
    gradual_mode: float
    gradual_high: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class ConditionOnset:
    """The onset class of a condition."""

    condition_id: str
    onset_class: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class AnimalFit:
    """How age, sex or reproductive state moves the odds of a condition."""

    condition_id: str
    attribute: str
    value: str
    low: float
    mode: float
    high: float
    unit: str
    why: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class SignSetMember:
    """Signs that name one finding: only one of a set is scored."""

    set_id: str
    sign_id: str
    exactness: int
    composite: bool
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class FlagRule:
    """When a sign alone calls for a veterinarian."""

    sign_id: str
    vet_now_from: int | None
    within_days_from: int | None
    vet_now_with: tuple[str, ...]
    vet_now_at_age: tuple[str, ...]
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class TestKind:
    """A kind of test: the words that name it, who may do it, what it costs."""

    test_kind: str
    name: str
    words: tuple[str, ...]
    done_by: str
    cost_minutes: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class TestPerformance:
    """Sensitivity and specificity of a kind of test for a condition."""

    test_kind: str
    condition_id: str
    sensitivity_low: float
    sensitivity_mode: float
    sensitivity_high: float
    specificity_low: float
    specificity_mode: float
    specificity_high: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class TestWord:
    """What words in a test result say about a condition."""

    any_of: str
    unless: str
    test_kinds: tuple[str, ...]
    condition_id: str
    low: float
    mode: float
    high: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class ExamCost:
    """Minutes to look at one body system."""

    body_system: str
    minutes: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class RankingChoice:
    """A judged figure that the ranking needs and no source gives."""

    choice_id: str
    value: float
    unit: str
    why: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class ExposureKind:
    """Whether an exposure is a fault of keeping, an event, a circumstance, or what the animal is."""

    exposure_id: str
    kind: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class ImpliedSign:
    """A sign that the general state or a body condition score states; the first row that holds counts."""

    field: str
    word: str
    low: float | None
    high: float | None
    unit: str
    sign_id: str
    severity: int
    grade: str
    source: str
    note: str


@dataclass(frozen=True)
class CauseTables:
    """The tables that only the ranking of causes reads."""

    severity_shares: tuple[SeverityShare, ...]
    onset_classes: tuple[OnsetClass, ...]
    condition_onset: tuple[ConditionOnset, ...]
    animal_fit: tuple[AnimalFit, ...]
    sign_sets: tuple[SignSetMember, ...]
    flag_rules: tuple[FlagRule, ...]
    test_kinds: tuple[TestKind, ...]
    test_performance: tuple[TestPerformance, ...]
    test_words: tuple[TestWord, ...]
    exam_costs: tuple[ExamCost, ...]
    ranking_choices: tuple[RankingChoice, ...]
    exposure_kinds: tuple[ExposureKind, ...]
    implied_signs: tuple[ImpliedSign, ...]

    def choice(self, choice_id: str) -> float:
        """The value of one judged choice."""
        return next(row.value for row in self.ranking_choices if row.choice_id == choice_id)
