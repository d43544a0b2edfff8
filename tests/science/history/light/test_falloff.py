"""How UV falls with distance and hours of use, against closed forms and the worked example."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from baskwell.science.history.light import fraction_left, relative_irradiance

LENGTHS = st.floats(0.0, 200.0)
DISTANCES = st.floats(1.0, 500.0)


def _ratio(near: float, far: float, length: float) -> float:
    return float(relative_irradiance(far, length) / relative_irradiance(near, length))


def _exponent(distance: float, length: float) -> float:
    step = 1.001
    return -math.log(_ratio(distance, distance * step, length)) / math.log(step)


@pytest.mark.parametrize(
    ("near", "far", "length", "expected", "tolerance"),
    [
        (30.0, 45.0, 0.0, 2.667 / 6.0, 0.01 / 6.0),  # checks.csv C16: inverse square
        (30.0, 45.0, 55.0, 0.534, 0.002),  # C17
        (30.0, 60.0, 115.0, 0.421, 0.002),  # C18
    ],
)
def test_ratio_of_two_distances(
    near: float, far: float, length: float, expected: float, tolerance: float
) -> None:
    """environment/checks.csv, calculated from the formula of light.md section 4."""
    assert _ratio(near, far, length) == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize(
    ("distance", "length", "expected"),
    [
        (30.0, 115.0, 1.117),  # checks.csv C19
        (150.0, 55.0, 1.957),  # C20
        (60.0, 115.0, 1.41),  # light.md section 4
        (30.0, 55.0, 1.44),  # light.md section 4
    ],
)
def test_local_exponent_lies_between_line_and_point(distance: float, length: float, expected: float) -> None:
    """1 for a line, 2 for a point."""
    assert _exponent(distance, length) == pytest.approx(expected, abs=0.01)


def test_near_a_long_tube_falls_as_one_over_distance_and_far_off_as_its_square() -> None:
    """Closed-form limits of the tube formula."""
    assert _exponent(0.1, 100.0) == pytest.approx(1.0, abs=0.01)
    assert _exponent(5000.0, 100.0) == pytest.approx(2.0, abs=0.01)


@pytest.mark.parametrize(("distance", "length"), [(30.0, 55.0), (12.0, 115.0), (85.0, 20.0)])
def test_tube_formula_is_the_integral_over_a_lambertian_tube(distance: float, length: float) -> None:
    """Numerical integration by another library: cos at the tube times cos at the receiver over r squared."""

    def element(x: float) -> float:
        return distance**2 / (distance**2 + x**2) ** 2

    whole = quad(element, -length / 2.0, length / 2.0)[0] / length
    assert float(relative_irradiance(distance, length)) == pytest.approx(whole, rel=1e-6)


def test_worked_example_of_a_tube() -> None:
    """light.md section 4: 3.0 at 30 cm, 1.60 at 45 cm, 1.04 under mesh, 0.62 after nine months."""
    at_45 = 3.0 * _ratio(30.0, 45.0, 55.0)
    assert at_45 == pytest.approx(1.60, abs=0.005)
    assert at_45 * 0.65 == pytest.approx(1.04, abs=0.005)
    assert at_45 * 0.65 * 0.6 == pytest.approx(0.62, abs=0.006)


def test_two_readings_of_a_reflector_lamp_give_its_virtual_source() -> None:
    """light.csv RU_LAMP: 3.8 at 10 cm, 1.3 at 20 cm; d0 = (d2 q - d1) / (1 - q) = 4.1 cm."""
    q = math.sqrt(1.3 / 3.8)
    behind = (20.0 * q - 10.0) / (1.0 - q)
    assert behind == pytest.approx(4.1, abs=0.05)
    ratio = relative_irradiance(20.0, 0.0, behind) / relative_irradiance(10.0, 0.0, behind)
    assert float(ratio) == pytest.approx(1.3 / 3.8)


@pytest.mark.parametrize(
    ("low", "high", "band"),
    [
        (
            0.03,
            0.3,
            (0.45, 0.95),
        ),  # light.md section 5, T5 and mercury vapour: 0.6-0.95, low end a little wider
        (0.05, 0.42, (0.30, 0.89)),  # T8 and compact: 0.4-0.9, the environment README gives 0.89-0.30
    ],
)
def test_loss_rows_reproduce_the_published_bands(low: float, high: float, band: tuple[float, float]) -> None:
    """2,190 hours, six months at twelve hours a day."""
    months = 2190.0 / 12.0 / (365.25 / 12.0)
    left = [float(fraction_left(months, 12.0, loss)) for loss in (high, low)]
    assert left == pytest.approx(band, abs=0.015)


@given(LENGTHS, DISTANCES, st.floats(1.001, 10.0), st.floats(0.0, 20.0))
def test_uv_falls_with_distance(length: float, distance: float, factor: float, behind: float) -> None:
    """Further is never more, whatever the lamp."""
    near = relative_irradiance(distance, length, behind)
    assert float(relative_irradiance(distance * factor, length, behind)) < float(near)


@given(LENGTHS, DISTANCES, st.floats(1.1, 5.0), st.floats(0.01, 100.0))
def test_unit_of_length_changes_nothing(length: float, distance: float, factor: float, unit: float) -> None:
    """Centimetres, inches or metres: the ratio is the same."""
    assert _ratio(distance * unit, distance * factor * unit, length * unit) == pytest.approx(
        _ratio(distance, distance * factor, length)
    )


@given(LENGTHS, DISTANCES, st.floats(1.1, 5.0))
def test_no_lamp_falls_slower_than_a_line_or_faster_than_a_point(
    length: float, distance: float, factor: float
) -> None:
    """The ratio lies between 1/f and 1/f squared."""
    ratio = _ratio(distance, distance * factor, length)
    assert 1.0 / factor**2 - 1e-12 <= ratio <= 1.0 / factor + 1e-12


@given(st.floats(0.0, 120.0), st.floats(0.0, 24.0), st.floats(0.0, 0.6), st.floats(0.0, 60.0))
def test_age_only_takes(age: float, hours: float, loss: float, more: float) -> None:
    """What is left is a share, and never grows."""
    left = float(fraction_left(age, hours, loss))
    assert 0.0 <= float(fraction_left(age + more, hours, loss)) <= left <= 1.0


def test_arrays_broadcast() -> None:
    """One call for all draws."""
    assert relative_irradiance(np.array([10.0, 20.0]), np.array([[0.0], [50.0]])).shape == (2, 2)
