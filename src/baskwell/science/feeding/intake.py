"""What was eaten: offered less left less what dried away, by a control dish where one stood."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case, Meal
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, Summary, pert, summarise


@dataclass(frozen=True)
class Intake:
    """One offer measured. ``eaten_g`` in g as offered, never below 0 or above what was offered.

    ``share`` are draws of the eaten share, shape ``(n_draws,)``; ``control_known`` False: no control dish
    stood, so the interval is as wide as drying can be.
    """

    at: dt.datetime | None
    food: str
    presentation: str
    offered_g: float
    eaten_g: Summary
    control_known: bool
    share: Draws = field(repr=False, compare=False)


def measured_intake(
    case: Case, evidence: Evidence, rng: np.random.Generator, n_draws: int, now: dt.datetime
) -> tuple[tuple[Intake, ...], tuple[str, ...]]:
    """Every offer up to ``now`` that can be measured, in order of time; a sentence for each that cannot."""
    found: list[Intake] = []
    gaps: list[str] = []
    for place, meal in enumerate(case.days.meals, start=1):
        wrong = _wrong(meal, now)
        if wrong:
            gaps.append(f"Meal {place} {wrong}")
        else:
            found.append(_intake(meal, evidence, rng, n_draws))
    found.sort(key=lambda one: (one.at is not None, one.at or now))
    gaps += _no_control(found)
    return tuple(found), tuple(gaps)


def _wrong(meal: Meal, now: dt.datetime) -> str:
    if meal.offered_g is None or meal.left_g is None:
        return "cannot be measured: weigh what is offered and what is left."
    if meal.offered_g.is_open or meal.left_g.is_open or meal.offered_g.middle <= 0:
        return "cannot be measured: what was offered must be above zero, and both ends known."
    if meal.at is not None and meal.at > now:
        return f"lies after {now:%d %B %Y, %H:%M}: correct the day."
    if (meal.left_g.low or 0.0) > (meal.offered_g.high or 0.0):
        left, offered = meal.left_g.middle, meal.offered_g.middle
        return f"has more left ({left:g} g) than offered ({offered:g} g): weigh again."
    return ""


def _no_control(found: list[Intake]) -> Iterator[str]:
    without = sum(not one.control_known for one in found)
    if without:
        yield (
            f"{without} of {len(found)} meals had no control dish, so what dried away is only bracketed: "
            "put the same food beside the enclosure, out of reach, and weigh it too."
        )


def _intake(meal: Meal, evidence: Evidence, rng: np.random.Generator, n_draws: int) -> Intake:
    offered, left = _draws(meal.offered_g, rng, n_draws), _draws(meal.left_g, rng, n_draws)
    eaten = eaten_g(offered, left, _lost(meal.control_loss_pct, evidence, rng, n_draws) / 100)
    return Intake(
        at=meal.at,
        food=meal.food or "",
        presentation=meal.presentation or "",
        offered_g=meal.offered_g.middle if meal.offered_g else 0.0,
        eaten_g=summarise(eaten),
        control_known=_is_told(meal.control_loss_pct),
        share=eaten / offered,
    )


def eaten_g(offered: Draws, left: Draws, lost_share: Draws) -> Draws:
    """Food eaten, in g as offered.

    What was left weighed ``left / (1 - lost)`` before it dried, so drying counts on what was left alone:
    nothing left, nothing dried. ``lost_share`` from 0 to 1; at 1 all may have dried away.

    >>> eaten_g(np.array([6.0]), np.array([5.1]), np.array([0.04])).round(4).tolist()   # 6 - 5.1 / 0.96
    [0.6875]
    """
    fresh = np.divide(left, 1 - lost_share, out=np.where(left > 0, np.inf, 0.0), where=lost_share < 1)
    return np.clip(offered - fresh, 0.0, offered)


def _draws(span: Span | None, rng: np.random.Generator, n_draws: int) -> Draws:
    low, high = (span.low or 0.0, span.high or 0.0) if span else (0.0, 0.0)
    return pert(rng, low, (low + high) / 2, high, n_draws)


def _is_told(span: Span | None) -> bool:
    return span is not None and not span.is_open


def _lost(span: Span | None, evidence: Evidence, rng: np.random.Generator, n_draws: int) -> Draws:
    if _is_told(span):
        return _draws(span, rng, n_draws)
    choice = evidence.feeding.choice
    bounds = (choice("control_loss_low"), choice("control_loss_mode"), choice("control_loss_high"))
    return pert(rng, *bounds, n_draws)
