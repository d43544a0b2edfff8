"""Choose how to reach the posterior: exactly, exactly in independent parts, or by a checked sampler."""

from dataclasses import dataclass

import numpy as np

from baskwell.science.causes.problem import Array, Problem
from baskwell.science.causes.sweep import (
    LARGEST_EXACT,
    Disablement,
    Marginals,
    disablement,
    exact_marginals,
)


@dataclass(frozen=True)
class Solution:
    """Posterior and disablement of one problem, and the method ("exact", "exact in parts", "sampled")."""

    marginals: Marginals
    disablement: Disablement
    method: str


def solve(problem: Problem, rng: np.random.Generator) -> Solution:
    """Solve a problem of any number of present signs.

    Up to 18 signs the sweep is exact. Beyond that the signs fall into groups that share no condition,
    each solved alone; a group that is still too large is sampled.
    """
    groups = independent_groups(problem)
    if len(problem.present) <= LARGEST_EXACT:
        method = "exact"
    else:
        method = "exact in parts" if max(map(len, groups)) <= LARGEST_EXACT else "sampled"
        if method == "sampled":
            from baskwell.science.causes.sampler import sample

            return Solution(*sample(problem, rng), method)
    parts = [list(range(len(problem.present)))] if method == "exact" else groups
    return Solution(*_solve_parts(problem, parts), method)


def independent_groups(problem: Problem) -> list[list[int]]:
    """Present signs (by index) grouped so that no condition links two groups."""
    groups: list[set[int]] = []
    for row in np.asarray((problem.links > 0).any(axis=2)):
        linked = set(np.flatnonzero(row).tolist())
        touched = [g for g in groups if g & linked]
        groups = [g for g in groups if not g & linked]
        if linked:
            groups.append(linked.union(*touched))
    alone = set(range(len(problem.present))).difference(*groups)
    return [sorted(g) for g in groups] + [[k] for k in sorted(alone)]


def _solve_parts(problem: Problem, parts: list[list[int]]) -> tuple[Marginals, Disablement]:
    """Each part updates only the conditions it links; evidence multiplies over parts."""
    prior = problem.folded
    posterior, evidence = prior.copy(), np.ones(prior.shape[1])
    alone, background = np.zeros_like(problem.links), np.zeros_like(problem.leak)
    for part in parts:
        links, leak = problem.links[:, part], problem.leak[part]
        touched = (links > 0).any(axis=(1, 2))
        found = exact_marginals(prior, links, leak)
        posterior[touched] = found.posterior[touched]
        evidence = evidence * found.evidence
        without = disablement(prior, links, leak)
        alone[:, part], background[part] = without.alone, without.background
    return Marginals(posterior, evidence), Disablement(alone, background)


def explained(problem: Problem, found: Disablement) -> Array:
    """Expected number of present signs each condition alone accounts for, shape (n_conditions, n_lanes).

    The last row, ``other_or_none``, also takes the signs that only background rates bring, and those
    that background and the unlisted disease share.
    """
    total: Array = found.alone.sum(axis=1)
    shared = found.alone[-1] * problem.leak / (1.0 - problem.leak)
    total[-1] += (found.background + shared).sum(axis=0)
    return total
