"""Hypothesis strategies for whole valid cases, made from the declarations of the fields themselves.

``cases(evidence)`` gives cases that ``parse_case`` accepts on ``TODAY``; ``rows(kind, evidence)`` gives
one table of any class of the model; ``spans(low, high)`` gives stated numbers and ranges. Tables state
only a few of their fields at a time: that keeps cases small and drawing fast.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, TypeVar

from hypothesis import strategies as st

from baskwell.evidence import Evidence
from baskwell.science.case import model
from baskwell.science.case.fields import Declared, Spec, declared_fields
from baskwell.science.case.model import Amount, Animal, Case, Event, History, Treatment
from baskwell.science.case.numbers import is_unknown
from baskwell.science.case.span import Span
from baskwell.science.case.vocabulary import Vocabulary, guarantee_names

TODAY = dt.date(2026, 3, 20)
EARLIEST = dt.date(1990, 1, 1)
MOST_FIELDS = 5
MOST_ROWS = 2
# A plain list, because tables of all letters take seconds to build on a fresh machine.
LETTERS = "abcXYZ 019_-.,;:!?'\"\\/[]{}()#=+%°µ\n\té\u00a0\u2028\ufeffßжשع中😀"
LABEL_NAMES = ("cereal_pellet", "shop_mix", "stick_7")

Table = TypeVar("Table")


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """Finite numbers within bounds, whole ones among them; never a negative zero."""
    whole = st.integers(int(low) + (low > int(low)), int(high)).map(float)
    exact = st.floats(low, high, allow_nan=False).map(lambda value: value + 0.0)
    return whole | exact if int(high) > low else exact


@st.composite
def spans(draw: st.DrawFn, low: float, high: float) -> Span:
    """Stated numbers, ranges, and ranges with one end unknown."""
    first = draw(numbers(low, high))
    form = draw(st.sampled_from(("number", "range", "from", "up to")))
    if form == "number":
        return Span.exactly(first)
    if form == "range":
        second = draw(numbers(low, high))
        return Span(min(first, second), max(first, second))
    return Span(first, None) if form == "from" else Span(None, first)


def texts() -> st.SearchStrategy[str]:
    """Words that a person could type, in several scripts, never blank and never "unknown"."""
    return st.text(st.sampled_from(LETTERS), min_size=1, max_size=8).filter(lambda text: not is_unknown(text))


def amounts() -> st.SearchStrategy[Amount]:
    """Amounts in words, grams and shares."""
    words = st.sampled_from(model.AMOUNT_WORDS).map(lambda word: Amount(word=word))
    grams = spans(0, 100_000).map(lambda span: Amount(grams=span))
    return words | grams | spans(0, 1).map(lambda span: Amount(share=span))


def guarantees(evidence: Evidence) -> st.SearchStrategy[dict[str, float]]:
    """Guarantees of a label, each within its bounds."""
    names = sorted(set(guarantee_names(evidence).values()))
    some = st.dictionaries(st.sampled_from(names), numbers(0, 100), min_size=1, max_size=3)
    return some.filter(
        lambda found: all(found.get(_other_side(name), end) >= end for name, end in found.items())
    )


def _other_side(name: str) -> str:
    return name.replace("_min_", "_max_")


def moments() -> st.SearchStrategy[dt.datetime]:
    """Local times not after ``TODAY``."""
    return st.datetimes(dt.datetime(1990, 1, 1), dt.datetime(2026, 3, 20, 23, 59))


def rows(kind: type[Table], evidence: Evidence) -> st.SearchStrategy[Table]:
    """One table of a class of the model, with what is required and a few of its other fields."""
    return _rows(kind, Book(evidence))


def cases(evidence: Evidence) -> st.SearchStrategy[Case]:
    """Whole cases without contradictions, with masses that go with the taxon."""
    return rows(Case, evidence).map(lambda case: _consistent(case, evidence))


class Book:
    """The words of a set of strategies, and the strategy of each field once it was made."""

    def __init__(self, evidence: Evidence) -> None:
        self.evidence = evidence
        self.words = Vocabulary(evidence, LABEL_NAMES)
        self._made: dict[int, st.SearchStrategy[Any]] = {}

    def values(self, spec: Spec) -> st.SearchStrategy[Any]:
        """Values of one field; a field's declaration lives as long as its class, so its id names it."""
        if id(spec) not in self._made:
            self._made[id(spec)] = _values(spec, self)
        return self._made[id(spec)]

    def ids(self, spec: Spec) -> list[str]:
        """All ids that may stand in a field."""
        return [id_ for source in spec.vocabulary for id_ in self.words.ids(source)]


@st.composite
def _rows(draw: st.DrawFn, kind: type[Table], book: Book) -> Table:
    fields = list(declared_fields(kind))
    free = [one for one in fields if not one.spec.required]
    picked = draw(st.lists(st.sampled_from(free), unique_by=_name, max_size=MOST_FIELDS)) if free else []
    stated = [one for one in fields if one.spec.required] + picked
    return kind(**{one.name: draw(book.values(one.spec)) for one in stated})


def _name(one: Declared) -> str:
    return one.name


def _values(spec: Spec, book: Book) -> st.SearchStrategy[Any]:
    """Values of one field, by its kind."""
    if spec.of:
        return _nested(spec, book)
    low, high = spec.low or 0.0, spec.high or 0.0
    vocabulary = st.sampled_from(spec.vocabulary or ("",))
    makers: dict[str, Any] = {
        "number": lambda: spans(low, high),
        "integer": lambda: st.integers(int(low), int(high)),
        "flag": lambda: st.booleans() | vocabulary if spec.vocabulary else st.booleans(),
        "flag_or_count": lambda: st.booleans() | st.integers(int(low), int(high)),
        "text": texts,
        "texts": lambda: st.lists(texts(), min_size=1, max_size=MOST_ROWS).map(tuple),
        "word": lambda: vocabulary,
        "words": lambda: _several(spec.vocabulary),
        "word_or_number": lambda: vocabulary | spans(low, high),
        "id": lambda: st.sampled_from(book.ids(spec)),
        "ids": lambda: _several(book.ids(spec)),
        "date": lambda: st.dates(EARLIEST, TODAY),
        "moment": moments,
        "amount": amounts,
        "pair": lambda: st.tuples(spans(low, high), spans(low, high)),
        "guarantees": lambda: guarantees(book.evidence),
    }
    made: st.SearchStrategy[Any] = makers[spec.kind]()
    return made


def _nested(spec: Spec, book: Book) -> st.SearchStrategy[Any]:
    one = _rows(getattr(model, spec.of), book)
    if spec.kind == "tables":
        return st.lists(one, min_size=1, max_size=MOST_ROWS).map(tuple)
    if spec.kind == "named_tables":
        return st.dictionaries(st.sampled_from(LABEL_NAMES), one, min_size=1, max_size=MOST_ROWS)
    return one


def _several(ids: Sequence[str]) -> st.SearchStrategy[tuple[str, ...]]:
    return st.lists(st.sampled_from(ids), min_size=1, max_size=MOST_ROWS, unique=True).map(tuple)


def _consistent(case: Case, evidence: Evidence) -> Case:
    """Take back what contradicts something else, and name no label that the file does not hold."""
    history = replace(
        case.history,
        judged_poor=_without(case.history.judged_poor, case.history.judged_good),
        denied_exposures=_without(case.history.denied_exposures, case.history.stated_exposures),
        events=tuple(_in_order(one) for one in case.history.events),
        treatments=tuple(_in_order(one) for one in case.history.treatments),
    )
    return _with_its_labels(replace(case, animal=_likely(case.animal, evidence), history=history))


def _likely(animal: Animal, evidence: Evidence) -> Animal:
    taxon = evidence.taxa[animal.taxon]
    mass = Span.exactly(taxon.adult_mass_g_low) if animal.mass_g and taxon.adult_mass_g_low else animal.mass_g
    return replace(
        animal,
        mass_g=mass,
        straight_carapace_length_mm=None,
        snout_vent_length_mm=None,
        total_length_mm=None,
        group_size=animal.group_size and 100_000,
    )


def _with_its_labels(case: Case) -> Case:
    missing = set(LABEL_NAMES) - set(case.labels)

    def held(food: str | None) -> str | None:
        return "greens" if food in missing else food

    diet = tuple(replace(item, food=held(item.food) or "greens") for item in case.history.diet)
    meals = tuple(replace(meal, food=held(meal.food)) for meal in case.days.meals)
    history: History = replace(case.history, diet=diet)
    return replace(case, history=history, days=replace(case.days, meals=meals))


def _in_order(one: Any) -> Any:
    assert isinstance(one, Event | Treatment)
    if one.from_ and one.to and one.from_ > one.to:
        return replace(one, from_=one.to, to=one.from_)
    return one


def _without(these: tuple[str, ...], those: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(one for one in these if one not in those)
