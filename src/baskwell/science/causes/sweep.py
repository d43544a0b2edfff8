"""The exact posterior of a noisy-OR network, by a sweep of positive terms only.

Signs found absent multiply into the priors. Signs found present are handled by a forward and a
backward sweep over the conditions; the state is the set of present signs explained so far. Each update
adds products of non-negative terms, so nothing cancels (inclusion-exclusion, the textbook way of
Heckerman 1989, loses all digits from about twelve present signs on).

Every array carries a last axis of *lanes*: parameter draws or alternative questions, all answered in
one pass. Cost: conditions x signs x 2^signs x lanes.
"""

import sys
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from baskwell.science.causes.plain import sweep_plain

Array = NDArray[np.float64]
Real = NDArray[np.floating[Any]]
LANES = 32
WORK_WORTH_COMPILING = 400_000_000
_KERNEL = "baskwell.science.causes.kernel"
LARGEST_EXACT = 18


@dataclass(frozen=True)
class Marginals:
    """Posterior of each condition, shape ``(n_conditions, n_lanes)``, and P(signs), ``(n_lanes,)``."""

    posterior: Array
    evidence: Array


def exact_marginals(prior: Real, links: Real, leak: Real) -> Marginals:
    """Posterior probability of every condition given present signs.

    ``prior`` (n_conditions, n_lanes): P(condition), absent signs already folded in. ``links``
    (n_conditions, n_signs, n_lanes): P(condition alone would bring this sign). ``leak`` (n_signs,
    n_lanes): P(sign without any listed condition). All in [0, 1]; at most 18 signs (the state doubles with
    each one). Raises ValueError beyond that. A set of signs that no condition and no leak can bring has
    probability 0: its posterior is NaN. Single precision may come in (for draws, where six digits
    are plenty); double precision comes out.

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
    posterior = prior.astype(np.float64)
    found, evidence = _sweep(prior[linked], links[linked], leak)
    posterior[linked] = found
    return Marginals(posterior, evidence)


def _sweep(prior: Real, links: Real, leak: Real) -> tuple[Array, Array]:
    """Sweep compiled where the compiler is up or there is much to do, else plainly."""
    work = int((links > 0).any(axis=2).sum()) * leak.shape[1] << leak.shape[0]
    compiled = _KERNEL in sys.modules or work > WORK_WORTH_COMPILING
    posterior, evidence = (sweep_compiled if compiled else sweep_plain)(prior, links, leak)
    return posterior.astype(np.float64), evidence.astype(np.float64)


def prepare() -> None:
    """Start the compiler, for a process that will rank many times: each sweep is then several times faster.

    Takes a second or two, on the first run on a machine some ten. Results agree to rounding either way.
    """
    for kind in (np.float64, np.float32):
        sweep_compiled(np.full((1, 1), 0.5, kind), np.full((1, 1, 1), 0.5, kind), np.full((1, 1), 0.5, kind))


def sweep_compiled(prior: Real, links: Real, leak: Real) -> tuple[Real, Real]:
    """The compiled sweep, on lanes cut into blocks (the last block repeats its last lane)."""
    from baskwell.science.causes.kernel import sweep_blocks

    n_lanes = prior.shape[1]
    width = min(LANES, n_lanes)
    lanes = np.minimum(np.arange(-(-n_lanes // width) * width), n_lanes - 1).reshape(-1, width)
    posterior, evidence = sweep_blocks(
        np.ascontiguousarray(np.moveaxis(prior[:, lanes], 1, 0)),
        np.ascontiguousarray(np.moveaxis(links[:, :, lanes], 2, 0)),
        np.ascontiguousarray(np.moveaxis(leak[:, lanes], 1, 0)),
        np.asarray((links > 0).any(axis=2)),
    )
    flat = np.moveaxis(posterior, 0, 1).reshape(prior.shape[0], lanes.size)
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


@dataclass(frozen=True)
class Disablement:
    """Who alone keeps each present sign there.

    ``alone`` (n_conditions, n_signs, n_lanes): P(the condition is there and brings the sign, every other
    cause of it silent). ``background`` (n_signs, n_lanes): P(nothing but the leak brings it).
    """

    alone: Array
    background: Array


def disablement(prior: Real, links: Real, leak: Real) -> Disablement:
    """Expected number of present signs that would vanish if a condition alone were cured, sign by sign.

    Expected disablement (Richens, Lee & Johri 2020, Nature Communications 11:3923): sum ``alone`` over
    the signs. Arguments as in ``exact_marginals``; links of exactly one are taken as one minus 1e-6.

    One condition, one sign: P(condition, link active, leak silent) / P(sign).

    >>> d = disablement(np.array([[0.1]]), np.array([[[0.5]]]), np.array([[0.2]]))
    >>> round(float(d.alone[0, 0, 0]), 6), round(float(d.background[0, 0]), 6)   # 0.04 / 0.24, 0.19 / 0.24
    (0.166667, 0.791667)
    """
    links = np.minimum(links, 1.0 - 1e-6)
    evidence = exact_marginals(prior, links, leak).evidence
    alone, background = np.empty(links.shape), np.empty(leak.shape)
    for sign in range(leak.shape[0]):
        silent = _silence(prior, links, leak, sign)
        alone[:, sign] = silent.brought_by / evidence
        background[sign] = silent.all_silent * leak[sign] / (1.0 - leak[sign]) / evidence
    return Disablement(alone, background)


@dataclass(frozen=True)
class _Silence:
    """P(all causes silent for a sign, the others explained), and the same with one condition speaking."""

    all_silent: Array
    brought_by: Array


def _silence(prior: Real, links: Real, leak: Real, sign: int) -> _Silence:
    """Sweep over the other signs in the world where this sign's causes are all silent."""
    others = [k for k in range(leak.shape[0]) if k != sign]
    link = links[:, sign]
    silent = 1.0 - prior * link
    still_there = prior * (1.0 - link) / silent
    swept = exact_marginals(still_there, links[:, others], leak[others])
    all_silent = np.prod(silent, axis=0) * (1.0 - leak[sign]) * swept.evidence
    posterior = np.where(np.isnan(swept.posterior), 0.0, swept.posterior)
    return _Silence(all_silent, posterior * all_silent * link / (1.0 - link))
