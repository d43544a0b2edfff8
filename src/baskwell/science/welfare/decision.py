"""What calls for a talk, and the record of what was decided by whom and why."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from baskwell.evidence import Evidence
from baskwell.science.causes.ranking import Flag

Decided = Literal["go on", "go on for comfort", "talk again", "by the veterinarian"]


@dataclass(frozen=True, slots=True)
class Decision:
    """What was decided, by whom, why, and when to look again; written by people, never by this tool.

    ``rule_agreed``: the rule for decline that was agreed before. ``by the veterinarian`` is a decision that
    belongs to the veterinarian alone, whose name must then stand.
    """

    at: dt.datetime
    decided: Decided
    why: str
    by: tuple[str, ...]
    veterinarian: str
    rule_agreed: str
    review_on: dt.date | None


def talks(stated: Iterable[str], evidence: Evidence) -> tuple[Flag, ...]:
    """A talk with the veterinarian for each stated prompt of ``welfare_prompts.csv``.

    Raises ValueError for an unknown prompt.

    >>> from baskwell.evidence import load_evidence
    >>> talks(["pain_not_controlled"], load_evidence())[0].sentence
    'Pain that is not controlled: talk with the veterinarian about how to go on.'
    """
    known = {row.prompt_id: row for row in evidence.welfare.welfare_prompts}
    found = []
    for prompt in stated:
        if prompt not in known:
            raise ValueError(f"'{prompt}' is not known: write one of {', '.join(known)}.")
        row = known[prompt]
        name = row.name[0].upper() + row.name[1:]
        text = f"{name}: talk with the veterinarian about how to go on."
        found.append(Flag("within days", row.prompt_id, text, row.source))
    return tuple(found)


def missing_in(decision: Decision) -> tuple[str, ...]:
    """What a record still lacks before it can be signed; empty = complete.

    >>> day = dt.datetime(2026, 3, 1)
    >>> missing_in(Decision(day, "by the veterinarian", "pain", ("A",), "", "agreed in February", None))
    ('Name the veterinarian: this decision is theirs.',)
    """
    told = []
    if not decision.why.strip():
        told.append("Say why.")
    if not any(name.strip() for name in decision.by):
        told.append("Say who decided.")
    if not decision.rule_agreed.strip():
        told.append("Say which rule for decline was agreed beforehand, or that none was.")
    if decision.decided == "by the veterinarian":
        if not decision.veterinarian.strip():
            told.append("Name the veterinarian: this decision is theirs.")
    elif decision.review_on is None:
        told.append("Say on which day it is looked at again.")
    elif decision.review_on <= decision.at.date():
        told.append("The day to look again must lie after the decision.")
    return tuple(told)
