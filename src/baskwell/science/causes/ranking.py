"""The result of ranking causes: frozen, JSON-serialisable, ready to be told."""

from dataclasses import dataclass
from typing import Literal

from baskwell.science.draws import Summary

QuestionKind = Literal["exposure", "sign", "test"]
ReasonKind = Literal["sign", "absent sign", "exposure", "test", "course", "animal", "prior"]


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that speaks for (positive) or against (negative) a cause, in natural log odds."""

    kind: ReasonKind
    key: str
    text: str
    log_odds: float
    said_by: str


@dataclass(frozen=True, slots=True)
class Cause:
    """One condition in the ranking.

    ``posterior`` is the probability that the animal has it: the best estimate, all parameter doubt
    integrated out, in the place of the median, with the 90 % interval over parameter draws;
    ``explains`` the expected number of present signs that would vanish if it alone were cured
    (expected disablement; Richens, Lee & Johri 2020, Nature Communications 11:3923); ``chance_first``
    how often it leads the explaining order over the draws. Ranks start at 1.
    """

    condition_id: str
    name: str
    kind: str
    prior: float
    posterior: Summary
    explains: Summary
    chance_first: float
    rank_by_explaining: int
    rank_by_posterior: int
    reasons_for: tuple[Reason, ...]
    reasons_against: tuple[Reason, ...]
    settled_by: tuple[str, ...]
    treated_by: str
    contagious: str
    zoonotic: str


@dataclass(frozen=True, slots=True)
class JointSet:
    """Causes present together, and the probability of exactly this set."""

    condition_ids: tuple[str, ...]
    names: tuple[str, ...]
    probability: float


@dataclass(frozen=True, slots=True)
class Fault:
    """A husbandry fault: how likely it was there and how much of what is seen it accounts for.

    ``explains`` is the expected number of present signs that the conditions it feeds explain, times
    the share of their odds that this fault supplies. ``state`` as in ``history.belief.Exposure``.
    """

    exposure_id: str
    name: str
    probability: float
    explains: float
    state: str
    because: str
    feeds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to ask, look at or test next, and what it is worth.

    ``information_bits`` is the expected drop of the entropy of the ranking; ``chance_top_changes``
    the chance that the first cause becomes another; ``cost`` in minutes-equivalents; ``worth`` is
    information per unit of cost, the order of the list. ``answers`` holds what each answer would do.
    """

    key: str
    kind: QuestionKind
    text: str
    why: str
    information_bits: float
    chance_top_changes: float
    cost: float
    worth: float
    answers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Flag:
    """A rule outside the network that fires on a sign alone. ``level`` is the urgency."""

    level: Literal["vet now", "within days", "watch"]
    key: str
    sentence: str
    said_by: str


@dataclass(frozen=True)
class Ranking:
    """Causes in the explaining order, with everything that belongs to them.

    ``remainder`` is the probability that none of the listed causes explains a present sign or that
    something else is the matter. ``method`` says how the posterior was reached ("exact", "exact in
    parts", "sampled").
    """

    causes: tuple[Cause, ...]
    remainder: Summary
    joint_sets: tuple[JointSet, ...]
    faults: tuple[Fault, ...]
    questions: tuple[Question, ...]
    signs_present: tuple[str, ...]
    signs_absent: tuple[str, ...]
    signs_not_examined: int
    signs_set_aside: tuple[str, ...]
    method: str
    notes: tuple[str, ...]
