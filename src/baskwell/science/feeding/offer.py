"""Which food to offer next, and how: by Thompson sampling or by what one more try would teach."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from baskwell.science.feeding.acceptance import Acceptance


@dataclass(frozen=True, slots=True)
class NextOffer:
    """One candidate: food, how it is shown, and what speaks for it.

    ``score`` is chance times value; ``best`` the share of possible worlds where it is best; ``teaches``
    the knowledge gradient: what one try of it is worth for the offers after.
    """

    food: str
    presentation: str
    chance: float
    value: float
    score: float
    best: float
    teaches: float
    sentence: str


def next_offers(
    beliefs: Sequence[Acceptance], value: Mapping[str, float], rng: np.random.Generator, n_draws: int = 4000
) -> tuple[NextOffer, ...]:
    """Candidates in the order to try them: the first is drawn by Thompson sampling, the rest by ``best``.

    ``value`` weighs each food by what it brings (0 or more; a food not named counts as 0 and is left out).
    Thompson sampling (Thompson 1933, Biometrika 25:285-294): one possible world is drawn, and what is best
    in it is offered, so that a food is tried as often as it may be the best.

    >>> sure = Acceptance("strawberry", "whole", 90.0, 10.0, 98, "any")
    >>> never = Acceptance("kale", "chopped", 1.0, 99.0, 98, "any")
    >>> told = next_offers([sure, never], {"strawberry": 0.2, "kale": 1.0}, np.random.default_rng(1))
    >>> told[0].food
    'strawberry'
    """
    known = [belief for belief in beliefs if value.get(belief.food, 0.0) > 0]
    if not known:
        return ()
    values = np.array([value[belief.food] for belief in known])
    shapes = np.array([[belief.taken, belief.refused] for belief in known])
    worlds = rng.beta(shapes[:, 0], shapes[:, 1], (n_draws, len(known))) * values
    winners = worlds.argmax(axis=1)
    best = np.bincount(winners, minlength=len(known)) / n_draws
    teaches = knowledge_gradient(known, value)
    told = [
        _told(belief, values[k], best[k], teach)
        for k, (belief, teach) in enumerate(zip(known, teaches, strict=True))
    ]
    drawn = told[int(winners[0])]
    return (drawn, *sorted((one for one in told if one is not drawn), key=lambda one: -one.best))


def _told(belief: Acceptance, value: float, best: float, teaches: float) -> NextOffer:
    shown = f", {belief.presentation}" if belief.presentation else ""
    tried = f"after {belief.offers} offers" if belief.offers else "never tried with this animal"
    sentence = f"{belief.food}{shown}: taken about {belief.chance:.0%} of the time ({tried})."
    score = belief.chance * value
    return NextOffer(
        belief.food,
        belief.presentation,
        belief.chance,
        float(value),
        float(score),
        float(best),
        teaches,
        sentence,
    )


def knowledge_gradient(beliefs: Sequence[Acceptance], value: Mapping[str, float]) -> tuple[float, ...]:
    """How much the best score is expected to rise by one more try of each (Frazier et al. 2008).

    SIAM J. Control Optim. 47:2410-2439. Never below zero.

    >>> even = Acceptance("kale", "chopped", 1.0, 1.0, 0, "any")
    >>> sure = Acceptance("strawberry", "whole", 50.0, 50.0, 98, "any")
    >>> [round(x, 4) for x in knowledge_gradient([even, sure], {"kale": 1.0, "strawberry": 1.0})]
    [0.0833, 0.0025]
    """
    scores = [belief.chance * value[belief.food] for belief in beliefs]
    return tuple(_gain(place, belief, scores, value[belief.food]) for place, belief in enumerate(beliefs))


def _gain(place: int, belief: Acceptance, scores: list[float], value: float) -> float:
    rest = max((score for other, score in enumerate(scores) if other != place), default=0.0)
    if_taken = max(rest, belief.after(1.0).chance * value)
    if_refused = max(rest, belief.after(0.0).chance * value)
    expected = belief.chance * if_taken + (1 - belief.chance) * if_refused
    return max(expected - max(rest, scores[place]), 0.0)
