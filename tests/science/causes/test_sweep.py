"""The exact sweep against enumeration, a general graphical-model library, and its own properties."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from numpy.typing import NDArray

from baskwell.science.causes.plain import sweep_plain
from baskwell.science.causes.sweep import (
    LARGEST_EXACT,
    disablement,
    exact_marginals,
    fold_absent,
    sweep_compiled,
)

Array = NDArray[np.float64]


def network(
    seed: int, n_conditions: int, n_signs: int, n_lanes: int = 1, density: float = 1.0
) -> tuple[Array, Array, Array]:
    """A random noisy-OR network: prior, links, leak."""
    rng = np.random.default_rng(seed)
    links = rng.random((n_conditions, n_signs, n_lanes)) * (rng.random((n_conditions, n_signs, 1)) < density)
    return rng.random((n_conditions, n_lanes)) * 0.4, links, rng.random((n_signs, n_lanes)) * 0.1


def enumerate_posterior(prior: Array, links: Array, leak: Array) -> tuple[Array, float]:
    """Posterior and evidence of one lane by summing over all 2^n states: the definition itself."""
    joint, total = np.zeros(len(prior)), 0.0
    for state in itertools.product((0, 1), repeat=len(prior)):
        there = np.array(state)
        weight = float(np.prod(np.where(there, prior, 1 - prior)))
        weight *= float(np.prod(1 - (1 - leak) * np.prod(1 - links * there[:, None], axis=0)))
        joint, total = joint + weight * there, total + weight
    return joint / total, total


@pytest.mark.parametrize("seed", range(6))
def test_equals_enumeration(seed: int) -> None:
    """Expected: the sum over all states of the noisy-OR model (Pearl 1988), written out."""
    prior, links, leak = network(seed, 8, 5, density=0.6)
    expected, total = enumerate_posterior(prior[:, 0], links[:, :, 0], leak[:, 0])

    found = exact_marginals(prior, links, leak)

    np.testing.assert_allclose(found.posterior[:, 0], expected, rtol=1e-12)
    np.testing.assert_allclose(found.evidence[0], total, rtol=1e-12)


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_equals_a_general_graphical_model_library() -> None:
    """Expected: exact inference of the library pyAgrum on the same noisy-OR network."""
    gum = pytest.importorskip("pyagrum")
    prior, links, leak = network(11, 10, 4, density=0.5)
    net = gum.BayesNet()
    causes = [net.add(gum.LabelizedVariable(f"c{i}", "", 2)) for i in range(10)]
    signs = [net.addNoisyORNet(gum.LabelizedVariable(f"s{k}", "", 2), float(leak[k, 0])) for k in range(4)]
    for i, cause in enumerate(causes):
        net.cpt(cause).fillWith([1 - prior[i, 0], prior[i, 0]])
        for k, sign in enumerate(signs):
            if links[i, k, 0] > 0:
                net.addWeightedArc(cause, sign, float(links[i, k, 0]))
    inference = gum.LazyPropagation(net)
    inference.setEvidence({f"s{k}": 1 for k in range(4)})
    inference.makeInference()
    expected = [inference.posterior(f"c{i}")[1] for i in range(10)]

    np.testing.assert_allclose(exact_marginals(prior, links, leak).posterior[:, 0], expected, rtol=1e-9)


@given(st.integers(0, 10**6), st.integers(1, 7), st.integers(1, 6), st.integers(1, 5))
@settings(max_examples=30, deadline=None)
def test_every_posterior_is_a_probability(seed: int, n: int, m: int, lanes: int) -> None:
    """A posterior lies in [0, 1] in every lane, whatever the parameters."""
    found = exact_marginals(*network(seed, n, m, lanes, density=0.7))

    assert np.all((found.posterior >= 0) & (found.posterior <= 1 + 1e-12))
    assert np.all((found.evidence > 0) & (found.evidence <= 1 + 1e-12))


@given(hnp.arrays(float, 4, elements=st.floats(0.01, 0.9)), st.floats(0.05, 0.95), st.floats(0.001, 0.5))
@settings(max_examples=50, deadline=None)
def test_a_supporting_sign_never_lowers_its_only_cause(prior: Array, link: float, leak: float) -> None:
    """A present sign that only one condition brings cannot speak against it."""
    links = np.zeros((4, 1, 1))
    links[2, 0, 0] = link

    after = exact_marginals(prior[:, None], links, np.array([[leak]])).posterior[:, 0]

    assert after[2] >= prior[2] - 1e-12
    np.testing.assert_allclose(np.delete(after, 2), np.delete(prior, 2), rtol=1e-12)


def test_both_engines_agree_in_every_lane() -> None:
    """The plain and the compiled sweep are two ways to one result."""
    problem = network(3, 12, 7, 37, density=0.4)

    for plain, compiled in zip(sweep_plain(*problem), sweep_compiled(*problem), strict=True):
        np.testing.assert_allclose(plain, compiled, rtol=1e-9)


@pytest.mark.slow
def test_stays_exact_where_inclusion_exclusion_breaks() -> None:
    """Sixteen present signs: single conditions against enumeration over 10 conditions stay exact.

    The alternating sums of the textbook method give posteriors above one from about twelve signs on.
    """
    prior, links, leak = network(5, 10, 16)
    expected, _ = enumerate_posterior(prior[:, 0], links[:, :, 0], leak[:, 0])

    np.testing.assert_allclose(exact_marginals(prior, links, leak).posterior[:, 0], expected, rtol=1e-10)


def test_too_many_signs_are_refused_with_what_to_do() -> None:
    """Beyond 18 present signs the state is too large; the message says what else to use."""
    n = LARGEST_EXACT + 1

    with pytest.raises(ValueError, match=f"{n} present signs .* split the network or sample"):
        exact_marginals(*network(1, 2, n))


def test_absent_signs_fold_in_by_bayes_rule() -> None:
    """Expected: P(c | not s) by the definition, for two independent conditions."""
    prior, links, _ = network(2, 2, 3)
    silent = np.prod(1 - links[:, :, 0], axis=1)

    folded = fold_absent(prior, links)[:, 0]

    expected = prior[:, 0] * silent / (prior[:, 0] * silent + 1 - prior[:, 0])
    np.testing.assert_allclose(folded, expected, rtol=1e-12)


def enumerate_alone(prior: Array, links: Array, leak: Array) -> tuple[Array, Array]:
    """P(one cause alone brings a sign | all signs) by enumeration over conditions and link switches."""
    n, m = links.shape
    alone, background, total = np.zeros((n, m)), np.zeros(m), 0.0
    for state in itertools.product((0, 1), repeat=n):
        there = np.array(state)
        weight = float(np.prod(np.where(there, prior, 1 - prior)))
        quiet = (1 - leak) * np.prod(1 - links * there[:, None], axis=0)
        total += weight * float(np.prod(1 - quiet))
        for s in range(m):
            others = float(np.prod(np.delete(1 - quiet, s)))
            background[s] += weight * others * quiet[s] * leak[s] / (1 - leak[s])
            alone[:, s] += weight * others * there * quiet[s] * links[:, s] / (1 - links[:, s])
    return alone / total, background / total


@pytest.mark.parametrize("seed", range(4))
def test_disablement_equals_enumeration(seed: int) -> None:
    """Expected: the definition of Richens, Lee & Johri (2020), summed over all states."""
    prior, links, leak = network(seed, 6, 4, density=0.7)
    alone, background = enumerate_alone(prior[:, 0], links[:, :, 0], leak[:, 0])

    found = disablement(prior, links, leak)

    np.testing.assert_allclose(found.alone[:, :, 0], alone, atol=1e-10)
    np.testing.assert_allclose(found.background[:, 0], background, atol=1e-10)


@given(st.integers(0, 10**6))
@settings(max_examples=25, deadline=None)
def test_sole_causes_of_a_sign_never_add_to_more_than_one(seed: int) -> None:
    """At most one cause can be the only active one."""
    found = disablement(*network(seed, 6, 3, 2))

    assert np.all(found.alone.sum(axis=0) + found.background <= 1 + 1e-9)
