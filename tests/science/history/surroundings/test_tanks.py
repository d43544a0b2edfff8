"""Names of tanks as sizes, against environment/tank_sizes.csv and space.md."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.history.surroundings.tanks import read_tank

SIZES = load_evidence().tank_sizes


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("20 long", ["20 long"]),
        ("20 gallon long", ["20 long"]),
        ("a 20-gallon tall tank", ["20 high"]),
        ("20", ["20 high", "20 long"]),
        ("40 gallon", ["40 breeder", "40 long"]),
        ("40gal breeder", ["40 breeder"]),
        ("55g", ["55"]),
        ("33 long", ["30 long / 33 long"]),
        ("10 gal", ["10"]),
        ("71 litres", ["20 high", "20 long"]),
        ("100 gallon", []),
        ("40 tall", []),
        ("big", []),
        ("", []),
    ],
)
def test_what_a_name_may_mean(said: str, names: list[str]) -> None:
    """A bare number that several tanks share means all of them; an unknown one means none."""
    assert [tank.name for tank in read_tank(said, SIZES)] == names


@pytest.mark.parametrize(
    ("said", "floor_m2"),
    [
        pytest.param("20 high", 0.186, id="space.md"),
        pytest.param("20 long", 0.232, id="space.md: a 20 long"),
        pytest.param("55", 0.403, id="space.md: a 55"),
        pytest.param("40 breeder", 0.418, id="space.md: a 40 breeder"),
        pytest.param("4 x 2 ft", 0.743, id="space.md: a 4 x 2 ft cabinet"),
        pytest.param("4x2x2", 0.743, id="feet where all sides are below ten"),
        pytest.param("36 x 18 x 16", 0.418, id="a pair sold in inches is in inches"),
        pytest.param("36 x 18 inches", 0.418, id="inches named"),
        pytest.param("60 x 45 x 45", 0.27, id="any other pair is in cm"),
        pytest.param("1.2 m x 0.6 m", 0.72, id="metres"),
        pytest.param("120 by 60 cm", 0.72, id="cm named"),
        pytest.param("900 × 450 mm", 0.405, id="mm"),
    ],
)
def test_floor_of_a_name(said: str, floor_m2: float) -> None:
    """The floor area in m2, to three digits."""
    (tank,) = read_tank(said, SIZES)
    assert tank.floor_m2 == pytest.approx(floor_m2, abs=6e-4)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.nominal_us_gallons)
def test_the_table_agrees_with_itself(size: object) -> None:
    """Centimetres are 2.54 inches, floor and volume follow (checks C61, C62: 231 cubic inches a gallon)."""
    inches = [getattr(size, f"{side}_in") for side in ("length", "width", "height")]
    assert [getattr(size, f"{side}_cm") for side in ("length", "width", "height")] == pytest.approx(
        [2.54 * side for side in inches], abs=0.06
    )
    gallons = inches[0] * inches[1] * inches[2] / 231
    assert getattr(size, "gross_us_gal") == pytest.approx(gallons, abs=0.06)  # noqa: B009
    assert getattr(size, "gross_l") == pytest.approx(gallons * 3.785412, abs=0.06)  # noqa: B009
    assert getattr(size, "floor_area_m2") == pytest.approx(inches[0] * inches[1] * 0.0254**2, abs=6e-5)  # noqa: B009


@given(st.integers(10, 300), st.integers(10, 300))
def test_length_and_width_may_be_said_in_either_order(one: int, other: int) -> None:
    """The long side is the long side."""
    (tank,) = read_tank(f"{one} x {other} cm", SIZES)
    assert (tank.length_cm, tank.width_cm) == (max(one, other), min(one, other))


@given(st.text(max_size=40))
def test_any_text_is_read_without_a_fault(said: str) -> None:
    """Sizes are positive or nothing is read."""
    assert all(tank.floor_m2 >= 0 for tank in read_tank(said, SIZES))
