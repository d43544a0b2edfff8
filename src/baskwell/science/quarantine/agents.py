"""How likely each agent is still there, and how many more tests reach the limit."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from baskwell.evidence import Evidence
from baskwell.evidence.rows.quarantine import FreedomAgent, FreedomTest
from baskwell.science.draws import Draws, pert, summarise
from baskwell.science.quarantine.freedom import negative_ratio
from baskwell.science.quarantine.result import Freedom, State
from baskwell.science.quarantine.stay import Stay, counted, spaced
from baskwell.science.quarantine.tested import Outcome, Tested, agents_of


@dataclass(frozen=True)
class _Odds:
    """Draws of what is known of one agent; every row of tests is drawn, used or not, so that worlds stay."""

    prior: Draws
    still_there: Draws
    tests: Mapping[str, tuple[Draws, Draws]]
    dependence: Draws = field(repr=False)

    def infected(self, negatives: Mapping[str, int]) -> Draws:
        """P(infected) after these negatives by kind of test; kinds are taken as independent of each other."""
        ratio = np.ones_like(self.prior)
        for kind, k in negatives.items():
            ratio = ratio * negative_ratio(*self.tests[kind], k, self.dependence)
        return self.prior * ratio / (self.prior * ratio + 1.0 - self.prior)


def freedom_of_all(
    stay: Stay, tested: Tested, rng: np.random.Generator, n_draws: int = 4000
) -> tuple[Freedom, ...]:
    """Freedom from every agent that matters for the animal, in the order of ``freedom_agents.csv``."""
    agents = agents_of(stay.evidence, stay.case.animal.taxon)
    return tuple(_freedom(agent, stay, tested, rng, n_draws) for agent in agents)


def prior_range(agent: FreedomAgent, evidence: Evidence) -> tuple[float, float, float]:
    """Low, most likely and high prior: the first prevalence, within the ends of all of them.

    >>> from baskwell.evidence import load_evidence
    >>> evidence = load_evidence()
    >>> prior_range(agents_of(evidence, "testudo_graeca")[0], evidence)     # prior_rescue.nematodes.1
    (0.2, 0.45, 0.75)
    """
    rows = [row for row in evidence.prevalence if row.prevalence_id in agent.prevalence_ids]
    first = next(row for row in rows if row.prevalence_id == agent.prevalence_ids[0])
    figures = [p for row in rows for p in (row.p, row.p_low, row.p_high) if p is not None]
    if first.p is None:
        raise ValueError(f"{first.prevalence_id} has no frequency: take another first for {agent.name}.")
    return min(figures), first.p, max(figures)


def _odds(agent: FreedomAgent, stay: Stay, rng: np.random.Generator, n_draws: int) -> _Odds:
    prior = pert(rng, *prior_range(agent, stay.evidence), n_draws)
    still_there, dependence = (
        _choice(stay, name, rng, n_draws) for name in ("still_there", "test_dependence")
    )
    tests = {}
    for test in _tests_of(agent, stay.evidence):
        figures = _figures(test)
        if figures is not None:
            tests[test.test_kind] = (pert(rng, *figures[:3], n_draws), pert(rng, *figures[3:], n_draws))
    return _Odds(prior, still_there, tests, dependence)


def _choice(stay: Stay, choice_id: str, rng: np.random.Generator, n_draws: int) -> Draws:
    row = stay.row(choice_id)
    low = row.value if row.low is None else row.low
    return pert(rng, low, row.value, row.value if row.high is None else row.high, n_draws)


def _tests_of(agent: FreedomAgent, evidence: Evidence) -> tuple[FreedomTest, ...]:
    rows = evidence.quarantine_tables.freedom_tests
    return tuple(row for row in rows if row.condition_id == agent.condition_id)


def _figures(test: FreedomTest) -> tuple[float, float, float, float, float, float] | None:
    """Sensitivity and specificity as low, mode, high; None where one is missing."""
    a, b, c = test.sensitivity_low, test.sensitivity_mode, test.sensitivity_high
    d, e, f = test.specificity_low, test.specificity_mode, test.specificity_high
    if a is None or b is None or c is None or d is None or e is None or f is None:
        return None
    return a, b, c, d, e, f


def counted_negatives(outcomes: Sequence[Outcome], stay: Stay) -> dict[str, int]:
    """Negatives by kind of test that count: those too close together are one, as are all undated ones."""
    counts: dict[str, int] = {}
    for kind in dict.fromkeys(o.test_kind for o in outcomes if not o.found):
        mine = [o for o in outcomes if o.test_kind == kind and not o.found]
        dated = spaced((o.at for o in mine if o.at is not None), gap_of(kind, stay))
        counts[kind] = max(dated, 1)
    return counts


def gap_of(kind: str, stay: Stay) -> float:
    """Days between repeats of a kind of test: faecals by ``faecal_gap``, others by ``agent_gap``."""
    gap = stay.fact("faecal_gap").value if kind == "faecal" else None
    return gap if gap is not None else stay.choice("agent_gap")


def last_found(outcomes: Iterable[Outcome]) -> tuple[bool, dt.date | None]:
    """Whether the agent was found, and when last; a finding without a day counts as the last."""
    found = [o.at for o in outcomes if o.found]
    days = [day for day in found if day is not None]
    return bool(found), max(days) if len(days) == len(found) and days else None


def _freedom(
    agent: FreedomAgent, stay: Stay, tested: Tested, rng: np.random.Generator, n_draws: int
) -> Freedom:
    odds = _odds(agent, stay, rng, n_draws)
    outcomes = tested.of(agent.condition_id)
    found, when = last_found(outcomes)
    if found:
        later = [o for o in outcomes if when is not None and o.at is not None and o.at > when]
        if not (agent.clearable and later and odds.tests):
            return _found(agent, odds, outcomes, when)
        outcomes, odds = tuple(later), replace(odds, prior=odds.still_there)
    used = {k: n for k, n in counted_negatives(outcomes, stay).items() if k in odds.tests}
    if not odds.tests:
        return _no_figure(agent, odds, stay)
    return _told(agent, odds, used, stay)


def _found(agent: FreedomAgent, odds: _Odds, outcomes: tuple[Outcome, ...], when: dt.date | None) -> Freedom:
    kind = next(o.test_kind for o in outcomes if o.found)
    day = f" on {when}" if when else ""
    sentence = f"{_start(agent)} found{day}: how likely it is still there is not known."
    meet = (
        "A veterinarian treats, then negative tests from 14 days after the treatment."
        if agent.clearable
        else "No test clears it again: keep it apart for life or place it singly; ask a veterinarian."
    )
    return replace(_blank(agent, odds, kind, "not met"), sentence=sentence, would_meet=meet)


def _no_figure(agent: FreedomAgent, odds: _Odds, stay: Stay) -> Freedom:
    test = _tests_of(agent, stay.evidence)[0]
    sentence = f"{_start(agent)}: no number of tests rules it out here: {test.note}."
    meet = "Ask a veterinarian which sample and test is worth taking."
    return replace(_blank(agent, odds, test.test_kind, "not known"), sentence=sentence, would_meet=meet)


def _told(agent: FreedomAgent, odds: _Odds, used: dict[str, int], stay: Stay) -> Freedom:
    infected = odds.infected(used)
    state = _state(infected, bool(used), stay)
    kind = next(iter(used), next(iter(odds.tests)))
    more = _more(odds, used, kind, stay, at_least=0 if used else 1)
    test = _test_name(kind, stay)
    n = sum(used.values())
    chance = in_hundred(infected)
    count = "counts" if n == 1 else "count"
    done = f"after {counted(n, 'negative test')} that {count}" if n else "not tested, from how common it is"
    sentence = f"{_start(agent)}: {done}, {chance} that it is there."
    return replace(
        _blank(agent, odds, kind, state),
        infected=summarise(infected),
        negatives=n,
        more_tests=more,
        sentence=sentence,
        would_meet=_would_meet(state, more, test, kind, stay),
    )


def _would_meet(state: State, more: int | None, test: str, kind: str, stay: Stay) -> str:
    if state == "met":
        return ""
    free = f"{1 - stay.choice('infected_limit'):.0%} free"
    if more is None:
        most = stay.choice("most_tests")
        return f"More than {most:g} further tests would be needed: ask a veterinarian for a better test."
    gap = f", at least {gap_of(kind, stay):g} days apart" if more > 1 else ""
    return f"{counted(more, 'more negative test')} ({test}){gap}, for {free} in four of five possible worlds."


def _state(infected: Draws, was_tested: bool, stay: Stay) -> State:
    """Met where the limit holds in four of five possible worlds; an untested animal is not known."""
    within = float((infected <= stay.choice("infected_limit")).mean())
    if not was_tested:
        return "not known"
    if within >= stay.choice("worlds_sure"):
        return "met"
    return "not met" if within <= stay.choice("worlds_unsure") else "not known"


def _more(odds: _Odds, used: dict[str, int], kind: str, stay: Stay, at_least: int) -> int | None:
    """The fewest further tests of a kind that reach the limit; None where too many would be needed."""
    for more in range(at_least, int(stay.choice("most_tests")) + 1):
        infected = odds.infected({**used, kind: used.get(kind, 0) + more})
        if _state(infected, True, stay) == "met":
            return more
    return None


def _blank(agent: FreedomAgent, odds: _Odds, kind: str, state: State) -> Freedom:
    """An answer still without its figures and words."""
    return Freedom(
        agent.condition_id, agent.name, agent.gate, state, summarise(odds.prior), None, 0, kind, None,
        "", "", agent.source,
    )  # fmt: skip


def _start(agent: FreedomAgent) -> str:
    return agent.name[0].upper() + agent.name[1:]


def _test_name(kind: str, stay: Stay) -> str:
    row = next(r for r in stay.evidence.causes.test_kinds if r.test_kind == kind)
    return row.name[0].lower() + row.name[1:] if row.name[1:2].islower() else row.name


def in_hundred(probability: Draws) -> str:
    """A probability as animals in a hundred, with its range.

    >>> in_hundred(np.array([0.02, 0.05, 0.08]))
    'about 5 in 100 (2 to 8)'
    """
    told = summarise(probability)
    low, middle, high = (_hundred(p) for p in (told.low, told.median, told.high))
    return f"about {middle} in 100 ({low} to {high})"


def _hundred(p: float) -> str:
    return f"{100 * p:.0f}" if p >= 0.01 else f"{100 * p:.1f}" if p >= 0.001 else "under 0.1"
