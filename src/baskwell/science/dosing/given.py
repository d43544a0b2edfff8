"""What was given at once: the doses of the days here and the treatments told of."""

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.rows.nutrition import Agent
from baskwell.science.case.model import Case, DoseGiven, Treatment, When
from baskwell.science.case.span import Span
from baskwell.science.dosing.result import Entry, Origin
from baskwell.science.dosing.substances import SUBSTANCES, find_agent, substances_of, units_from_ug
from baskwell.science.dosing.supplied import ALL_WAYS
from baskwell.science.dosing.tell import figure

INJECTED = ("injection", "sc", "im", "iv", "icoelomic")
NO_NAME = {
    "", "vet", "the vet", "a vet", "veterinarian", "the veterinarian", "doctor", "the doctor", "dr",
    "unknown", "yes", "no", "me", "keeper", "staff", "owner", "somebody", "none",
}  # fmt: skip
DAYS = {"days_before": 1.0, "weeks_before": 7.0, "months_before": 365.25 / 12}
SECONDS_PER_DAY = 86_400.0
LEAST_LETTERS = 3


@dataclass(frozen=True)
class Given:
    """One thing given: which agents it may be, what it held (None = not known) and who ordered it."""

    origin: Origin
    words: str
    agents: tuple[Agent, ...]
    route: str
    days_ago: float | None
    times: float
    holds: Mapping[str, float | None]
    ordered_by: str

    @property
    def needs_order(self) -> bool:
        """Whether only a veterinarian may order it: its kind, or an injection of whatever."""
        return self.route in INJECTED or any(agent.prescription_only for agent in self.agents)


def is_named(ordered_by: str) -> bool:
    """Whether an order names a veterinarian.

    >>> is_named("Dr. Ines Falk"), is_named("the vet"), is_named("")
    (True, False, False)
    """
    words = " ".join(re.sub(r"[^\w\s]", " ", ordered_by.casefold()).split())
    return words not in NO_NAME and sum(char.isalpha() for char in words) >= LEAST_LETTERS


def all_given(case: Case, evidence: Evidence, now: dt.datetime) -> tuple[Given, ...]:
    """Every dose of the days and every treatment; ``agent = "none"`` is nothing given."""
    doses = [_dose(row, evidence, now) for row in case.days.doses]
    treatments = [_treatment(row, case, evidence, now) for row in case.history.treatments]
    return tuple(one for one in (*doses, *treatments) if one is not None)


def entries_of(given: tuple[Given, ...], nutrient: str) -> Iterator[Entry]:
    """The ledger lines of one nutrient."""
    for one in given:
        if nutrient in one.holds:
            amount = one.holds[nutrient]
            yield Entry(
                one.origin, one.words, one.route, one.days_ago, one.times, ALL_WAYS, amount is not None, None,
                _sentence(one, nutrient, amount), None, amount,
            )  # fmt: skip


def _sentence(one: Given, nutrient: str, amount: float | None) -> str:
    when = "at a time not told" if one.days_ago is None else f"{one.days_ago:.0f} days ago"
    by = f", {one.route}" if one.route else ""
    much = "an amount not known" if amount is None else f"{figure(amount)} {SUBSTANCES[nutrient].unit}"
    often = f", {figure(one.times)} times" if one.times > 1 else ""
    return f"{one.words}{by}, {when}: {much}{often}."


def _dose(row: DoseGiven, evidence: Evidence, now: dt.datetime) -> Given | None:
    agents = agents_in(row.agent, evidence)
    if _is_nothing(agents):
        return None
    days = None if row.at is None else max((now - row.at).total_seconds() / SECONDS_PER_DAY, 0.0)
    holds = _held(agents, _most(row.amount_iu), _most(row.amount_mg), evidence)
    return Given(
        "dose",
        row.agent.replace("_", " ") or "something",
        agents,
        row.route or "",
        days,
        1.0,
        holds,
        row.ordered_by,
    )


def _treatment(row: Treatment, case: Case, evidence: Evidence, now: dt.datetime) -> Given | None:
    agents = agents_in(row.agent, evidence)
    if _is_nothing(agents):
        return None
    kilograms = (_most(case.animal.mass_g) or 0.0) / 1000.0
    per_kg = _most(row.dose_mg_per_kg)
    mg = per_kg * kilograms if per_kg is not None and kilograms > 0 else None
    times = max(_most(row.times) or 1.0, 1.0)
    holds = _held(agents, _most(row.dose_iu), mg, evidence)
    by = "a veterinarian" if row.by == "vet" else ""
    return Given(
        "treatment",
        row.agent.replace("_", " ") or "something",
        agents,
        row.route or "",
        _days_ago(row, case, now),
        times,
        holds,
        by,
    )


def agents_in(words: str, evidence: Evidence) -> tuple[Agent, ...]:
    """The agents that free words may mean: one by its name, or all whose names stand in the words.

    >>> from baskwell.evidence import load_evidence
    >>> [a.agent_id for a in agents_in("vitamin A injection", load_evidence())]
    ['vitamin_a']
    """
    exact = find_agent(words, evidence)
    if exact is not None:
        return (exact,)
    plain = f" {re.sub(r'[^a-z0-9]+', ' ', words.casefold())} "
    found = {
        name: agent for agent in evidence.agents.values() for name in _names(agent) if f" {name} " in plain
    }
    longest = [name for name in found if not any(name != other and name in other for other in found)]
    kept = {found[name].agent_id: found[name] for name in longest}
    known = [agent for agent in kept.values() if agent.kind not in ("unknown", "none")]
    return tuple(known or kept.values())


def _names(agent: Agent) -> set[str]:
    names = (agent.agent_id, agent.name, *agent.aliases)
    return {re.sub(r"[^a-z0-9]+", " ", name.casefold()).strip() for name in names}


def _is_nothing(agents: tuple[Agent, ...]) -> bool:
    return bool(agents) and all(agent.kind == "none" for agent in agents)


def _held(
    agents: tuple[Agent, ...], iu: float | None, mg: float | None, evidence: Evidence
) -> dict[str, float | None]:
    """What was given of each nutrient; an IU of more than one thing, or a mixture by weight, is not known."""
    held = {s.nutrient: s for agent in agents for s in substances_of(agent)}
    if len(agents) == 1 and agents[0].food_id and mg is not None:
        food = evidence.foods[agents[0].food_id]
        return {n: mg / 1e5 * (getattr(food, s.column) or 0.0) * s.per_column for n, s in held.items()}
    if len(held) == 1:
        ((nutrient, substance),) = held.items()
        if iu is not None and substance.in_iu:
            return {nutrient: iu}
        if mg is not None and nutrient != "calcium":
            return {nutrient: units_from_ug(nutrient, mg * 1000.0)}
    return dict.fromkeys(held, None)


def _most(span: Span | None) -> float | None:
    """The high end: what was given is never taken for less than it may have been."""
    return None if span is None else span.high


def _days_ago(when: When, case: Case, now: dt.datetime) -> float | None:
    """Days from the latest time that is meant until now; None where no time is told."""
    exam = case.exam.date
    since_exam = (now.date() - exam).days if isinstance(exam, dt.date) else 0
    for key, days in DAYS.items():
        span = getattr(when, key)
        if span is not None:
            return max((span.low or 0.0) * days + since_exam, 0.0)
    last = when.to or when.date
    return None if last is None else max(float((now.date() - last).days), 0.0)
