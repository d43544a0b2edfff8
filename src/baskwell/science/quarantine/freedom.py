"""Freedom from disease after negative tests, of one animal and of a group.

Standard formulas of veterinary epidemiology (Martin, Shoukri and Thorburn 1992; Dohoo, Martin and Stryhn
2009, from memory). Probabilities lie from 0 to 1; arrays of draws are taken throughout.
"""

import math

import numpy as np
from numpy.typing import ArrayLike

from baskwell.science.draws import Draws


def posterior_infected(
    prior: ArrayLike, sensitivity: ArrayLike, specificity: ArrayLike, k: int, dependence: ArrayLike = 0.0
) -> Draws:
    """Probability of infection after ``k`` negative tests of one kind, shape of the draws.

    With independent tests ``P (1-Se)^k / (P (1-Se)^k + (1-P) Sp^k)``. Repeats in one animal are alike: the
    chance of a negative is taken as Beta distributed between animals with ``dependence`` as the correlation
    of two repeats (0 independent, 1 the second tells nothing), as in a beta-binomial model.

    >>> round(float(posterior_infected(0.45, 0.6, 1.0, 3)), 4)
    0.0498
    >>> round(float(posterior_infected(0.45, 0.6, 1.0, 3, dependence=1.0)), 4)    # as after one test
    0.2466

    Raises ValueError for probabilities outside 0 to 1 and for a test that is worse than tossing a coin.
    """
    prior = _probability("prior", prior)
    ratio = negative_ratio(sensitivity, specificity, k, dependence)
    there, free = prior * ratio, 1.0 - prior
    possible = there + free > 0
    return np.where(possible, there / np.where(possible, there + free, 1.0), prior)


def negative_ratio(
    sensitivity: ArrayLike, specificity: ArrayLike, k: int, dependence: ArrayLike = 0.0
) -> Draws:
    """P(``k`` negatives given infected) over P(``k`` negatives given free), at most 1.

    >>> round(float(negative_ratio(0.6, 1.0, 2)), 3)
    0.16
    """
    sensitivity = _probability("sensitivity", sensitivity)
    specificity = _probability("specificity", specificity)
    dependence = _probability("dependence", dependence)
    _refuse_worse_than_chance(sensitivity, specificity, k)
    ratio = np.ones(np.broadcast(sensitivity, specificity, dependence).shape)
    if k:
        ratio = ratio * _divide(1.0 - sensitivity, specificity)
    for earlier in range(1, k):
        alike = dependence * earlier
        missed = (1.0 - sensitivity) * (1.0 - dependence) + alike
        right = specificity * (1.0 - dependence) + alike
        ratio = ratio * _divide(missed, right)
    return np.asarray(ratio)


def _divide(missed: Draws, right: Draws) -> Draws:
    """Both are 0 only where a test is never negative, or never anew: then it tells nothing."""
    safe = np.where(right > 0, right, 1.0)
    return np.where(right > 0, missed / safe, 1.0)


def _probability(name: str, value: ArrayLike) -> Draws:
    values = np.asarray(value, dtype=np.float64)
    if bool((~((values >= 0) & (values <= 1))).any()):
        raise ValueError(f"A {name} lies from 0 to 1, got {value!r}: write 0.6 for 60 %.")
    return values


def _refuse_worse_than_chance(sensitivity: Draws, specificity: Draws, k: int) -> None:
    if k < 0:
        raise ValueError(f"A number of tests cannot be negative, got {k}.")
    if bool((sensitivity + specificity < 1.0 - 1e-12).any()):
        raise ValueError(
            f"Sensitivity {sensitivity} and specificity {specificity} add to less than 1: such a test is "
            "worse than tossing a coin. Check whether the two were swapped."
        )


def cumulative_sensitivity(sensitivity: float, k: int) -> float:
    """Chance that at least one of ``k`` independent tests finds it: ``1 - (1 - Se)^k``.

    >>> round(cumulative_sensitivity(0.59, 5), 4)
    0.9884
    """
    return float(1.0 - (1.0 - _probability("sensitivity", sensitivity)) ** k)


def n_tests_needed(sensitivity: float, target: float) -> int:
    """How many independent tests find it with probability ``target``: ``ln(1-target) / ln(1-Se)``, up.

    >>> n_tests_needed(0.59, 0.95)
    4

    Raises ValueError for a sensitivity of 0 or a target of 1, which no number of tests reaches.
    """
    _probability("sensitivity", sensitivity)
    if sensitivity <= 0 or not 0 < target < 1:
        raise ValueError(f"No number of tests with sensitivity {sensitivity} reaches {target}.")
    if sensitivity >= 1:
        return 1
    return math.ceil(math.log(1.0 - target) / math.log(1.0 - sensitivity) - 1e-12)


def posterior_after_finding(prior: float, if_infected: float, if_free: float) -> float:
    """Probability of infection after a finding that infected and free animals show at these rates.

    >>> round(posterior_after_finding(0.15, 9 / 13, 7 / 22), 4)
    0.2774
    """
    there = prior * if_infected
    return there / (there + (1.0 - prior) * if_free)


def group_sensitivity(sensitivity: float, share_infected: float, n_tested: int) -> float:
    """Chance to find at least one infected animal in a sample of a large group: ``1 - (1 - Se P)^n``.

    >>> round(group_sensitivity(1.0, 0.05, 59), 4)
    0.9515
    """
    return float(1.0 - (1.0 - sensitivity * share_infected) ** n_tested)


def group_sensitivity_finite(
    sensitivity: float, share_infected: float, n_tested: int, group_size: int
) -> float:
    """As ``group_sensitivity`` for a small group of known size: ``1 - (1 - n Se / N)^(P N)``.

    >>> round(group_sensitivity_finite(0.59, 0.1, 20, 20), 4)
    0.8319

    Raises ValueError where more were tested than there are.
    """
    if not 0 < n_tested <= group_size:
        raise ValueError(f"{n_tested} tested of a group of {group_size}: test 1 to {group_size}.")
    return float(1.0 - (1.0 - n_tested * sensitivity / group_size) ** (share_infected * group_size))


def probability_group_free(prior_infected: float, sensitivity_of_all: float) -> float:
    """Probability that a group is free when all tests were negative: ``(1 - p) / (1 - p HSe)``.

    >>> round(probability_group_free(0.5, 0.95), 4)
    0.9524
    """
    return (1.0 - prior_infected) / (1.0 - prior_infected * sensitivity_of_all)


def with_introduction(infected: float, introduced: float) -> float:
    """Prior of the next round where it may have come in since: ``1 - (1 - p)(1 - i)``.

    >>> round(with_introduction(0.05, 0.02), 4)
    0.069
    """
    return 1.0 - (1.0 - infected) * (1.0 - introduced)
