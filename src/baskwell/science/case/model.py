"""The case: frozen, complete, and the same names as the case file.

None, ``()`` and ``""`` mean *not stated or unknown*, never "normal". Quantities are ``Span``.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from baskwell.science.case.fields import (
    identifier,
    integer,
    named_tables,
    quantity,
    table,
    text,
    word,
)
from baskwell.science.case.model_care import (
    CONTAINERS,
    EVENTS,
    SOURCES,
    TOPICS,
    Contact,
    Event,
    History,
    Light,
    Period,
    Surroundings,
    Treatment,
    WinterRest,
)
from baskwell.science.case.model_days import (
    Days,
    DoseGiven,
    Faeces,
    Meal,
    Weight,
)
from baskwell.science.case.model_exam import (
    Exam,
    MeasureTaken,
    SignSeen,
    TestResult,
)
from baskwell.science.case.model_food import (
    AMOUNT_ALIASES,
    AMOUNT_WORDS,
    FOOD_GROUPS,
    Amount,
    DietItem,
    Label,
    Pantry,
    Product,
    Supplement,
)
from baskwell.science.case.model_when import (
    When,
)
from baskwell.science.case.span import Span

__all__ = [
    "AMOUNT_ALIASES",
    "AMOUNT_WORDS",
    "CONTAINERS",
    "EVENTS",
    "FOOD_GROUPS",
    "SOURCES",
    "TOPICS",
    "Amount",
    "Animal",
    "Case",
    "Contact",
    "Days",
    "DietItem",
    "DoseGiven",
    "Event",
    "Exam",
    "Faeces",
    "History",
    "Label",
    "Light",
    "Meal",
    "MeasureTaken",
    "Pantry",
    "Period",
    "Product",
    "SignSeen",
    "Supplement",
    "Surroundings",
    "TestResult",
    "Treatment",
    "Weight",
    "When",
    "WinterRest",
]


@dataclass(frozen=True)
class Animal:
    """Who it is."""

    taxon: str = identifier("@taxa", required=True)
    name: str = text()
    age_years: Span | None = quantity("years", 0, 200)
    age_class: str | None = word("hatchling", "juvenile", "subadult", "adult", "old")
    sex: str | None = word("female", "male")
    mass_g: Span | None = quantity("g", 0.1, 500_000)
    straight_carapace_length_mm: Span | None = quantity("mm", 5, 2000)
    snout_vent_length_mm: Span | None = quantity("mm", 5, 10_000)
    plastron_length_mm: Span | None = quantity("mm", 5, 2000)
    total_length_mm: Span | None = quantity("mm", 10, 12_000)
    reproductive: str | None = word("gravid", "none", "laid")
    group_size: int | None = integer(1, 100_000)
    number_affected: int | None = integer(0, 100_000)
    number_dead: int | None = integer(0, 100_000)
    notes: str = text()


@dataclass(frozen=True)
class Case:
    """One animal: who it is, how it was kept, what was found, the days since, what is on hand."""

    animal: Animal = table("Animal", required=True)
    history: History = table("History", default=History)
    labels: Mapping[str, Label] = named_tables("Label", key="label")
    exam: Exam = table("Exam", default=Exam)
    days: Days = table("Days", default=Days)
    pantry: Pantry = table("Pantry", default=Pantry)
    format: int = 1
    notes: str = text()
