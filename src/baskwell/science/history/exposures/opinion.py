"""What a rule says of one exposure, and how separate grounds add up."""

from dataclasses import dataclass, field

import numpy as np

from baskwell.science.draws import Draws


@dataclass(frozen=True)
class Opinion:
    """What the facts of the case say of one exposure; a rule without such facts returns None instead.

    ``probability`` has shape ``(n_draws,)``, each in [0, 1]. ``because`` is one plain sentence.
    """

    probability: Draws = field(repr=False, compare=False)
    because: str
    finding_ids: tuple[str, ...] = ()


def either(*grounds: Draws) -> Draws:
    """Probability that at least one of several independent grounds holds, draw by draw.

    >>> either(np.array([0.5, 1.0]), np.array([0.5, 0.0]))
    array([0.75, 1.  ])
    """
    none: Draws = np.ones(1)
    for ground in grounds:
        none = none * (1.0 - ground)
    return 1.0 - none


def highest(first: Draws, *others: Draws) -> Draws:
    """The most telling of several grounds that speak of the same thing, draw by draw.

    >>> highest(np.array([0.5, 0.1]), np.array([0.2, 0.3]))
    array([0.5, 0.3])
    """
    top = first
    for other in others:
        top = np.maximum(top, other)
    return top


def all_of(first: Draws, *others: Draws) -> Draws:
    """Probability that several independent things hold together, draw by draw.

    >>> all_of(np.array([0.5, 1.0]), np.array([0.5, 0.0]))
    array([0.25, 0.  ])
    """
    product = first
    for other in others:
        product = product * other
    return product


def odds_times(probability: Draws, factor: Draws) -> Draws:
    """Multiply the odds of probabilities; 0 and 1 stay where they are.

    >>> odds_times(np.array([0.0, 0.5, 1.0]), np.array([3.0]))
    array([0.  , 0.75, 1.  ])
    """
    raised = probability * factor
    return raised / (raised + 1.0 - probability)


def moved(probability: Draws, factor: Draws) -> Draws:
    """Multiply the odds of an exposure whose draws are 0 or 1 in most worlds.

    The odds of the mean are multiplied; worlds with the exposure then keep it in part, or worlds without
    it gain it in part, so that the mean becomes the new one. What is settled in all worlds stays.

    >>> moved(np.array([1.0, 0.0]), np.array([3.0]))      # odds 1 to 3: mean 0.5 to 0.75
    array([1. , 0.5])
    >>> moved(np.array([1.0, 0.0]), np.array([1 / 3]))
    array([0.5, 0. ])
    """
    before = np.full(1, probability.mean())
    if before[0] in (0.0, 1.0):
        return probability
    after = odds_times(before, factor)
    raised = 1.0 - (1.0 - probability) * (1.0 - after) / (1.0 - before)
    return np.where(after > before, raised, probability * after / before)


def settled(condition: np.ndarray) -> Draws:
    """A comparison in each possible world as a probability of 0 or 1.

    >>> settled(np.array([1.0, 3.0]) < 2.0)
    array([1., 0.])
    """
    return condition.astype(np.float64)
