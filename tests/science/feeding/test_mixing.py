"""The mixing schedule moves only on measured acceptance and mass that holds."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.draws import Summary
from baskwell.science.feeding import Intake, MixStep, next_mix

EVIDENCE = load_evidence()
STEADY = Summary(0.0, -2.0, 2.0)
LOSING = Summary(6.0, 4.0, 8.0)


def feeds(*shares: float) -> list[Intake]:
    """Feeds of 10 g eaten to these shares for sure."""
    return [
        Intake(
            dt.datetime(2026, 3, 1 + day),
            "mix",
            "mixed",
            10.0,
            Summary(10 * share, 10 * share, 10 * share),
            True,
            np.full(10, share),
        )
        for day, share in enumerate(shares)
    ]


def mix(share: float, days: float, eaten: list[Intake], loss: Summary | None) -> MixStep:
    """The next mix of a box turtle."""
    told = next_mix(EVIDENCE, "terrapene_ornata", share, days, eaten, loss)
    assert told is not None
    return told


@pytest.mark.parametrize(
    ("share", "days", "eaten", "loss", "move", "then"),
    [
        (0, 0, (), STEADY, "start", 10),
        (10, 6, (0.85, 0.9), STEADY, "advance", 25),
        (10, 6, (0.9, 0.6), STEADY, "hold", 10),  # under 80 % once
        (10, 6, (0.9,), STEADY, "hold", 10),  # one feed only
        (10, 3, (0.9, 0.9), STEADY, "hold", 10),  # under five days
        (50, 6, (0.9, 0.1), STEADY, "step back", 25),
        (10, 6, (0.0,), STEADY, "step back", 0),
        (50, 6, (0.9, 0.9), None, "hold", 50),  # mass not known
        (50, 6, (0.9, 0.9), Summary(2, -2, 6), "hold", 50),  # may be losing
        (75, 6, (0.9, 0.9), LOSING, "stop", 0),
        (100, 6, (0.9, 0.9), STEADY, "done", 100),
    ],
)
def test_moves(
    share: float, days: float, eaten: tuple[float, ...], loss: Summary | None, move: str, then: float
) -> None:
    """Expected: rows box_turtle_tortoise.weaning.1-5, box_turtle.weaning.1 (VOYO), tortoise.weaning.2."""
    told = mix(share, days, feeds(*eaten), loss)

    assert (told.move, told.share_pct) == (move, then)


def test_kinds_without_a_schedule_get_none() -> None:
    """No schedule with numbers is published for snakes."""
    assert next_mix(EVIDENCE, "python_regius", 0, 0, [], STEADY) is None


@settings(deadline=None)
@given(
    st.sampled_from([0, 10, 25, 50, 75, 100]),
    st.floats(0, 30),
    st.lists(st.floats(0, 1), max_size=5),
    st.none() | st.builds(lambda m, w: Summary(m, m - w, m + w), st.floats(-5, 12), st.floats(0, 5)),
)
def test_never_more_than_one_step_and_never_up_on_a_loss(
    share: float, days: float, eaten: list[float], loss: Summary | None
) -> None:
    """Whatever was eaten: at most the next step, and none up while mass is unknown or falling."""
    steps = [0, 10, 25, 50, 75, 100]
    told = mix(share, days, feeds(*eaten), loss)

    assert steps.index(int(told.share_pct)) <= steps.index(int(share)) + 1
    if loss is None or loss.high >= 5:
        assert told.share_pct <= share
