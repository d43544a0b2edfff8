"""May it leave quarantine: all gates, freedom from each agent, and how to keep it apart until then."""

import datetime as dt
from collections.abc import Sequence

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.quarantine import gates_health as health
from baskwell.science.quarantine import gates_time as time
from baskwell.science.quarantine.agents import freedom_of_all
from baskwell.science.quarantine.gates_weight import weight_gate
from baskwell.science.quarantine.practice import practice_of
from baskwell.science.quarantine.result import Freedom, Gate, Quarantine
from baskwell.science.quarantine.stay import Stay, begin, future_gaps
from baskwell.science.quarantine.tested import Tested, read_tested


def judge_quarantine(
    case: Case,
    evidence: Evidence,
    now: dt.datetime,
    rng: np.random.Generator,
    newcomers: Sequence[dt.date] | None = None,
    n_draws: int = 4000,
) -> Quarantine:
    """Judge every criterion for leaving quarantine as of ``now`` (local time of the records).

    ``newcomers`` are the days on which an animal came into the same air; ``()`` says that none did, None
    that nobody said. What is not known never counts as met.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, Exam
    >>> exam = Exam(date=dt.date(2026, 3, 14), reason="intake")
    >>> case = Case(Animal("testudo_graeca", name="Sorrel"), exam=exam)
    >>> told = judge_quarantine(case, load_evidence(), dt.datetime(2026, 4, 1), np.random.default_rng(1))
    >>> told.may_leave, told.gates[0].sentence
    (False, '18 days of 180, counted from the examination at intake (2026-03-14).')
    """
    stay = begin(case, evidence, now)
    tested = read_tested(case, evidence, now)
    freedom = freedom_of_all(stay, tested, rng, n_draws)
    gates = _gates(stay, tested, freedom, newcomers)
    may_leave = all(gate.state == "met" for gate in gates)
    gaps = (*future_gaps(case, now), *tested.gaps)
    practice = practice_of(evidence, case.animal.taxon)
    return Quarantine(may_leave, _headline(case, gates), gates, freedom, practice, gaps)


def _gates(
    stay: Stay, tested: Tested, freedom: tuple[Freedom, ...], newcomers: Sequence[dt.date] | None
) -> tuple[Gate, ...]:
    agents = health.agents_gate(stay, tested)
    return (
        time.days_gate(stay),
        time.newcomer_gate(stay, newcomers),
        time.meals_gate(stay),
        time.faeces_gate(stay),
        health.faecal_gate(stay, tested),
        weight_gate(stay),
        health.signs_gate(stay),
        *(() if agents is None else (agents,)),
        health.infection_gate(stay, freedom),
        health.vet_gate(stay),
    )


def _headline(case: Case, gates: tuple[Gate, ...]) -> str:
    name = case.animal.name or "This animal"
    not_met = [g.name.lower() for g in gates if g.state == "not met"]
    unknown = [g.name.lower() for g in gates if g.state == "not known"]
    if not not_met and not unknown:
        return f"{name} may leave quarantine: all {len(gates)} criteria are met."
    parts = [f"not met: {', '.join(not_met)}"] if not_met else []
    parts += [f"not known: {', '.join(unknown)}"] if unknown else []
    return f"{name} stays in quarantine; {'; '.join(parts)}."
