"""Why a cause stands where it stands: reasons, sets of causes together, and the faults behind them."""

from collections.abc import Iterator, Sequence
from itertools import product

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.causes.factors import Factor
from baskwell.science.causes.problem import Array, Problem
from baskwell.science.causes.ranking import Fault, JointSet, Reason
from baskwell.science.causes.sweep import LARGEST_EXACT, exact_marginals
from baskwell.science.history.belief import Exposure

LEAST_LOG_ODDS = 0.1
SET_SIZE = 6
LEAST_RAISE = 0.01
FAULT_KINDS = ("keeping", "event")


def sign_shifts(problem: Problem, posterior: Array) -> Array:
    """How each present sign moves each condition's log odds, shape (n_conditions, n_present).

    Leave one out: the log odds with all signs less the log odds without that one. ``posterior`` is that of
    the whole problem, shape (n_conditions,).
    """
    prior = problem.folded
    shifts = np.zeros((len(problem.condition_ids), len(problem.present)))
    if len(problem.present) > LARGEST_EXACT:
        return shifts
    for k, sign in enumerate(problem.present):
        rest = problem.without_sign(sign)
        without = exact_marginals(prior, rest.links, rest.leak).posterior[:, 0]
        shifts[:, k] = log_odds(posterior) - log_odds(without)
    return shifts


def log_odds(probability: Array) -> Array:
    """Natural log odds, kept finite at 0 and 1."""
    p = np.clip(probability, 1e-12, 1.0 - 1e-12)
    odds: Array = np.log(p) - np.log1p(-p)
    return odds


def reasons(
    condition: str, problem: Problem, shifts: Array, factors: Sequence[Factor], evidence: Evidence
) -> tuple[Reason, ...]:
    """Everything that moves one condition by at least 0.1 log odds, the strongest first."""
    found = [
        *_from_signs(condition, problem, shifts, evidence),
        *_from_absent(condition, problem, evidence),
        *(_from_factor(f) for f in factors if f.target == condition),
    ]
    telling = [r for r in found if abs(r.log_odds) >= LEAST_LOG_ODDS]
    return tuple(sorted(telling, key=lambda r: -abs(r.log_odds)))


def _from_signs(condition: str, problem: Problem, shifts: Array, evidence: Evidence) -> Iterator[Reason]:
    row = problem.condition_ids.index(condition)
    for k, sign in enumerate(problem.present):
        name = evidence.signs[sign].lay_name
        yield Reason("sign", sign, name, float(shifts[row, k]), f"links.{condition}.{sign}")


def _from_absent(condition: str, problem: Problem, evidence: Evidence) -> Iterator[Reason]:
    row = problem.condition_ids.index(condition)
    for k, sign in enumerate(problem.absent):
        shift = float(np.log1p(-min(problem.links_absent[row, k].mean(), 1.0 - 1e-9)))
        name = f"no {evidence.signs[sign].lay_name}"
        yield Reason("absent sign", sign, name, shift, f"links.{condition}.{sign}")


def _from_factor(factor: Factor) -> Reason:
    shift = float(np.clip(factor.log_odds, -30.0, 30.0))
    return Reason(factor.kind, factor.key, factor.text, shift, factor.said_by)


def joint_sets(problem: Problem, leaders: Sequence[int], evidence: Evidence) -> tuple[JointSet, ...]:
    """The most probable sets of the leading causes, exactly; at most five.

    ``leaders`` are rows of the causes that may be present together (the first six are used); all other
    conditions are left free. The probability is that of exactly this set among the leaders.
    """
    chosen = list(leaders[:SET_SIZE])
    if not problem.present or not chosen or len(problem.present) > LARGEST_EXACT:
        return ()
    patterns = np.array(list(product((0.0, 1.0), repeat=len(chosen)))).T
    prior = np.repeat(problem.folded[:, :1], patterns.shape[1], axis=1)
    weight = np.prod(np.where(patterns > 0, prior[chosen], 1.0 - prior[chosen]), axis=0)
    prior[chosen] = patterns
    wide = exact_marginals(
        prior,
        np.repeat(problem.links[:, :, :1], patterns.shape[1], axis=2),
        np.repeat(problem.leak[:, :1], patterns.shape[1], axis=1),
    )
    chance = weight * wide.evidence
    chance = chance / chance.sum()
    best = [k for k in np.argsort(-chance)[:5] if chance[k] >= 0.02]
    return tuple(_joint_set(problem, chosen, patterns[:, k], float(chance[k]), evidence) for k in best)


def _joint_set(
    problem: Problem, chosen: Sequence[int], pattern: Array, chance: float, evidence: Evidence
) -> JointSet:
    ids = tuple(problem.condition_ids[row] for row, there in zip(chosen, pattern, strict=True) if there)
    return JointSet(ids, tuple(evidence.conditions[c].name for c in ids), chance)


def rank_faults(
    exposures: Sequence[Exposure],
    factors: Sequence[Factor],
    condition_ids: Sequence[str],
    explains: Array,
    evidence: Evidence,
) -> tuple[Fault, ...]:
    """Husbandry faults by how much of what is seen they account for, the most first.

    A condition's odds owe the share ``1 - 1 / product of its raising factors`` to its exposures; that share
    of what the condition explains is split among them in proportion to their log odds. Only what raises
    and was likelier there than usual counts; unknown exposures explain nothing.
    """
    kinds = {row.exposure_id: row.kind for row in evidence.causes.exposure_kinds}
    parts = list(_parts(factors, condition_ids, explains))
    found = [
        _fault(e, parts, evidence)
        for e in exposures
        if kinds[e.exposure_id] in FAULT_KINDS and e.mean > evidence.exposure_priors[e.exposure_id].mode
    ]
    return tuple(sorted((f for f in found if f.explains > 0), key=lambda fault: -fault.explains))


def _parts(
    factors: Sequence[Factor], condition_ids: Sequence[str], explains: Array
) -> Iterator[tuple[str, str, float]]:
    """(exposure, condition, amount): what each exposure accounts for by way of each condition."""
    for condition, amount in zip(condition_ids, explains, strict=True):
        mine = [f for f in factors if f.target == condition and f.kind == "exposure"]
        raising = [f for f in mine if f.log_odds > LEAST_RAISE]
        total = sum(f.log_odds for f in raising)
        for factor in raising:
            part = float(amount) * (1.0 - np.exp(-total)) * factor.log_odds / total
            yield factor.key, condition, part


def _fault(exposure: Exposure, parts: Sequence[tuple[str, str, float]], evidence: Evidence) -> Fault:
    mine = sorted(((part, c) for key, c, part in parts if key == exposure.exposure_id), reverse=True)
    effects = (row for row in evidence.exposure_effects if row.exposure_id == exposure.exposure_id)
    return Fault(
        exposure.exposure_id,
        next(effects).name,
        exposure.mean,
        sum(part for part, _ in mine),
        exposure.state,
        exposure.because,
        tuple(condition for _, condition in mine),
    )
