"""Printed strengths are read for what they say, or not at all."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.history.diet_recall.strength import Strength, read_strength


@pytest.mark.parametrize(
    ("text", "amount", "unit", "per"),
    [
        ("2000 IU/g", 2000, "IU", "g"),
        ("2,000,000 IU/kg", 2000, "IU", "g"),
        ("8000 IU per capsule", 8000, "IU", "dose"),
        ("400 i.u. a tablet", 400, "IU", "dose"),
        ("1.5 mg / ml", 1500, "ug", "g"),
        ("0,5 mg per drop", 500, "ug", "dose"),
        ("40 %", 400_000, "ug", "g"),
        ("500 IU per 5 ml", 100, "IU", "g"),
        ("50 mcg each", 50, "ug", "dose"),
    ],
)
def test_strengths_as_printed(text: str, amount: float, unit: str, per: str) -> None:
    """Unit arithmetic by hand."""
    got = read_strength(text)
    assert got is not None
    assert (got.unit, got.per) == (unit, per)
    assert got.amount == pytest.approx(amount)


@pytest.mark.parametrize("text", ["", "strong", "IU", "2000", "one capsule", "5 per day", "3 IU per 0 ml"])
def test_what_is_not_a_strength_is_not_guessed(text: str) -> None:
    """Unknown stays unknown."""
    assert read_strength(text) is None


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Nothing typed breaks the reading."""
    got = read_strength(text)
    assert got is None or isinstance(got, Strength)
