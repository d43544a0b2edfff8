"""The worked example of the manual's page on history gives what is printed there."""

import doctest
from pathlib import Path

ROOT = next(folder for folder in Path(__file__).parents if (folder / "pyproject.toml").exists())


def test_the_worked_example_of_the_page_holds() -> None:
    """docs/methods/history.md, its code block run."""
    page = ROOT / "docs" / "methods" / "history.md"
    text = page.read_text(encoding="utf-8").replace("```", "")
    examples = doctest.DocTestParser().get_doctest(text, {}, page.name, str(page), 0)
    result = doctest.DocTestRunner().run(examples)
    assert result.attempted >= 11
    assert result.failed == 0
