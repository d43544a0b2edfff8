"""What quarantine tells: gates, freedom from each agent, how to keep it apart; frozen and in sentences."""

from dataclasses import dataclass
from typing import Literal

from baskwell.science.draws import Summary

State = Literal["met", "not met", "not known"]


@dataclass(frozen=True)
class Gate:
    """One criterion for leaving quarantine.

    ``sentence`` says what is known, ``would_meet`` what would meet it (empty where it is met). ``fact_id`` is
    understood by ``baskwell evidence show``.
    """

    gate_id: str
    name: str
    state: State
    sentence: str
    would_meet: str
    fact_id: str
    said_by: str


@dataclass(frozen=True)
class Freedom:
    """How likely an agent is still there after the tests so far.

    ``infected`` is a probability; None where an agent was found, or no figure of the tests is known.
    ``negatives`` are those that count: repeats too close together are one. ``more_tests`` of
    ``test_kind`` reach the limit in four of five possible worlds; None where testing alone does not, 0 where
    none is needed. ``gate``: whether leaving depends on it.
    """

    condition_id: str
    name: str
    gate: bool
    state: State
    before: Summary
    infected: Summary | None
    negatives: int
    test_kind: str
    more_tests: int | None
    sentence: str
    would_meet: str
    said_by: str


@dataclass(frozen=True)
class Practice:
    """One line on keeping it apart: separate air, tools, order of work, cleaning, people."""

    kind: str
    sentence: str
    fact_id: str
    grade: str
    said_by: str


@dataclass(frozen=True)
class Quarantine:
    """The answer to "may it leave": only where every gate is met."""

    may_leave: bool
    sentence: str
    gates: tuple[Gate, ...]
    freedom: tuple[Freedom, ...]
    practice: tuple[Practice, ...]
    gaps: tuple[str, ...]
