"""Which way to the posterior: exact, in parts, sampled; all three agree."""

import numpy as np
import pytest

from baskwell.science.causes.problem import Problem
from baskwell.science.causes.sampler import sample
from baskwell.science.causes.solve import explained, independent_groups, solve
from baskwell.science.causes.sweep import LARGEST_EXACT


def problem(seed: int, n: int, m: int, density: float = 0.2, *, blocks: int = 1) -> Problem:
    """A random problem; with ``blocks`` conditions and signs fall into groups without a common link."""
    rng = np.random.default_rng(seed)
    links = rng.random((n, m, 1)) * (rng.random((n, m, 1)) < density) * 0.9
    same = (np.arange(n)[:, None] % blocks) == (np.arange(m)[None, :] % blocks)
    links *= same[:, :, None]
    names = (tuple(f"c{k}" for k in range(n)), tuple(f"s{k}" for k in range(m)))
    prior, leak = rng.random((n, 1)) * 0.2, 0.005 + rng.random((m, 1)) * 0.05
    return Problem(*names, (), prior, links, leak, np.zeros((n, 0, 1)))


def test_groups_share_no_condition() -> None:
    """Two blocks of conditions and signs are two groups (or more, where a block falls apart)."""
    groups = independent_groups(problem(1, 30, 8, 0.5, blocks=2))

    for group in groups:
        assert len({k % 2 for k in group}) == 1
    assert sorted(k for g in groups for k in g) == list(range(8))


def test_more_signs_than_the_sweep_holds_are_solved_in_parts() -> None:
    """24 signs in three blocks: exact in parts, and equal to each block solved alone."""
    whole = problem(2, 30, 24, 0.6, blocks=3)

    found = solve(whole, np.random.default_rng(1))

    assert found.method == "exact in parts"
    block = [k for k in range(24) if k % 3 == 0]
    alone = solve(
        Problem(
            whole.condition_ids,
            tuple(whole.present[k] for k in block),
            (),
            whole.prior,
            whole.links[:, block],
            whole.leak[block],
            whole.links_absent,
        ),
        np.random.default_rng(1),
    )
    mine = [c for c in range(30) if c % 3 == 0]
    np.testing.assert_allclose(found.marginals.posterior[mine], alone.marginals.posterior[mine], rtol=1e-10)


@pytest.mark.slow
def test_the_sampler_agrees_with_the_exact_sweep() -> None:
    """Expected: the exact posterior; 28,800 kept states give a standard error of at most 0.003 a mean."""
    small = problem(3, 25, 9)
    exact = solve(small, np.random.default_rng(1))

    marginals, sole = sample(small, np.random.default_rng(2))

    np.testing.assert_allclose(marginals.posterior, exact.marginals.posterior, atol=0.02)
    np.testing.assert_allclose(sole.alone, exact.disablement.alone, atol=0.02)
    np.testing.assert_allclose(sole.background, exact.disablement.background, atol=0.02)


@pytest.mark.slow
def test_one_large_group_is_sampled_and_says_so() -> None:
    """Twenty linked signs are more than the sweep holds."""
    found = solve(problem(4, 25, LARGEST_EXACT + 2, 0.4), np.random.default_rng(1))

    assert found.method == "sampled"
    assert np.all((found.marginals.posterior >= 0) & (found.marginals.posterior <= 1))


def test_explained_signs_never_exceed_the_signs_seen() -> None:
    """The expected number of signs one cause alone keeps there cannot pass their number."""
    small = problem(5, 12, 6, 0.5)

    total = explained(small, solve(small, np.random.default_rng(1)).disablement)

    assert np.all(total <= 6 + 1e-9)
    assert np.all(total >= 0)
