"""Shares in a known order: their bounds by linear programming, their spread by uniform sampling.

A list "in descending order by weight" leaves a polytope of possible recipes: ``x1 >= x2 >= ... >= xn
>= 0``, ``sum(x) = 1`` and further linear limits. Everything here is about that set and nothing else.

>>> import numpy as np
>>> shape = OrderedShares.of(3, rows=[[0.0, 0.0, -1.0]], limits=[-0.1])   # the last is at least 0.1
>>> [round(float(x), 3) for x in bounds(shape, np.array([[1.0, 0.0, 0.0]]))[0]]
[0.333, 0.8]
"""

from baskwell.science.polytope.chains import effective_samples, rank_normalised, split_r_hat
from baskwell.science.polytope.programs import (
    Misfit,
    bounds,
    chebyshev_centre,
    least_ratios,
    nearest_fit,
    ratio_bounds,
)
from baskwell.science.polytope.shape import OrderedShares, from_weights, order_basis, to_weights
from baskwell.science.polytope.walk import Samples, sample_shares

__all__ = [
    "Misfit",
    "OrderedShares",
    "Samples",
    "bounds",
    "chebyshev_centre",
    "effective_samples",
    "from_weights",
    "least_ratios",
    "nearest_fit",
    "order_basis",
    "rank_normalised",
    "ratio_bounds",
    "sample_shares",
    "split_r_hat",
    "to_weights",
]
