"""Calibration: on animals drawn from the network itself, seven in ten means seven in ten."""

import numpy as np
import pytest
from numpy.typing import NDArray

from baskwell.evidence import load_evidence
from baskwell.science.causes.network import build_network
from baskwell.science.causes.sweep import exact_marginals, fold_absent

N_ANIMALS = 1500
MOST_PRESENT = 9
EXAMINED = 0.5
EDGES = np.array([0.0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.7, 0.9, 1.0 + 1e-9])

Array = NDArray[np.float64]


def mean(intervals: Array) -> Array:
    """PERT means of (low, most likely, high)."""
    told: Array = (intervals[:, 0] + 4 * intervals[:, 1] + intervals[:, 2]) / 6
    return told


def simulate(taxon: str, seed: int) -> tuple[Array, Array]:
    """Posterior and truth of every condition of every animal; each examined on half of the signs."""
    network = build_network(load_evidence(), taxon)
    prior, links, leak = mean(network.prior), network.link_mean, mean(network.leak)
    rng = np.random.default_rng(seed)
    told: list[Array] = []
    true: list[Array] = []
    while len(told) < N_ANIMALS:
        state = rng.random(prior.size) < prior
        silent = (1 - leak) * np.prod(np.where(state[:, None], 1 - links, 1.0), axis=0)
        present = rng.random(leak.size) > silent
        examined = rng.random(leak.size) < EXAMINED
        seen, not_seen = present & examined, ~present & examined
        if seen.sum() > MOST_PRESENT:
            continue  # rare; the posterior is calibrated in any part that is chosen by what is seen
        folded = fold_absent(prior[:, None], links[:, not_seen, None])
        posterior = exact_marginals(folded, links[:, seen, None], leak[seen, None]).posterior[:, 0]
        told.append(posterior)
        true.append(state.astype(float))
    return np.concatenate(told), np.concatenate(true)


@pytest.mark.slow
@pytest.mark.parametrize("taxon", ["terrapene_carolina", "pogona_vitticeps", "python_regius"])
def test_stated_probabilities_come_true(taxon: str) -> None:
    """In every bin the observed share lies within four standard errors of the mean told.

    Source: definition of calibration; the animals are drawn from the very network that ranks them.
    """
    told, true = simulate(taxon, 1)
    bins = np.digitize(told, EDGES) - 1
    for k in np.unique(bins):
        here = bins == k
        expected = float(told[here].mean())
        error = np.sqrt(expected * (1 - expected) / here.sum())
        assert abs(float(true[here].mean()) - expected) <= 4 * error + 0.003, (taxon, EDGES[k])


@pytest.mark.slow
def test_the_posterior_scores_better_than_the_prior() -> None:
    """Brier score: what was seen makes the statement better, never worse on average."""
    told, true = simulate("trachemys_scripta", 2)
    prior = mean(build_network(load_evidence(), "trachemys_scripta").prior)

    brier = np.mean((told - true) ** 2)
    brier_prior = np.mean((np.tile(prior, N_ANIMALS) - true) ** 2)
    assert brier < 0.85 * brier_prior
