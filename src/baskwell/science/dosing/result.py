"""What dosing tells: ledger, limits, recipe and plan, all frozen and in sentences."""

from dataclasses import dataclass, field
from typing import Literal

from baskwell.science.draws import Draws, Summary

Origin = Literal["food", "supplement", "dose", "treatment"]
Standing = Literal["within", "may be over", "over", "not known"]
Verdict = Literal["recipe", "recorded", "refused", "asks"]


@dataclass(frozen=True)
class Entry:
    """One line of the ledger: what brought a substance, a day or at once.

    ``per_day`` (unit of the account, a day) for what goes on, ``amount`` for what was given once;
    ``days_ago`` None = time not known, so it counts in every window. ``counts`` tells for which way of
    counting it counts (``added``, ``fortified``, ``food``); ``known`` False: the amount is not known.
    """

    origin: Origin
    name: str
    route: str
    days_ago: float | None
    times: float
    counts: tuple[str, ...]
    known: bool
    got: Summary | None
    sentence: str
    per_day: Draws | None = field(default=None, repr=False, compare=False)
    amount: float | None = None


@dataclass(frozen=True)
class LimitCheck:
    """What was had against one limit.

    ``got`` and ``limit`` share ``unit``; ``window_days`` None = one dose, or the whole diet. ``evidence_id``
    is understood by ``baskwell evidence show``.
    """

    evidence_id: str
    kind: str
    limit: float
    unit: str
    window_days: float | None
    said_by: str
    got: Summary | None
    chance_over: float | None
    standing: Standing
    sentence: str


@dataclass(frozen=True)
class Account:
    """The ledger of one substance."""

    nutrient: str
    name: str
    unit: str
    entries: tuple[Entry, ...]
    checks: tuple[LimitCheck, ...]
    asks: tuple[str, ...]


@dataclass(frozen=True)
class Ledger:
    """All accounts, and what was given that only a veterinarian may order.

    ``alarms`` are sentences that must be shown first; ``gaps`` what could not be counted and why.
    """

    accounts: tuple[Account, ...]
    drugs: tuple[str, ...]
    alarms: tuple[str, ...]
    gaps: tuple[str, ...]

    def of(self, nutrient: str) -> Account:
        """The account of a nutrient. Raises KeyError where there is none."""
        for account in self.accounts:
            if account.nutrient == nutrient:
                return account
        raise KeyError(nutrient)


@dataclass(frozen=True)
class Allowance:
    """How much of a substance one limit still leaves for one dose, and how that was reckoned."""

    evidence_id: str
    nutrient: str
    kind: str
    limit: float
    unit: str
    said_by: str
    most: float
    sentence: str


@dataclass(frozen=True)
class Recipe:
    """One dose as a person can measure it.

    ``measure`` times ``measure_unit`` of the product, or of a mixture of ``parts`` units of product made up
    to ``made_up_to`` (0 = undiluted). ``holds`` is what one dose holds at the most, by nutrient.
    """

    measure: float
    measure_unit: str
    parts: float
    made_up_to: float
    holds: tuple[tuple[str, float], ...]
    every_days: int
    steps: tuple[str, ...]


@dataclass(frozen=True)
class DosePlan:
    """The answer to "may this be given, and how is it measured".

    ``verdict`` ``recipe``: ``recipe`` may be given; ``recorded``: a veterinarian's order, written down
    without a recipe; ``refused``: nothing is to be given, ``sentences`` say why with the arithmetic;
    ``asks``: an answer is missing, ``asks`` says which. ``allowances`` are the limits, the strictest first;
    ``conflicts`` what else is published and why it is not used.
    """

    agent_id: str
    agent: str
    verdict: Verdict
    recipe: Recipe | None
    sentences: tuple[str, ...]
    allowances: tuple[Allowance, ...]
    conflicts: tuple[str, ...]
    asks: tuple[str, ...]
    ledger: Ledger
    caution: str
