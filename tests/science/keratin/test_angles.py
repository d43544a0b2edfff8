"""Angles between marked points."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.keratin.angles import asymmetry_deg, outward_deg, skew_deg


@given(st.floats(-179, 179), st.floats(0.5, 50), st.sampled_from([1, -1]))
def test_outward_angle_is_recovered(angle: float, length: float, away: int) -> None:
    """A nail drawn at a known angle (trigonometry)."""
    tip = (3 + away * length * math.sin(math.radians(angle)), 4 + length * math.cos(math.radians(angle)))
    assert outward_deg((3, 4), tip, away) == pytest.approx(angle, abs=1e-6)


@given(st.floats(-80, 80), st.floats(-80, 80))
def test_skew_does_not_depend_on_how_the_head_is_held(tilt: float, skew: float) -> None:
    """Turning the picture turns midline and beak alike."""
    mid = (10 * math.sin(math.radians(tilt)), 10 * math.cos(math.radians(tilt)))
    tip = (5 * math.sin(math.radians(tilt + skew)), 5 * math.cos(math.radians(tilt + skew)))
    assert skew_deg((0, 0), mid, (0, 0), tip) == pytest.approx(skew, abs=1e-6)


def test_even_sides_have_no_asymmetry() -> None:
    """By definition."""
    assert asymmetry_deg(12.0, 12.0) == 0


def test_one_point_has_no_direction() -> None:
    """Said, not computed."""
    with pytest.raises(ValueError, match="mark the base and the tip apart"):
        outward_deg((1, 1), (1, 1), 1)
    with pytest.raises(ValueError, match="1 \\(outside lies right\\)"):
        outward_deg((1, 1), (1, 2), 0)
