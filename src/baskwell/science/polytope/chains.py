"""How many independent draws a set of chains is worth, and whether they agree.

Rank-normalised split R-hat and bulk effective sample size of Vehtari, Gelman, Simpson, Carpenter and
Buerkner (2021), Bayesian Analysis 16:667-718, equations 3, 4 and 10 to 14.
"""

import numpy as np

from baskwell.science.polytope.shape import Array


def rank_normalised(chains: Array) -> Array:
    """Replace draws by the normal scores of their ranks: (draws, chains, k) in and out.

    Ranks run over all chains of one quantity; score ``(rank - 3/8) / (size + 1/4)`` as in equation 14.

    >>> rank_normalised(np.array([[[1.0], [30.0]], [[2.0], [4.0]]]))[:, :, 0].round(2).tolist()
    [[-1.05, 1.05], [-0.3, 0.3]]
    """
    from scipy.special import ndtri

    flat = chains.reshape(-1, chains.shape[2])
    ranks = np.empty(flat.shape)
    np.put_along_axis(ranks, np.argsort(flat, axis=0), np.arange(1.0, flat.shape[0] + 1)[:, None], axis=0)
    return np.asarray(ndtri((ranks - 0.375) / (flat.shape[0] + 0.25))).reshape(chains.shape)


def _split(chains: Array) -> Array:
    half = chains.shape[0] // 2
    return np.concatenate([chains[:half], chains[-half:]], axis=1)


def _variances(chains: Array) -> tuple[Array, Array]:
    """Mean variance within chains and the pooled estimate of the whole variance, each (k,)."""
    n = chains.shape[0]
    within = chains.var(axis=0, ddof=1).mean(axis=0)
    between = chains.mean(axis=0).var(axis=0, ddof=1)
    return within, within * (n - 1) / n + between


def split_r_hat(chains: Array) -> Array:
    """Rank-normalised split R-hat of k quantities: (draws, chains, k) in, (k,) out.

    Needs at least 4 draws and 2 chains. About 1.00 where the chains agree; 1.01 is the usual limit for
    few long chains. A quantity that never moves counts as 1.

    >>> rng = np.random.default_rng(1)
    >>> bool(split_r_hat(rng.normal(size=(500, 4, 1)))[0] < 1.01)
    True
    >>> bool(split_r_hat(rng.normal(size=(500, 4, 1)) + np.arange(4)[:, None])[0] > 1.2)
    True
    """
    within, whole = _variances(_split(rank_normalised(chains)))
    still = np.ptp(chains, axis=(0, 1)) == 0.0
    return np.where(still, 1.0, np.sqrt(whole / np.where(within > 0, within, 1.0)))


def effective_samples(chains: Array) -> Array:
    """Bulk effective sample size of k quantities: (draws, chains, k) in, (k,) out.

    Needs at least 4 draws and 2 chains. Autocorrelations are summed in pairs to the first negative
    pair and made to fall (Geyer's initial monotone sequence). A quantity that never moves counts in full.

    >>> rng = np.random.default_rng(1)
    >>> bool(3000 < effective_samples(rng.normal(size=(1000, 4, 1)))[0] < 5000)
    True
    """
    scores = _split(rank_normalised(chains))
    n, m, _ = scores.shape
    within, whole = _variances(scores)
    lagged = _autocovariance(scores).mean(axis=1)
    safe = np.where(whole > 0, whole, 1.0)
    correlation = 1.0 - (within - lagged * n / (n - 1)) / safe
    correlation[0] = 1.0
    time = np.maximum(_integrated_time(correlation), 1.0 / np.log10(n * m))
    still = np.ptp(chains, axis=(0, 1)) == 0.0
    return np.where(still, float(n * m), n * m / time)


def _autocovariance(chains: Array) -> Array:
    """Biased autocovariance at every lag, chain by chain: (draws, chains, k)."""
    n = chains.shape[0]
    centred = chains - chains.mean(axis=0)
    spectrum = np.fft.rfft(centred, 2 * n, axis=0)
    return np.asarray(np.fft.irfft(np.abs(spectrum) ** 2, 2 * n, axis=0)[:n] / n)


def _integrated_time(correlation: Array) -> Array:
    pairs = correlation[: correlation.shape[0] // 2 * 2].reshape(-1, 2, correlation.shape[1]).sum(axis=1)
    positive = np.logical_and.accumulate(pairs > 0, axis=0)
    falling = np.minimum.accumulate(np.where(positive, pairs, 0.0), axis=0)
    return np.asarray(2.0 * falling.sum(axis=0) - 1.0)
