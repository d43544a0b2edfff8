"""The worked examples of the manual's page on surroundings give what is printed there."""

import doctest
from pathlib import Path

ROOT = next(folder for folder in Path(__file__).parents if (folder / "pyproject.toml").exists())


def test_the_worked_examples_of_the_page_hold() -> None:
    """docs/methods/surroundings.md, its code blocks run in order."""
    page = ROOT / "docs" / "methods" / "surroundings.md"
    text = page.read_text(encoding="utf-8").replace("```", "")
    examples = doctest.DocTestParser().get_doctest(text, {}, page.name, str(page), 0)
    result = doctest.DocTestRunner().run(examples)
    assert result.attempted >= 15
    assert result.failed == 0
