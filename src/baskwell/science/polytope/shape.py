"""The polytope of ordered shares, and the coordinates in which its order is mere positivity."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class OrderedShares:
    """All ``x`` with ``x1 >= ... >= xn >= 0``, ``sum(x) = 1`` and ``rows @ x <= limits``.

    ``rows`` is (m, n) and ``limits`` (m,), both finite; m may be 0. Build one with ``of``.
    """

    n: int
    rows: Array
    limits: Array

    @classmethod
    def of(
        cls, n: int, rows: ArrayLike | Sequence[Sequence[float]] = (), limits: ArrayLike = ()
    ) -> "OrderedShares":
        """Check the shapes and make the polytope. Raises ValueError where they do not agree.

        >>> OrderedShares.of(2).rows.shape
        (0, 2)
        >>> OrderedShares.of(2, [[1.0, 0.0]], [0.6, 0.7])
        Traceback (most recent call last):
        ...
        ValueError: 1 row(s) need as many limits, got 2: give each row one limit.
        """
        if n < 1:
            raise ValueError(f"A list of shares needs at least one entry, got n = {n}.")
        a = np.asarray(rows, dtype=float).reshape(-1, n)
        b = np.asarray(limits, dtype=float).reshape(-1)
        if a.shape[0] != b.size:
            raise ValueError(
                f"{a.shape[0]} row(s) need as many limits, got {b.size}: give each row one limit."
            )
        if not (np.isfinite(a).all() and np.isfinite(b).all()):
            raise ValueError("Rows and limits must be finite numbers: leave an open limit out instead.")
        return cls(n, a, b)

    def holds(self, shares: Array, slack: float = 1e-9) -> NDArray[np.bool_]:
        """Tell for each row of ``shares`` (k, n) whether it lies inside, within ``slack``.

        >>> OrderedShares.of(2).holds(np.array([[0.6, 0.4], [0.4, 0.6]])).tolist()
        [True, False]
        """
        points = np.atleast_2d(shares)
        ordered = (to_weights(points) >= -slack * self.n).all(axis=1)
        whole = np.abs(points.sum(axis=1) - 1.0) <= slack * self.n
        limited = (points @ self.rows.T <= self.limits + slack).all(axis=1)
        return np.asarray(ordered & whole & limited)

    def with_limits(self, limits: Array) -> "OrderedShares":
        """The same rows with other limits, shape (m,)."""
        return OrderedShares.of(self.n, self.rows, limits)


def order_basis(n: int) -> Array:
    """The (n, n) matrix T with ``x = T w``: column j holds 1/j in its first j rows.

    Its columns are the corners of the ordered simplex (all in the first; halves; thirds ...), so ``x``
    is ordered exactly where ``w >= 0``, and sums to one where ``w`` does.

    >>> order_basis(2).tolist()
    [[1.0, 0.5], [0.0, 0.5]]
    """
    return np.asarray(np.triu(np.ones((n, n))) / np.arange(1, n + 1))


def to_weights(shares: Array) -> Array:
    """Corner weights of shares (..., n): ``w_j = j (x_j - x_{j+1})``.

    >>> to_weights(np.array([0.75, 0.25])).tolist()
    [0.5, 0.5]
    """
    n = shares.shape[-1]
    following = np.concatenate([shares[..., 1:], np.zeros((*shares.shape[:-1], 1))], axis=-1)
    return np.asarray((shares - following) * np.arange(1, n + 1))


def from_weights(weights: Array) -> Array:
    """Shares of corner weights (..., n): the inverse of ``to_weights``.

    >>> from_weights(np.array([0.5, 0.5])).tolist()
    [0.75, 0.25]
    """
    n = weights.shape[-1]
    parts = weights / np.arange(1, n + 1)
    return np.asarray(np.cumsum(parts[..., ::-1], axis=-1)[..., ::-1])
