"""The exact sweep in plain array operations: slower in bulk than the compiled one, but ready at once.

One animal's network is sparse and rarely has more than ten present signs; for that, starting the compiler
takes longer than the work. ``sweep`` chooses; both must agree.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Real = NDArray[Any]
ENTRIES = 1 << 16


def sweep_plain(prior: Real, links: Real, leak: Real) -> tuple[Real, Real]:
    """Posterior (n_conditions, n_lanes) and evidence (n_lanes,); arguments as ``sweep.exact_marginals``."""
    n_signs, n_lanes = leak.shape
    width = max(16, ENTRIES >> n_signs)
    posterior, evidence = np.empty_like(prior), np.empty(n_lanes, dtype=prior.dtype)
    for start in range(0, n_lanes, width):
        lanes = slice(start, start + width)
        posterior[:, lanes], evidence[lanes] = _block(prior[:, lanes], links[:, :, lanes], leak[:, lanes])
    return posterior, evidence


def _block(prior: Real, links: Real, leak: Real) -> tuple[Real, Real]:
    used = [np.flatnonzero(row) for row in np.asarray((links > 0).any(axis=2))]
    state = np.zeros((1 << leak.shape[0], leak.shape[1]), dtype=prior.dtype)
    state[0] = 1.0
    _spread(state, leak, np.arange(leak.shape[0]))
    before = []
    for c, signs in enumerate(used):
        before.append(state)
        work = state.copy()
        _spread(work, links[c], signs)
        work -= state
        work *= prior[c]
        state = state + work
    evidence = state[-1].copy()
    return _backward(prior, links, used, before) / evidence, evidence


def _backward(prior: Real, links: Real, used: list[NDArray[np.intp]], before: list[Real]) -> Real:
    joint = np.empty_like(prior)
    if not before:
        return joint
    after = np.zeros_like(before[0])
    after[-1] = 1.0
    for c in reversed(range(len(used))):
        work = after.copy()
        _gather(work, links[c], used[c])
        joint[c] = np.einsum("sl,sl->l", before[c], work) * prior[c]
        work -= after
        work *= prior[c]
        after += work
    return joint


def _halves(state: Real, sign: int) -> tuple[Real, Real]:
    """Views of the states without and with one sign explained."""
    view = state.reshape(-1, 2, 1 << sign, state.shape[1])
    return view[:, 0], view[:, 1]


def _spread(state: Real, link: Real, signs: NDArray[np.intp]) -> None:
    for sign in signs:
        without, explained = _halves(state, int(sign))
        moved = without * link[sign]
        explained += moved
        without -= moved


def _gather(state: Real, link: Real, signs: NDArray[np.intp]) -> None:
    for sign in signs:
        without, explained = _halves(state, int(sign))
        without += link[sign] * (explained - without)
