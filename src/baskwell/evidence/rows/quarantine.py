"""Rows of the tables that quarantine is reckoned with: one frozen class a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class QuarantineChoice:
    """A judged or advised figure behind a criterion; ``fact_id`` is the row of ``quarantine.csv``."""

    choice_id: str
    value: float
    low: float | None
    high: float | None
    unit: str
    fact_id: str
    why: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class FreedomAgent:
    """An agent the animal should be free of; of one agent the first row that covers the animal counts.

    ``gate``: leaving depends on it; ``clearable``: treatment rids of it, others are kept apart for life.
    The first of ``prevalence_ids`` gives the most likely prior, all together its range.
    """

    condition_id: str
    covers: str
    name: str
    named_by: tuple[str, ...]
    prevalence_ids: tuple[str, ...]
    gate: bool
    clearable: bool
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class FreedomTest:
    """What one test of an agent is worth; None where no figure can be stated.

    ``only_if_named``: the test speaks of the agent only where it, or its result, holds one of these words.
    """

    condition_id: str
    test_kind: str
    only_if_named: tuple[str, ...]
    sensitivity_low: float | None
    sensitivity_mode: float | None
    sensitivity_high: float | None
    specificity_low: float | None
    specificity_mode: float | None
    specificity_high: float | None
    unit: str
    fact_id: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class QuarantineSign:
    """A sign that must be looked for and not be there; ``why`` names what it is one of."""

    sign_id: str
    fact_id: str
    why: str
    grade: str
    source: str


@dataclass(frozen=True)
class QuarantineTables:
    """The tables of quarantine, each named as its file in ``clinical/``."""

    quarantine_choices: tuple[QuarantineChoice, ...]
    freedom_agents: tuple[FreedomAgent, ...]
    freedom_tests: tuple[FreedomTest, ...]
    quarantine_signs: tuple[QuarantineSign, ...]

    def choice(self, choice_id: str) -> QuarantineChoice:
        """The row of one choice. Raises KeyError where there is none."""
        for row in self.quarantine_choices:
            if row.choice_id == choice_id:
                return row
        raise KeyError(choice_id)
