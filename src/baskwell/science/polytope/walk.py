"""Uniform draws from ordered shares by coordinate hit-and-run, many chains at once.

Hit-and-run (Smith 1984, Operations Research 32:1296-1308) moves along a direction to a uniform point of
the chord. Here every chain takes the same direction in one array step. The directions are the columns
of a square root of the pilot covariance, which makes a long thin polytope round.
"""

from dataclasses import dataclass

import numpy as np

from baskwell.science.polytope.chains import effective_samples, split_r_hat
from baskwell.science.polytope.programs import chebyshev_centre
from baskwell.science.polytope.shape import Array, OrderedShares, from_weights, order_basis, to_weights

CHAINS = 256
PILOT_SWEEPS = (6, 10, 16)


@dataclass(frozen=True, eq=False)
class Samples:
    """Draws from a polytope: ``shares`` (n_draws, n), the effective number of them, and R-hat.

    Both diagnostics are of the worst share.
    """

    shares: Array
    effective_samples: float
    r_hat: float


def sweep(slack: Array, slopes: Array, uniforms: Array) -> None:
    """Move every chain once along each direction, in place.

    ``slack`` (limits, chains) is the room left under each limit, at least 0; ``slopes`` (directions,
    limits, chains or 1) is how fast each limit is approached; ``uniforms`` (directions, chains) in
    [0, 1) choose the point of the chord. The limits must bound every direction on both sides.
    """
    tiny = 1e-15  # a chain that stands on a limit may step over it by so much, no more
    for slope, uniform in zip(slopes, uniforms, strict=True):
        speed = slope / np.maximum(slack, tiny)
        ahead = 1.0 / np.maximum(speed.max(axis=0), tiny)
        behind = 1.0 / np.minimum(speed.min(axis=0), -tiny)
        slack -= slope * (behind + uniform * (ahead - behind))


def first_directions(n: int) -> Array:
    """Plain directions (n - 1, n) in corner weights: from each corner to the last."""
    return np.hstack([np.eye(n - 1), -np.ones((n - 1, 1))])


def rounded_directions(weights: Array) -> Array:
    """Directions (n - 1, n) along which pilot points (k, n) of corner weights spread alike.

    The last weight is dropped, being one minus the others. Directions that the pilot has not moved
    along at all keep a small length, so that no part of the polytope is given up.
    """
    free = weights[:, :-1]
    covariance = np.atleast_2d(np.cov(free, rowvar=False))
    floor = 1e-12 + 1e-6 * float(np.trace(covariance))
    values, vectors = np.linalg.eigh(covariance)
    directions = (vectors * np.sqrt(np.maximum(values, floor))).T
    return np.hstack([directions, -directions.sum(axis=1, keepdims=True)])


def sample_shares(
    shape: OrderedShares, rng: np.random.Generator, n_draws: int, chains: int = CHAINS
) -> Samples:
    """Draw ``n_draws`` uniform points of the polytope.

    Raises ValueError where no shares meet the limits. Where the limits leave a single point, that point
    is repeated. The result depends on the generator alone.

    >>> drawn = sample_shares(OrderedShares.of(2), np.random.default_rng(1), 4000)
    >>> bool(abs(drawn.shares[:, 0].mean() - 0.75) < 0.01)      # (1/2)(1 + 1/2)
    True
    """
    start = chebyshev_centre(shape)
    if start is None:
        raise ValueError("No shares meet the limits: loosen them with nearest_fit before sampling.")
    centre, radius = start
    if radius <= 0.0:
        return Samples(np.repeat(centre[None, :], n_draws, axis=0), float(n_draws), 1.0)
    walked = _walk(shape, centre, rng, -(-n_draws // chains), chains)
    quality = walked if walked.shape[0] >= 4 else np.repeat(walked, 4, axis=0)
    return Samples(
        shares=walked.reshape(-1, shape.n)[:n_draws],
        effective_samples=float(min(effective_samples(quality).min(), walked.shape[0] * chains)),
        r_hat=float(split_r_hat(quality).max()),
    )


def _walk(shape: OrderedShares, centre: Array, rng: np.random.Generator, kept: int, chains: int) -> Array:
    """Shares (kept, chains, n) of the chains after their pilots."""
    weights = np.repeat(to_weights(centre)[None, :], chains, axis=0)
    directions = first_directions(shape.n)
    for sweeps in PILOT_SWEEPS:
        weights = _advance(shape, weights, directions, rng, sweeps)
        directions = rounded_directions(weights)
    found = np.empty((kept, chains, shape.n))
    for keep in range(kept):
        weights = _advance(shape, weights, directions, rng, max(3, shape.n // 2))
        found[keep] = from_weights(weights)
    return found


def _advance(
    shape: OrderedShares, weights: Array, directions: Array, rng: np.random.Generator, sweeps: int
) -> Array:
    """Corner weights (chains, n) after so many sweeps along the directions."""
    rows = shape.rows @ order_basis(shape.n)
    slack = np.vstack([weights.T, shape.limits[:, None] - rows @ weights.T])
    slopes = np.hstack([-directions, directions @ rows.T])[:, :, None]
    for _ in range(sweeps):
        sweep(slack, slopes, rng.random((len(directions), weights.shape[0])))
    moved = np.maximum(slack[: shape.n].T, 0.0)
    return np.asarray(moved / moved.sum(axis=1, keepdims=True))
