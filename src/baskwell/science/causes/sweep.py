"""The exact posterior of a noisy-OR network, by a sweep of positive terms only.

Signs found absent multiply into the priors. Signs found present are handled by a forward and a
backward sweep over the conditions; the state is the set of present signs explained so far. Each update
adds products of non-negative terms, so nothing cancels (inclusion-exclusion, the textbook way of
Heckerman 1989, loses all digits from about twelve present signs on).

Every array carries a last axis of *lanes*: parameter draws or alternative questions, all answered in
one pass. Cost: conditions x signs x 2^signs x lanes.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
LANES = 16
LARGEST_EXACT = 18


@dataclass(frozen=True)
class Marginals:
    """Posterior of each condition, shape ``(n_conditions, n_lanes)``, and P(signs), ``(n_lanes,)``."""

    posterior: Array
    evidence: Array


def exact_marginals(prior: Array, links: Array, leak: Array) -> Marginals:
    """Posterior probability of every condition given present signs.

    ``prior`` (n_conditions, n_lanes): P(condition), absent signs already folded in. ``links``
    (n_conditions, n_signs, n_lanes): P(condition alone would bring this sign). ``leak`` (n_signs,
    n_lanes): P(sign without any listed condition). All in [0, 1]; at most 18 signs (the state doubles with
    each one). Raises ValueError beyond that. A set of signs that no condition and no leak can bring has
    probability 0: its posterior is NaN.

    One condition, one sign, by Bayes' rule: 0.1 * (1 - 0.5 * 0.8) / (... + 0.9 * 0.2).

    >>> one = exact_marginals(np.array([[0.1]]), np.array([[[0.5]]]), np.array([[0.2]]))
    >>> round(float(one.posterior[0, 0]), 6), round(float(one.evidence[0]), 6)
    (0.25, 0.24)
    """
    n_signs = leak.shape[0]
    if n_signs > LARGEST_EXACT:
        raise ValueError(
            f"{n_signs} present signs are too many for the exact sweep (at most {LARGEST_EXACT}): "
            "split the network or sample."
        )
    linked = (links > 0).any(axis=(1, 2))
    posterior = prior.copy()
    found, evidence = _sweep(prior[linked], links[linked], leak)
    posterior[linked] = found
    return Marginals(posterior, evidence)


def _sweep(prior: Array, links: Array, leak: Array) -> tuple[Array, Array]:
    """Run the compiled sweep on lanes cut into blocks (the last block repeats its last lane)."""
    from baskwell.science.causes.kernel import sweep_blocks

    n_lanes = prior.shape[1]
    width = min(LANES, n_lanes)
    lanes = np.minimum(np.arange(-(-n_lanes // width) * width), n_lanes - 1).reshape(-1, width)
    posterior, evidence = sweep_blocks(
        np.ascontiguousarray(np.moveaxis(prior[:, lanes], 1, 0)),
        np.ascontiguousarray(np.moveaxis(links[:, :, lanes], 2, 0)),
        np.ascontiguousarray(np.moveaxis(leak[:, lanes], 1, 0)),
        (links > 0).any(axis=2),
    )
    flat = np.moveaxis(posterior, 0, 1).reshape(prior.shape[0], -1)
    return flat[:, :n_lanes], evidence.reshape(-1)[:n_lanes]


def fold_absent(prior: Array, links_absent: Array) -> Array:
    """Fold signs found absent into the priors: P(condition and none of these signs), renormalised.

    ``prior`` (n_conditions, n_lanes); ``links_absent`` (n_conditions, n_absent, n_lanes).

    >>> float(fold_absent(np.array([[0.5]]), np.array([[[0.5]]]))[0, 0])   # 0.25 / (0.25 + 0.5)
    0.3333333333333333
    """
    present = prior * np.prod(1.0 - links_absent, axis=1)
    folded: Array = present / (present + 1.0 - prior)
    return folded


def disablement(prior: Array, links: Array, leak: Array) -> Array:
    """Expected number of present signs that would vanish if a condition alone were cured.

    Expected disablement (Richens, Lee & Johri 2020, Nature Communications 11:3923). For one sign: the
    condition is there and brings it, every other cause of it stays silent, all other signs are explained.
    Shape ``(n_conditions, n_signs, n_lanes)``, one entry a sign; sum over signs for the total.
    Arguments as in ``exact_marginals``.

    One condition, one sign: P(condition, link active, leak silent) / P(sign).

    >>> d = disablement(np.array([[0.1]]), np.array([[[0.5]]]), np.array([[0.2]]))
    >>> round(float(d[0, 0, 0]), 6)      # 0.1 * 0.5 * 0.8 / 0.24
    0.166667
    """
    n_conditions, n_signs, n_lanes = links.shape
    evidence = exact_marginals(prior, links, leak).evidence
    alone = np.empty((n_conditions, n_signs, n_lanes))
    for sign in range(n_signs):
        alone[:, sign] = _only_cause(prior, links, leak, sign) / evidence
    return alone


def _only_cause(prior: Array, links: Array, leak: Array, sign: int) -> Array:
    """P(condition is the only active cause of ``sign`` and all signs are present)."""
    others = [k for k in range(leak.shape[0]) if k != sign]
    link = links[:, sign]
    silent = prior * (1.0 - link) + (1.0 - prior)
    # A condition that stays silent for this sign: present but silent, or absent.
    weight = prior * (1.0 - link) / np.where(silent > 0, silent, 1.0)
    swept = exact_marginals(weight, np.ascontiguousarray(links[:, others]), leak[others])
    rest_silent = np.prod(silent, axis=0) * (1.0 - leak[sign])
    ratio = link / np.where(link < 1.0, 1.0 - link, 1.0)
    return np.where(np.isnan(swept.posterior), 0.0, swept.posterior) * swept.evidence * rest_silent * ratio
