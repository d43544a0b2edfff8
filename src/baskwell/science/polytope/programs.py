"""Linear programs over ordered shares, all solved by HiGHS through scipy.

Many small programs over one polytope are laid side by side into one block-diagonal program: the
solver's start-up, not its work, is what costs (80 programs of 12 shares: 15 ms together, 150 ms apart).
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from baskwell.science.polytope.shape import Array, OrderedShares, order_basis


@dataclass(frozen=True, eq=False)
class Misfit:
    """How far the limits are from being met together.

    ``excess`` (m,) is what each limit must give, 0 where it can stay; ``shares`` (n,) is a recipe that
    meets the loosened limits.
    """

    excess: Array
    shares: Array

    @property
    def fits(self) -> bool:
        """True where no limit has to give."""
        return bool((self.excess <= 1e-9).all())


def _solve(cost: Array, **constraints: Any) -> Array | None:
    """Minimise ``cost @ z`` over ``z >= 0`` (or given bounds); None where nothing is feasible."""
    from scipy.optimize import linprog

    result = linprog(cost, method="highs", **constraints)
    if result.status == 2:
        return None
    if result.status != 0:
        raise ArithmeticError(f"The linear program could not be solved: {result.message}")
    return np.asarray(result.x, dtype=float)


def chebyshev_centre(shape: OrderedShares) -> tuple[Array, float] | None:
    """The centre (n,) and radius of the largest ball inside, in corner weights without the last.

    None where nothing is feasible; a radius of 0 means that the limits leave no room. A single share
    has the centre 1 and, having no room to move, the radius 0.

    >>> centre, radius = chebyshev_centre(OrderedShares.of(2))
    >>> centre.round(3).tolist(), round(radius, 3)    # w1 in [0, 1]
    ([0.75, 0.25], 0.5)
    """
    n = shape.n
    lean, limits = _free_rows(shape)
    lengths = np.linalg.norm(lean, axis=1, keepdims=True)
    cost = np.zeros(n)
    cost[-1] = -1.0
    ranges = [(None, None)] * (n - 1) + [(0.0, 1.0)]
    found = _solve(cost, A_ub=np.hstack([lean, lengths]), b_ub=limits, bounds=ranges)
    if found is None:
        return None
    free = found[: n - 1]
    weights = np.append(free, 1.0 - free.sum())
    return order_basis(n) @ weights, float(found[-1]) if n > 1 else 0.0


def _free_rows(shape: OrderedShares) -> tuple[Array, Array]:
    """All limits as ``lean @ v <= limits`` in the first n - 1 corner weights v."""
    n = shape.n
    slopes = shape.rows @ order_basis(n)
    lean = np.vstack([-np.eye(n - 1), np.ones((1, n - 1)), slopes[:, :-1] - slopes[:, -1:]])
    return lean, np.concatenate([np.zeros(n - 1), [1.0], shape.limits - slopes[:, -1]])


def bounds(shape: OrderedShares, functionals: Array) -> Array:
    """Lowest and highest value of each linear functional: (k, n) in, (k, 2) out.

    Raises ValueError where no shares meet the limits (ask ``nearest_fit`` first).

    >>> bounds(OrderedShares.of(2), np.array([[1.0, 0.0], [0.0, 1.0]])).round(6).tolist()
    [[0.5, 1.0], [0.0, 0.5]]
    """
    k = functionals.shape[0]
    return ratio_bounds(shape, functionals, np.ones((k, shape.n)))


def ratio_bounds(shape: OrderedShares, over: Array, under: Array) -> Array:
    """Lowest and highest value of each ratio ``over @ x / under @ x``: two (k, n) in, (k, 2) out.

    Conditions and errors are those of ``least_ratios``.

    >>> ratio_bounds(OrderedShares.of(2), np.array([[1.0, 0.0]]), np.array([[1.0, 2.0]])).round(6).tolist()
    [[0.333333, 1.0]]
    """
    ends = least_ratios(shape, np.vstack([over, -over]), np.vstack([under, under])).reshape(2, -1)
    return np.column_stack([ends[0], -ends[1]])


def least_ratios(shape: OrderedShares, over: Array, under: Array) -> Array:
    """The lowest value of each ratio ``over @ x / under @ x``: two (k, n) in, (k,) out.

    By the transform of Charnes and Cooper (1962, Naval Research Logistics Quarterly 9:181-186): with
    ``y = x / (under @ x)`` the ratio is linear. ``under @ x`` must be positive over the whole polytope,
    which positive entries ensure. Raises ValueError where no shares meet the limits.

    >>> least_ratios(OrderedShares.of(2), np.array([[-1.0, 0.0]]), np.array([[1.0, 2.0]])).tolist()
    [-1.0]
    """
    basis = order_basis(shape.n)
    costs, equal = over @ basis, under @ basis
    free = shape.rows @ basis - shape.limits[:, None]
    found = _solve(costs.ravel(), **_side_by_side(free, equal))
    if found is None:
        raise ValueError("No shares meet the limits: loosen them with nearest_fit before asking for bounds.")
    return np.asarray((costs * found.reshape(costs.shape)).sum(axis=1))


def _side_by_side(upper: Array, equal: Array) -> dict[str, Any]:
    """One program per row of ``equal``: ``upper @ z <= 0`` and ``equal_row @ z = 1``, all in one."""
    from scipy import sparse

    k = equal.shape[0]
    blocks: dict[str, Any] = {"b_eq": np.ones(k)}
    blocks["A_eq"] = sparse.block_diag(list(equal[:, None, :]), format="csc")
    if upper.size:
        blocks["A_ub"] = sparse.kron(sparse.eye_array(k), upper, format="csc")
        blocks["b_ub"] = np.zeros(k * upper.shape[0])
    return blocks


def nearest_fit(shape: OrderedShares, scale: Array) -> Misfit:
    """Loosen the limits as little as possible until some shares meet them (elastic program).

    The sum of ``excess / scale`` is made least; ``scale`` (m,) is positive and says what one unit of
    giving way means for each limit, a large one giving way first. Always has an answer.

    >>> tight = OrderedShares.of(2, [[1.0, 0.0]], [0.4])           # the first of two is at least a half
    >>> nearest_fit(tight, np.ones(1)).excess.round(6).tolist()
    [0.1]
    """
    m, n = shape.rows.shape
    upper = np.hstack([shape.rows @ order_basis(n), -np.diag(scale)]) if m else np.zeros((0, n))
    whole = np.concatenate([np.ones(n), np.zeros(m)])[None, :]
    cost = np.concatenate([np.zeros(n), np.ones(m)])
    found = _solve(cost, A_ub=upper, b_ub=shape.limits, A_eq=whole, b_eq=np.ones(1))
    if found is None:
        raise ArithmeticError("The elastic program has no answer: check that limits and scales are finite.")
    return Misfit(excess=found[n:] * scale, shares=order_basis(n) @ found[:n])
