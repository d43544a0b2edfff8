"""The worked examples of the manual's page on dosing give what is printed there."""

import doctest
from pathlib import Path

ROOT = next(folder for folder in Path(__file__).parents if (folder / "pyproject.toml").exists())


def test_the_worked_examples_of_the_page_hold() -> None:
    """docs/methods/dosing.md, its code blocks run in order."""
    page = ROOT / "docs" / "methods" / "dosing.md"
    text = page.read_text(encoding="utf-8").replace("```", "")
    examples = doctest.DocTestParser().get_doctest(text, {}, page.name, str(page), 0)
    result = doctest.DocTestRunner().run(examples)
    assert result.attempted >= 5
    assert result.failed == 0
