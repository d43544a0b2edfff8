"""Water in air against steam tables, ASHRAE formulas and FAO-56 (environment/checks.csv, area humidity)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.humidity import (
    dew_point_c,
    relative_humidity_after_warming,
    saturation_vapour_pressure_pa,
    vapour_pressure_deficit_kpa,
    vapour_pressure_pa,
)

TEMPERATURES = st.floats(0.0, 50.0)
HUMIDITIES = st.floats(1.0, 100.0)


@pytest.mark.parametrize(
    ("temperature_c", "expected_pa", "tolerance"),
    [
        pytest.param(26.85, 3536.589, 0.004, id="C34 IAPWS-IF97 verification value at 300 K, 0.4 %"),
        pytest.param(25.0, 3169.75, 0.004, id="C35 IAPWS-IF97 at 25 C, 0.4 %"),
        pytest.param(30.0, 4240.599, 0.004, id="C36 Goff-Gratch (List 1971) at 30 C, 0.4 %"),
        pytest.param(24.5, 3075.0, 0.004, id="C37 FAO-56 example 3 at 24.5 C, from memory"),
    ],
)
def test_saturation_pressure_agrees_with_published_tables(
    temperature_c: float, expected_pa: float, tolerance: float
) -> None:
    """The Magnus form is within 0.4 % of steam tables and of Goff-Gratch."""
    assert float(saturation_vapour_pressure_pa(temperature_c)) == pytest.approx(expected_pa, rel=tolerance)


@pytest.mark.parametrize(
    ("temperature_c", "humidity_pct", "expected_c"),
    [
        pytest.param(25.0, 50.0, 13.864, id="C38 ASHRAE 2017"),
        pytest.param(30.0, 40.0, 14.936, id="C39 ASHRAE 2017"),
        pytest.param(32.0, 60.0, 23.261, id="C40 ASHRAE 2017"),
    ],
)
def test_dew_point_agrees_with_ashrae(temperature_c: float, humidity_pct: float, expected_c: float) -> None:
    """Dew points are within 0.05 K of the ASHRAE formulas."""
    assert float(dew_point_c(temperature_c, humidity_pct)) == pytest.approx(expected_c, abs=0.05)


@pytest.mark.parametrize(
    ("warmed_to_c", "expected_pct"),
    [pytest.param(35.0, 20.8, id="C41"), pytest.param(30.0, 27.5, id="C42")],
)
def test_warming_room_air_dries_it(warmed_to_c: float, expected_pct: float) -> None:
    """Room air at 20 C and 50 % becomes 20.8 % at 35 C and 27.5 % at 30 C (checks.csv, tolerance 0.2)."""
    assert float(relative_humidity_after_warming(20.0, 50.0, warmed_to_c)) == pytest.approx(
        expected_pct, abs=0.2
    )


@given(TEMPERATURES, HUMIDITIES)
def test_air_at_its_dew_point_is_saturated(temperature_c: float, humidity_pct: float) -> None:
    """Cooling to the dew point gives 100 %: the two formulas are each other's inverse."""
    dew = dew_point_c(temperature_c, humidity_pct)
    saturation = vapour_pressure_pa(temperature_c, humidity_pct) / saturation_vapour_pressure_pa(dew)
    assert float(saturation) == pytest.approx(1.0, rel=1e-9)


@given(TEMPERATURES, HUMIDITIES, st.floats(0.0, 30.0))
def test_warming_never_raises_relative_humidity(
    temperature_c: float, humidity_pct: float, by_k: float
) -> None:
    """Warmer air without added water is never relatively wetter."""
    after = float(relative_humidity_after_warming(temperature_c, humidity_pct, temperature_c + by_k))
    assert after <= humidity_pct + 1e-9


@given(TEMPERATURES, HUMIDITIES)
def test_deficit_and_vapour_pressure_make_the_saturation_pressure(
    temperature_c: float, humidity_pct: float
) -> None:
    """Deficit plus what is there is what there could be."""
    total = 1000.0 * vapour_pressure_deficit_kpa(temperature_c, humidity_pct)
    total = total + vapour_pressure_pa(temperature_c, humidity_pct)
    assert float(total) == pytest.approx(float(saturation_vapour_pressure_pa(temperature_c)), rel=1e-12)


def test_cooling_below_the_dew_point_stays_at_saturation() -> None:
    """What does not fit into the air condenses: never more than 100 %."""
    assert float(relative_humidity_after_warming(30.0, 60.0, 10.0)) == 100.0


def test_arrays_broadcast_and_unknown_stays_unknown() -> None:
    """NaN draws stay NaN and shapes broadcast."""
    result = vapour_pressure_deficit_kpa(np.array([20.0, np.nan]), np.array([[40.0], [np.nan]]))
    assert result.shape == (2, 2)
    assert np.isnan(result).tolist() == [[False, True], [True, True]]


def test_air_without_water_has_no_dew_point() -> None:
    """RH 0 gives NaN, not minus infinity."""
    assert np.isnan(dew_point_c(25.0, 0.0))


@pytest.mark.parametrize("humidity_pct", [-1.0, 101.0, 4000.0])
def test_impossible_humidity_is_refused_with_its_value(humidity_pct: float) -> None:
    """The error names the value."""
    with pytest.raises(ValueError, match=str(humidity_pct)):
        vapour_pressure_pa(20.0, humidity_pct)


def test_impossible_temperature_is_refused() -> None:
    """Below -100 C the form has no meaning."""
    with pytest.raises(ValueError, match="-273"):
        saturation_vapour_pressure_pa(-273.0)
