"""The description of the format is complete, and the page made from it is up to date."""

import importlib.util
import pathlib
from types import ModuleType

from baskwell.evidence import load_evidence
from baskwell.science.case import describe_fields, read_case
from baskwell.science.case.explain import EXPLANATIONS
from baskwell.science.case.vocabulary import Vocabulary
from strategies import TODAY

ROOT = pathlib.Path(__file__).parents[3]
PAGE = ROOT / "docs/case-file.md"


def reference_program() -> ModuleType:
    """Load the small program that writes the reference part of the page."""
    spec = importlib.util.spec_from_file_location("case_file_reference", ROOT / "docs/case_file_reference.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_every_field_is_explained() -> None:
    """A new field needs its sentence in explain.py."""
    assert [one.path for one in describe_fields() if not one.means] == []


def test_nothing_is_explained_that_does_not_exist() -> None:
    """A field that was taken out takes its sentence with it."""
    paths = {one.path.split(".")[-1].removesuffix("[]") for one in describe_fields()} | {"label"}
    assert {key for keys in EXPLANATIONS.values() for key in keys} <= paths


def test_paths_are_unique() -> None:
    """Each field is described once."""
    paths = [one.path for one in describe_fields()]
    assert len(paths) == len(set(paths))


def test_numbers_have_bounds_and_units_are_in_the_names() -> None:
    """No number without bounds; a field in grams ends in _g or says grams in its name."""
    for one in describe_fields():
        if one.kind in {"number", "integer", "word_or_number", "pair"}:
            assert one.low is not None and one.high is not None and one.low < one.high
        if one.unit == "g":
            assert one.path.endswith("_g")


def test_vocabularies_exist() -> None:
    """A word that begins with @ names a table of the evidence that has ids."""
    words = Vocabulary(load_evidence())
    for one in describe_fields():
        for source in one.vocabulary:
            assert words.ids(source), source


def test_the_page_is_up_to_date() -> None:
    """Run ``python docs/case_file_reference.py`` when this fails."""
    page = PAGE.read_text(encoding="utf-8")
    assert reference_program().with_reference(page) == page


def test_the_example_of_the_page_is_read() -> None:
    """The shortest useful file is a valid one."""
    text = PAGE.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    reading = read_case(text, load_evidence(), today=TODAY)
    assert reading.warnings == ()
    assert reading.case.animal.taxon == "python_regius"
