"""Ordered shares against closed forms, a second solver and a second sampler."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.typing import NDArray

from baskwell.science.polytope import (
    OrderedShares,
    bounds,
    chebyshev_centre,
    effective_samples,
    from_weights,
    nearest_fit,
    ratio_bounds,
    sample_shares,
    split_r_hat,
    to_weights,
)

Array = NDArray[np.float64]


def random_polytope(seed: int, n: int, m: int) -> OrderedShares:
    """Ordered shares with m random limits around a random recipe, which is inside."""
    rng = np.random.default_rng(seed)
    rows = rng.uniform(-1.0, 1.0, (m, n))
    inside = from_weights(rng.dirichlet(np.ones(n)))
    return OrderedShares.of(n, rows, rows @ inside + rng.uniform(0.01, 0.1, m))


def clarabel_minimum(shape: OrderedShares, cost: Array) -> float:
    """The least value of ``cost @ x`` by an interior-point solver (a library of its own)."""
    clarabel = pytest.importorskip("clarabel")
    from scipy import sparse

    n = shape.n
    order = np.eye(n, k=1) - np.eye(n)
    upper = np.vstack([order, shape.rows])
    stacked = sparse.csc_matrix(np.vstack([np.ones((1, n)), upper]))
    limits = np.concatenate([[1.0], np.zeros(n), shape.limits])
    cones = [clarabel.ZeroConeT(1), clarabel.NonnegativeConeT(len(upper))]
    options = clarabel.DefaultSettings()
    options.verbose = False
    zero = sparse.csc_matrix((n, n))
    return float(clarabel.DefaultSolver(zero, cost, stacked, limits, cones, options).solve().obj_val)


polytopes = st.builds(random_polytope, st.integers(0, 10_000), st.integers(1, 9), st.integers(0, 5))


@pytest.mark.parametrize("n", [1, 2, 5, 12, 20])
def test_shares_of_a_bare_order_have_the_known_means(n: int) -> None:
    """E[x_i] = (1/n) sum_{k=i..n} 1/k: the ordered parts of a stick broken at random (closed form)."""
    drawn = sample_shares(OrderedShares.of(n), np.random.default_rng(7), 20_000)
    expected = np.cumsum((1.0 / np.arange(1, n + 1))[::-1])[::-1] / n
    np.testing.assert_allclose(drawn.shares.mean(axis=0), expected, atol=0.004)


def test_the_first_of_three_has_the_known_distribution() -> None:
    """P(x1 <= 1/2) of three ordered parts is 1/4: no part of a stick broken at random above a half."""
    drawn = sample_shares(OrderedShares.of(3), np.random.default_rng(3), 40_000)
    assert abs(float((drawn.shares[:, 0] <= 0.5).mean()) - 0.25) < 0.01


def test_the_volume_under_a_limit_is_the_known_fraction() -> None:
    """P(x_n >= c) of the bare order is (1 - n c)^(n-1): the cut-off simplex is a smaller copy."""
    drawn = sample_shares(OrderedShares.of(4), np.random.default_rng(5), 40_000)
    assert abs(float((drawn.shares[:, 3] >= 0.05).mean()) - (1 - 4 * 0.05) ** 3) < 0.01


@settings(max_examples=25, deadline=None)
@given(polytopes, st.integers(0, 1000))
def test_draws_meet_every_limit(shape: OrderedShares, seed: int) -> None:
    """Order, sum and all limits hold in every draw."""
    drawn = sample_shares(shape, np.random.default_rng(seed), 300, chains=32)
    assert drawn.shares.shape == (300, shape.n)
    assert shape.holds(drawn.shares, 1e-7).all()


@settings(max_examples=25, deadline=None)
@given(polytopes, st.integers(0, 1000))
def test_draws_lie_between_the_bounds(shape: OrderedShares, seed: int) -> None:
    """No draw of a functional leaves the band of its linear programs."""
    functional = np.random.default_rng(seed).normal(size=(1, shape.n))
    low, high = bounds(shape, functional)[0]
    values = sample_shares(shape, np.random.default_rng(seed), 300, chains=32).shares @ functional[0]
    assert low - 1e-7 <= values.min() <= values.max() <= high + 1e-7


@settings(max_examples=40, deadline=None)
@given(polytopes, st.integers(0, 1000))
def test_another_limit_never_widens_a_bound(shape: OrderedShares, seed: int) -> None:
    """A smaller set has a narrower band."""
    rng = np.random.default_rng(seed)
    functional, extra = rng.normal(size=(1, shape.n)), rng.normal(size=(1, shape.n))
    inside = chebyshev_centre(shape)
    assert inside is not None
    limit = float((extra @ inside[0])[0]) + 0.01
    more = OrderedShares.of(shape.n, np.vstack([shape.rows, extra]), np.append(shape.limits, limit))
    before, after = bounds(shape, functional)[0], bounds(more, functional)[0]
    assert after[0] >= before[0] - 1e-8
    assert after[1] <= before[1] + 1e-8


@settings(max_examples=20, deadline=None)
@given(polytopes, st.integers(0, 1000))
def test_bounds_agree_with_a_second_solver(shape: OrderedShares, seed: int) -> None:
    """HiGHS simplex against the Clarabel interior point."""
    functional = np.random.default_rng(seed).normal(size=shape.n)
    low, high = bounds(shape, functional[None, :])[0]
    assert low == pytest.approx(clarabel_minimum(shape, functional), abs=1e-5)
    assert high == pytest.approx(-clarabel_minimum(shape, -functional), abs=1e-5)


@settings(max_examples=25, deadline=None)
@given(polytopes, st.integers(0, 1000))
def test_ratio_bounds_are_reached_and_not_passed(shape: OrderedShares, seed: int) -> None:
    """Dinkelbach: at the least ratio r, the least of ``over - r under`` is zero (a closed condition)."""
    rng = np.random.default_rng(seed)
    over, under = rng.uniform(0, 1, shape.n), rng.uniform(0.2, 1, shape.n)
    low, high = ratio_bounds(shape, over[None, :], under[None, :])[0]
    assert bounds(shape, (over - low * under)[None, :])[0][0] == pytest.approx(0.0, abs=1e-7)
    assert bounds(shape, (over - high * under)[None, :])[0][1] == pytest.approx(0.0, abs=1e-7)


def test_chebyshev_centre_agrees_with_a_second_library() -> None:
    """The radius of hopsy's own programme, in the same coordinates."""
    hopsy = pytest.importorskip("hopsy")
    from baskwell.science.polytope.programs import _free_rows

    shape = random_polytope(11, 6, 4)
    found = chebyshev_centre(shape)
    assert found is not None
    rows, limits = _free_rows(shape)
    problem = hopsy.Problem(rows, limits)
    _, radius = hopsy.compute_chebyshev_center_and_radius(problem)
    assert found[1] == pytest.approx(float(radius), rel=1e-5)


@pytest.mark.slow
def test_means_and_spreads_agree_with_a_second_sampler() -> None:
    """Uniform hit-and-run of hopsy on a limited order of eight."""
    hopsy = pytest.importorskip("hopsy")
    from baskwell.science.polytope.programs import _free_rows

    shape = random_polytope(23, 8, 5)
    rows, limits = _free_rows(shape)
    found = chebyshev_centre(shape)
    assert found is not None
    start = to_weights(found[0])[:-1]
    chains = [
        hopsy.MarkovChain(hopsy.Problem(rows, limits), hopsy.UniformHitAndRunProposal, starting_point=start)
        for _ in range(4)
    ]
    seeds = [hopsy.RandomNumberGenerator(seed) for seed in range(4)]
    _, states = hopsy.sample(chains, seeds, n_samples=10_000, thinning=20)
    free: Any = np.asarray(states).reshape(-1, shape.n - 1)
    theirs = from_weights(np.hstack([free, 1 - free.sum(axis=1, keepdims=True)]))
    ours = sample_shares(shape, np.random.default_rng(1), 40_000).shares
    spread = theirs.std(axis=0)
    assert (np.abs(ours.mean(axis=0) - theirs.mean(axis=0)) < 0.06 * spread).all()
    np.testing.assert_allclose(ours.std(axis=0), spread, rtol=0.06)


def test_diagnostics_agree_with_a_second_library() -> None:
    """Effective size and R-hat of autocorrelated chains against the code of hopsy (from ArviZ)."""
    hopsy = pytest.importorskip("hopsy")
    rng = np.random.default_rng(5)
    chains = np.zeros((400, 4, 2))
    for t in range(1, 400):
        chains[t] = 0.7 * chains[t - 1] + rng.normal(size=(4, 2))
    theirs = np.asarray(hopsy.ess(chains.transpose(1, 0, 2), method="bulk")).ravel()
    np.testing.assert_allclose(effective_samples(chains), theirs, rtol=0.02)
    np.testing.assert_allclose(
        split_r_hat(chains), np.asarray(hopsy.rhat(chains.transpose(1, 0, 2))).ravel(), atol=0.01
    )


def test_contradicting_limits_are_loosened_by_what_they_lack() -> None:
    """Of two shares the first is at least one half, so "at most 0.3" lacks 0.2 (by hand)."""
    shape = OrderedShares.of(2, [[1.0, 0.0], [0.0, 1.0]], [0.3, 0.9])
    assert chebyshev_centre(shape) is None
    misfit = nearest_fit(shape, np.ones(2))
    assert not misfit.fits
    np.testing.assert_allclose(misfit.excess, [0.2, 0.0], atol=1e-9)
    assert shape.with_limits(shape.limits + misfit.excess).holds(misfit.shares).all()


def test_limits_that_can_be_met_stay() -> None:
    """The elastic programme leaves a feasible polytope alone."""
    assert nearest_fit(random_polytope(2, 5, 3), np.ones(3)).fits


def test_nothing_feasible_is_said_so() -> None:
    """Bounds and draws of an empty set name the way out."""
    empty = OrderedShares.of(2, [[1.0, 0.0]], [0.3])
    with pytest.raises(ValueError, match="nearest_fit"):
        bounds(empty, np.eye(2))
    with pytest.raises(ValueError, match="nearest_fit"):
        sample_shares(empty, np.random.default_rng(1), 10)


def test_a_single_point_is_repeated() -> None:
    """First at most one half, first at least one half: only (1/2, 1/2) is left."""
    point = OrderedShares.of(2, [[1.0, 0.0]], [0.5])
    drawn = sample_shares(point, np.random.default_rng(1), 10)
    np.testing.assert_allclose(drawn.shares, 0.5, atol=1e-9)


def test_the_same_generator_gives_the_same_draws() -> None:
    """Randomness comes from the generator alone."""
    shape = random_polytope(4, 6, 3)
    first = sample_shares(shape, np.random.default_rng(9), 500).shares
    np.testing.assert_array_equal(first, sample_shares(shape, np.random.default_rng(9), 500).shares)


@given(arrays(float, (4,), elements=st.floats(0, 1)))
def test_corner_weights_and_shares_are_inverse(weights: Array) -> None:
    """``from_weights`` undoes ``to_weights``."""
    np.testing.assert_allclose(to_weights(from_weights(weights)), weights, atol=1e-12)


def test_limits_of_the_wrong_shape_are_refused() -> None:
    """Each row needs one limit, and numbers that are numbers."""
    with pytest.raises(ValueError, match="as many limits"):
        OrderedShares.of(2, [[1.0, 0.0]], [0.5, 0.5])
    with pytest.raises(ValueError, match="finite"):
        OrderedShares.of(2, [[1.0, np.nan]], [0.5])
    with pytest.raises(ValueError, match="at least one"):
        OrderedShares.of(0)
