"""The compiled inner loops of the exact sweep. Imported only when a posterior is asked for.

A state array is flat: entry ``s * width + lane`` is the weight of the explained set ``s`` in a lane.
Inner loops run over slices of at most ``CHUNK`` entries with the link strengths tiled to that length,
because long plain loops over separate slices are what the compiler turns into vector instructions.
"""

from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

Array = NDArray[Any]
Flags = NDArray[np.bool_]
CHUNK = 256


@njit(cache=True, fastmath=True)
def _tile(tile: Array, link: Array, step: int) -> int:
    """Repeat one row of lanes over the tile; returns the length filled."""
    width = link.shape[0]
    length = width
    while 2 * length <= min(step, CHUNK):
        length *= 2
    for i in range(length):
        tile[i] = link[i % width]
    return int(length)


@njit(cache=True, fastmath=True)
def _spread(state: Array, links: Array, used: Flags, tile: Array) -> None:
    """Forward: each unexplained sign may become explained by the condition at hand, in place."""
    for sign in range(used.shape[0]):
        if used[sign]:
            step = links.shape[1] << sign
            length = _tile(tile, links[sign], step)
            for block in range(0, state.shape[0], 2 * step):
                for start in range(block, block + step, length):
                    low = state[start : start + length]
                    high = state[start + step : start + step + length]
                    for i in range(length):
                        moved = low[i] * tile[i]
                        high[i] += moved
                        low[i] -= moved


@njit(cache=True, fastmath=True)
def _gather(state: Array, links: Array, used: Flags, tile: Array) -> None:
    """Backward: the transpose of ``_spread``, in place."""
    for sign in range(used.shape[0]):
        if used[sign]:
            step = links.shape[1] << sign
            length = _tile(tile, links[sign], step)
            for block in range(0, state.shape[0], 2 * step):
                for start in range(block, block + step, length):
                    low = state[start : start + length]
                    high = state[start + step : start + step + length]
                    for i in range(length):
                        low[i] += tile[i] * (high[i] - low[i])


@njit(cache=True, fastmath=True)
def _mix(out: Array, absent: Array, present: Array, prior: Array, tile: Array) -> None:
    length = _tile(tile, prior, out.shape[0])
    for start in range(0, out.shape[0], length):
        o, a, p = out[start : start + length], absent[start : start + length], present[start : start + length]
        for i in range(length):
            o[i] = a[i] + tile[i] * (p[i] - a[i])


@njit(cache=True, fastmath=True)
def _join(out: Array, before: Array, after: Array, tile: Array) -> None:
    """Sum over states of before * after, lane by lane; the tile serves as the accumulator."""
    width = out.shape[0]
    length = width
    while 2 * length <= min(before.shape[0], CHUNK):
        length *= 2
    tile[:length] = 0
    for start in range(0, before.shape[0], length):
        b, a = before[start : start + length], after[start : start + length]
        for i in range(length):
            tile[i] += b[i] * a[i]
    out[:] = 0
    for i in range(length):
        out[i % width] += tile[i]


@njit(cache=True)
def _forward(
    prior: Array, links: Array, leak: Array, used: Flags, forward: Array, work: Array, tile: Array
) -> None:
    n_conditions, n_signs, width = links.shape
    forward[0, :] = 0
    forward[0, :width] = 1
    _spread(forward[0], leak, np.ones(n_signs, dtype=np.bool_), tile)
    for c in range(n_conditions):
        work[:] = forward[c]
        _spread(work, links[c], used[c], tile)
        _mix(forward[c + 1], forward[c], work, prior[c], tile)


@njit(cache=True)
def _backward(
    prior: Array, links: Array, used: Flags, forward: Array, work: Array, tile: Array, posterior: Array
) -> None:
    n_conditions, _, width = links.shape
    after = np.zeros_like(work)
    after[after.shape[0] - width :] = 1
    for back in range(n_conditions):
        c = n_conditions - 1 - back
        work[:] = after
        _gather(work, links[c], used[c], tile)
        _join(posterior[c], forward[c], work, tile)
        _mix(after, after, work, prior[c], tile)


@njit(cache=True)
def sweep_blocks(prior: Array, links: Array, leak: Array, used: Flags) -> tuple[Array, Array]:
    """Posterior and evidence of all blocks of lanes.

    ``prior`` (n_blocks, n_conditions, width), ``links`` (n_blocks, n_conditions, n_signs, width),
    ``leak`` (n_blocks, n_signs, width), ``used`` (n_conditions, n_signs): whether any lane links them.
    Returns (n_blocks, n_conditions, width) and (n_blocks, width), of the dtype that came in.
    """
    n_blocks, n_conditions, n_signs, width = links.shape
    length = width << n_signs
    forward = np.empty((n_conditions + 1, length), dtype=prior.dtype)
    work = np.empty(length, dtype=prior.dtype)
    tile = np.empty(max(CHUNK, width), dtype=prior.dtype)
    posterior = np.empty_like(prior)
    evidence = np.empty((n_blocks, width), dtype=prior.dtype)
    for b in range(n_blocks):
        _forward(prior[b], links[b], leak[b], used, forward, work, tile)
        evidence[b] = forward[n_conditions, length - width :]
        _backward(prior[b], links[b], used, forward, work, tile, posterior[b])
        posterior[b] *= prior[b] / evidence[b]
    return posterior, evidence
