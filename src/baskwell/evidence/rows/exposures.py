"""Rows of the tables that turn a history into exposures: one frozen class a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ExposurePrior:
    """How common an exposure is among surrendered reptiles that can have it, and how to ask.

    ``low``, ``mode`` and ``high`` are a probability. ``minutes`` is what asking or looking costs.
    ``answers`` and ``answer_means`` run in parallel: the choices in an owner's words, and the probability
    of exposure that each one stands for (``"?"`` = the answer tells nothing). ``topics`` are the words of
    ``history.judged_good`` and ``judged_poor`` that bear on it, the most specific first.
    """

    exposure_id: str
    low: float
    mode: float
    high: float
    unit: str
    minutes: float
    ask_owner: bool
    look: bool
    computed: bool
    question: str
    answers: tuple[str, ...]
    answer_means: tuple[str, ...]
    topics: tuple[str, ...]
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class ExposureJudgement:
    """A value that a rule needs to read an exposure from facts; all are judgement, with their range."""

    judgement_id: str
    meaning: str
    low: float
    mode: float
    high: float
    unit: str
    grade: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class HistoryWord:
    """What a word in a free-text field of the history means, and how surely."""

    field: str
    word: str
    means: str
    low: float
    mode: float
    high: float
    unit: str
    grade: str
    source: str
    note: str
