"""Quantities written with a unit are converted for the sentence that helps."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.case.units import as_field_unit, in_unit, kind_of, tidy, unit_of_key


@pytest.mark.parametrize(
    ("written", "unit", "value", "source"),
    [
        ("lb", "g", 453.59237, "NIST SP 811 appendix B.8: pound (avoirdupois)"),
        ("oz", "g", 28.349523125, "NIST SP 811 appendix B.8: ounce (avoirdupois)"),
        ("in", "cm", 2.54, "NIST SP 811 appendix B.8: inch"),
        ("ft", "cm", 30.48, "NIST SP 811 appendix B.8: foot"),
        ("ft2", "m2", 0.09290304, "NIST SP 811 appendix B.8: square foot"),
        ("kg", "g", 1000.0, "SI prefix"),
        ("weeks", "days", 7.0, "definition"),
        ("years", "months", 12.0, "definition"),
    ],
)
def test_factors_are_the_published_ones(written: str, unit: str, value: float, source: str) -> None:
    """One of each unit, against its definition."""
    assert as_field_unit(1.0, written, unit) == pytest.approx(value, rel=1e-12), source


def test_fahrenheit_at_its_two_fixed_points() -> None:
    """Water freezes at 32 °F and boils at 212 °F (NIST SP 811, B.8)."""
    assert as_field_unit(32.0, "F", "degC") == pytest.approx(0.0)
    assert as_field_unit(212.0, "°F", "degC") == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("words", "unit", "toml"),
    [
        ("395 g", "g", "395"),
        ("395g", "g", "395"),
        ("395", "g", "395"),
        ("0,395 kg", "g", "395"),
        ("1 lb 4 oz", "g", "567"),
        ("20-25 C", "degC", "[20, 25]"),
        ("68 to 77 °F", "degC", "[20, 25]"),
        ("over 20", "years", '[20, "unknown"]'),
        (">= 2 ft", "cm", '[61, "unknown"]'),
        ("up to 3 weeks", "days", '["unknown", 21]'),
        ("about 12 in", "cm", "30.5"),
        ("60 %", "%", "60"),
        ("60 %", "share", "0.6"),
        ("12 in", "g", None),
        ("heavy", "g", None),
        ("12 stone of something", "g", None),
        ("", "g", None),
        ("3 2", "g", None),
    ],
)
def test_words_become_toml(words: str, unit: str, toml: str | None) -> None:
    """What people write where a bare number belongs; 4 oz and 1 lb are 566.99 g by the factors above."""
    assert in_unit(words, unit) == toml


def test_a_unit_of_another_kind_is_named() -> None:
    """So that the sentence can say what was written."""
    assert kind_of("12 in") == "length"
    assert kind_of("12 apples") is None


@given(st.floats(0, 1e6), st.sampled_from(["kg", "lb", "oz", "mg", "g"]))
def test_conversion_is_linear(value: float, unit: str) -> None:
    """Twice the number is twice the grams."""
    one, two = as_field_unit(value, unit, "g"), as_field_unit(2 * value, unit, "g")
    assert one is not None and two == pytest.approx(2 * one)


@given(st.text(max_size=40))
def test_no_words_break_it(words: str) -> None:
    """Any text has an answer, if only None."""
    for unit in ("g", "degC", "%", "share", "years", ""):
        in_unit(words, unit)


@given(st.floats(-1e9, 1e9))
def test_tidy_keeps_three_digits(value: float) -> None:
    """What is shown differs from the value by less than half a percent."""
    assert float(tidy(value)) == pytest.approx(value, rel=5e-3)


def test_the_unit_is_in_the_name_of_a_key() -> None:
    """The longest ending counts: months_before is not a mass."""
    assert unit_of_key("dose_iu") == "IU"
    assert unit_of_key("months_before") == "months"
    assert unit_of_key("hours_per_day") == "hours a day"
