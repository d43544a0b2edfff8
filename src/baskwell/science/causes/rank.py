"""Rank the causes of what is seen: the one function the review calls."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case
from baskwell.science.causes.explain import joint_sets, rank_faults, reasons, sign_shifts
from baskwell.science.causes.factors import (
    Factor,
    animal_factors,
    course_factors,
    exposure_factors,
)
from baskwell.science.causes.network import REMAINDER, Network, build_network
from baskwell.science.causes.observed import Observed, observe
from baskwell.science.causes.problem import Array, Problem, drawn_problem, expected_problem
from baskwell.science.causes.ranking import Cause, Ranking
from baskwell.science.causes.results import read_tests
from baskwell.science.causes.solve import Solution, explained, solve
from baskwell.science.causes.sweep import LARGEST_EXACT, disablement, exact_marginals
from baskwell.science.draws import Summary, summarise_weighted
from baskwell.science.history.belief import Exposure

WORK_FOR_POSTERIOR = 10_000_000
WORK_FOR_EXPLAINING = 6_000_000
LEAST_DRAWS = 200


@dataclass(frozen=True)
class Setting:
    """Everything the ranking rests on, kept so that questions can be asked of it."""

    case: Case
    evidence: Evidence
    network: Network
    seen: Observed
    exposures: tuple[Exposure, ...]
    factors: tuple[Factor, ...]
    problem: Problem
    solution: Solution

    @cached_property
    def posterior(self) -> Array:
        """Posterior with all parameter doubt integrated out, shape (n_conditions,)."""
        return self.solution.marginals.posterior[:, 0]

    @cached_property
    def explains(self) -> Array:
        """Expected number of present signs each condition accounts for, shape (n_conditions,)."""
        total: Array = explained(self.problem, self.solution.disablement)[:, 0]
        return total


def set_up(
    case: Case,
    evidence: Evidence,
    exposures: Sequence[Exposure],
    rng: np.random.Generator,
    n_draws: int,
) -> Setting:
    """Build and solve the ranking problem of a case at the parameter means."""
    network = build_network(evidence, case.animal.taxon)
    seen = observe(case, evidence)
    shares = {row.exposure_id: row.mode for row in evidence.exposure_priors.values()}
    factors = (
        *exposure_factors(exposures, evidence, case.animal.taxon, shares, rng),
        *animal_factors(case, evidence, rng, n_draws),
        *course_factors(case, seen.present, network, evidence, rng, n_draws),
    )
    problem = expected_problem(network, seen, factors, evidence)
    return Setting(case, evidence, network, seen, tuple(exposures), factors, problem, solve(problem, rng))


def add_tests(setting: Setting, rng: np.random.Generator, n_draws: int) -> Setting:
    """The second pass: the same setting with the readable test results as evidence."""
    told = read_tests(setting.case, setting.evidence, rng, n_draws).factors
    factors = (*setting.factors, *told)
    problem = expected_problem(setting.network, setting.seen, factors, setting.evidence)
    return replace(setting, factors=factors, problem=problem, solution=solve(problem, rng))


def rank_causes(setting: Setting, rng: np.random.Generator, n_draws: int) -> Ranking:
    """Rank every condition the animal can have, in the explaining order; see ``ranking.Ranking``."""
    spread = _spread(setting, rng, n_draws)
    shifts = sign_shifts(setting.problem, setting.posterior)
    order = np.lexsort((-setting.posterior, -np.round(setting.explains, 9)))
    by_posterior = np.argsort(np.argsort(-setting.posterior, kind="stable"), kind="stable")
    causes = tuple(
        _cause(setting, int(row), (place, int(by_posterior[row])), shifts, spread)
        for place, row in enumerate(order)
    )
    return Ranking(
        causes=causes,
        remainder=next(c.posterior for c in causes if c.condition_id == REMAINDER),
        joint_sets=joint_sets(setting.problem, _leaders(setting, order), setting.evidence),
        faults=rank_faults(
            setting.exposures,
            setting.factors,
            setting.problem.condition_ids[:-1],
            setting.explains[:-1],
            setting.evidence,
        ),
        questions=(),
        signs_present=tuple(setting.seen.present),
        signs_absent=setting.seen.absent,
        signs_not_examined=len(setting.seen.not_examined),
        signs_set_aside=setting.seen.set_aside,
        method=setting.solution.method,
        notes=_notes(setting),
    )


def _leaders(setting: Setting, order: NDArray[np.integer[Any]]) -> list[int]:
    """Listed conditions that explain something, in the explaining order."""
    remainder = setting.problem.condition_ids.index(REMAINDER)
    return [int(row) for row in order if row != remainder and setting.explains[row] >= 0.02]


@dataclass(frozen=True)
class _Spread:
    """Posterior and explained signs over parameter draws, and how much each draw counts.

    A draw counts by how probable it makes what was found: the weighted mean of the posterior is then the
    best estimate itself. The explaining order has the first ``explaining.shape[1]`` of the draws.
    """

    posterior: Array
    explaining: Array
    weights: Array

    @cached_property
    def chance_first(self) -> Array:
        """How often each condition leads the explaining order, shape (n_conditions,)."""
        n_conditions, n_draws = self.explaining.shape
        weights = self.weights[:n_draws]
        leads = np.bincount(self.explaining.argmax(axis=0), weights=weights, minlength=n_conditions)
        share: Array = leads / weights.sum()
        return share


def _spread(setting: Setting, rng: np.random.Generator, n_draws: int) -> _Spread:
    """Draw as many worlds as the work allows.

    Beyond what the exact sweep holds the best estimate is repeated: its interval is then not known.
    """
    n_present = len(setting.problem.present)
    if n_present > LARGEST_EXACT or n_present == 0:
        return _Spread(setting.solution.marginals.posterior, setting.explains[:, None], np.ones(1))
    linked = int((setting.problem.links > 0).sum()) + len(setting.network.condition_ids)
    work = linked * 2**n_present
    most = int(np.clip(WORK_FOR_POSTERIOR // work, LEAST_DRAWS, n_draws))
    fewer = int(np.clip(WORK_FOR_EXPLAINING // (work * (n_present + 1) // 2), LEAST_DRAWS, most))
    drawn = drawn_problem(setting.network, setting.seen, setting.factors, setting.evidence, rng, most)
    prior, links, leak = (a.astype(np.float32) for a in (drawn.folded, drawn.links, drawn.leak))
    found = exact_marginals(prior, links, leak)
    part = disablement(prior[:, :fewer], links[:, :, :fewer], leak[:, :fewer])
    weights = found.evidence * drawn.chance_of_absent
    return _Spread(found.posterior, explained(_narrow(drawn, fewer), part), weights)


def _narrow(problem: Problem, n_lanes: int) -> Problem:
    return replace(
        problem,
        prior=problem.prior[:, :n_lanes],
        links=problem.links[:, :, :n_lanes],
        leak=problem.leak[:, :n_lanes],
        links_absent=problem.links_absent[:, :, :n_lanes],
    )


def _cause(setting: Setting, row: int, places: tuple[int, int], shifts: Array, spread: _Spread) -> Cause:
    condition = setting.evidence.conditions[setting.problem.condition_ids[row]]
    why = reasons(condition.condition_id, setting.problem, shifts, setting.factors, setting.evidence)
    settled_by = (condition.cheap_first_question_or_test, condition.confirmatory_test)
    return Cause(
        condition_id=condition.condition_id,
        name=condition.name,
        kind=condition.class_,
        prior=float(setting.problem.prior[row, 0]),
        posterior=_told(spread.posterior[row], spread.weights, float(setting.posterior[row])),
        explains=_told(spread.explaining[row], spread.weights, float(setting.explains[row])),
        chance_first=float(spread.chance_first[row]),
        rank_by_explaining=places[0] + 1,
        rank_by_posterior=places[1] + 1,
        reasons_for=tuple(r for r in why if r.log_odds > 0),
        reasons_against=tuple(r for r in why if r.log_odds < 0),
        settled_by=tuple(text for text in settled_by if text),
        treated_by=condition.treated_by,
        contagious=condition.contagious,
        zoonotic=condition.zoonotic,
    )


def _told(draws: Array, weights: Array, best: float) -> Summary:
    """The best estimate (all doubt integrated out) with the weighted 90 % interval around it."""
    spread = summarise_weighted(draws, weights[: draws.size])
    return Summary(best, min(spread.low, best), max(spread.high, best))


def _notes(setting: Setting) -> tuple[str, ...]:
    notes = []
    if not setting.seen.present:
        notes.append("No sign is scored as present: the order shows how common each condition is, no more.")
    if setting.solution.method != "exact":
        notes.append(
            f"{len(setting.seen.present)} present signs: the ranking was reached {setting.solution.method}."
        )
    return tuple(notes)
