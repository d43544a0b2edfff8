"""The manual page on light says what the program does."""

import doctest
from pathlib import Path

PAGE = Path(__file__).parents[4] / "docs" / "methods" / "light.md"


def test_examples_of_the_page_hold() -> None:
    """Every example on the page gives what is printed under it."""
    result = doctest.testfile(str(PAGE), module_relative=False, encoding="utf-8")
    assert result.attempted >= 10
    assert result.failed == 0
