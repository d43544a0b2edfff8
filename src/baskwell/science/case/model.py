"""The case: frozen, complete, and the same names as the case file.

None, ``()`` and ``""`` mean *not stated or unknown*, never "normal". Quantities are ``Span``.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from baskwell.science.case.fields import (
    flag,
    flag_or_count,
    identifier,
    identifiers,
    integer,
    other,
    quantity,
    table,
    tables,
    text,
    texts,
    word,
    word_or_number,
    words,
)
from baskwell.science.case.span import Span

TOPICS = (
    "husbandry", "diet", "housing", "uv", "light", "heat", "humidity", "hygiene", "substrate",
)  # fmt: skip
CONTAINERS = (
    "terrarium", "tank", "tub", "bucket", "crate", "cage", "cupboard", "room", "house", "greenhouse",
    "pen", "garden", "balcony", "pond",
)  # fmt: skip
SOURCES = (
    "owner_surrender", "other_keeper", "shop", "breeder", "farm", "rescue", "found", "abandoned",
    "confiscated", "wild", "zoo", "laboratory", "school",
)  # fmt: skip
FOOD_GROUPS = (
    "fruit", "greens", "vegetables", "invertebrates", "vertebrates", "fungi", "complete_feed", "pet_food",
)  # fmt: skip
AMOUNT_WORDS = (
    "only", "always", "mostly", "half", "a lot", "sometimes", "a little", "rarely", "treats", "dust", "pinch",
)  # fmt: skip
EVENTS = (
    "attack", "fall", "crush", "hook", "escape", "chilling", "overheating", "chemical", "metal", "toxin",
    "burn", "move", "passed_stone", "swallowed", "other",
)  # fmt: skip


@dataclass(frozen=True)
class When:
    """A time before the examination, as stated: exactly one of the members is set."""

    days_before: Span | None = quantity("days", 0, 40000)
    weeks_before: Span | None = quantity("weeks", 0, 6000)
    months_before: Span | None = quantity("months", 0, 1500)
    date: dt.date | None = other("date")
    from_: dt.date | None = other("date")
    to: dt.date | None = other("date")


@dataclass(frozen=True)
class Amount:
    """How much of a food was offered: a word, grams or a share; at most one is set."""

    word: str | None = None
    grams: Span | None = None
    share: Span | None = None


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
class DietItem:
    """One food, label or food group of the diet history."""

    food: str = identifier("@foods", "@labels", *FOOD_GROUPS, required=True)
    amount: Amount | None = other("amount", vocabulary=AMOUNT_WORDS)
    days_per_week: Span | None = quantity("days a week", 0, 7)
    form: str | None = word("fresh", "dry", "tinned", "frozen", "cooked")
    presentation: str | None = word("whole", "chopped", "mixed", "dish", "hand", "tongs")
    live: bool | None = flag()
    gut_loaded: bool | None = flag()
    treated_with: str = text()
    period: str | None = word("always", "summer", "winter", "before")
    notes: str = text()


@dataclass(frozen=True)
class Supplement:
    """One supplement of the diet history."""

    agent: str = identifier("@agents", required=True)
    amount: Amount | None = other("amount", vocabulary=AMOUNT_WORDS)
    days_per_week: Span | None = quantity("days a week", 0, 7)
    strength: str = text()
    times_label_strength: Span | None = quantity("times", 0, 1000)
    months: Span | None = quantity("months", 0, 1500)
    stopped_months_ago: Span | None = quantity("months", 0, 1500)
    notes: str = text()


@dataclass(frozen=True)
class Label:
    """The label of a feed: ingredients in printed order and its guarantees, as fed.

    ``ingredients`` is None where the owner does not know them. ``guaranteed`` maps names such as
    ``crude_protein_min_pct`` to the printed number.
    """

    ingredients: tuple[str, ...] | None = None
    guaranteed: Mapping[str, float] = field(default_factory=dict)
    notes: str = ""


@dataclass(frozen=True)
class Light:
    """One lamp or heat source."""

    kind: str = identifier("@lamps", required=True)
    age_months: Span | None = quantity("months", 0, 600)
    distance_cm: Span | None = quantity("cm", 1, 1000)
    barrier: str | None = word("none", "mesh", "fine_mesh", "glass", "acrylic")
    hours_per_day: Span | None = quantity("hours a day", 0, 24)
    uv_index_measured: Span | None = quantity("UV index", 0, 100)
    watts: Span | None = quantity("W", 1, 5000)
    thermostat: bool | None = flag()
    guarded: bool | None = flag()
    notes: str = text()


@dataclass(frozen=True)
class Surroundings:
    """Where it lived."""

    container: str | None = word(*CONTAINERS)
    space: str | None = word("too_small_to_turn", "small", "adequate", "large", "free_roaming")
    floor_cm: tuple[Span, Span] | None = other("pair", unit="cm", low=1, high=100_000)
    floor_m2: Span | None = quantity("m2", 0.001, 100_000)
    tank: str = text()
    height_cm: Span | None = quantity("cm", 1, 2000)
    basking_surface_c: Span | None = quantity("degC", -30, 90)
    warm_side_c: Span | None = quantity("degC", -30, 70)
    cool_side_c: Span | None = quantity("degC", -30, 70)
    night_c: Span | None = quantity("degC", -30, 70)
    heated: bool | None = flag()
    relative_humidity_pct: Span | str | None = word_or_number("%", 0, 100, "low", "high")
    hides: int | None = integer(0, 1000)
    moist_hide: bool | None = flag()
    ventilation: str | None = word("closed", "vented", "open")
    outdoor: bool | str | None = other("flag", vocabulary=("part",))
    outdoor_shelter: str | None = word("heated", "unheated", "none")
    time_out_hours_per_day: Span | None = quantity("hours a day", 0, 24)
    substrate: tuple[str, ...] = texts()
    substrate_depth_cm: Span | None = quantity("cm", 0, 500)
    water: str | None = word("none", "dish", "soak", "pool", "pond")
    soaks_per_week: Span | None = quantity("a week", 0, 100)
    abrasive_surface: bool | None = flag()
    cleanliness: str | None = word("clean", "fair", "dirty")
    climate_log: str = text()
    notes: str = text()


@dataclass(frozen=True)
class Period(Surroundings):
    """Other surroundings for part of the year, or earlier."""

    when: str | None = word("summer", "winter", "before")


@dataclass(frozen=True)
class WinterRest:
    """The last winter rest."""

    done: bool | None = flag()
    weeks: Span | None = quantity("weeks", 0, 60)
    lowest_c: Span | None = quantity("degC", -40, 40)
    ended_weeks_before: Span | None = quantity("weeks", 0, 6000)
    mass_before_g: Span | None = quantity("g", 0.1, 500_000)
    mass_after_g: Span | None = quantity("g", 0.1, 500_000)
    outcome: str | None = word("woke_well", "woke_weak", "did_not_wake_properly")
    notes: str = text()


@dataclass(frozen=True)
class Event(When):
    """Something that happened to it."""

    kind: str | None = word(*EVENTS)
    detail: str = text()
    notes: str = text()


@dataclass(frozen=True)
class Contact:
    """Other animals around it."""

    other_reptiles: bool | None = flag()
    species: tuple[str, ...] = identifiers("@taxa")
    number: int | None = integer(0, 100_000)
    months_together: Span | None = quantity("months", 0, 1500)
    relation: str | None = word("bullied", "bullies", "peaceful")
    new_animals_within_months: Span | None = quantity("months", 0, 1500)
    losses: bool | int | None = flag_or_count(100_000)
    losses_weeks_before: Span | None = quantity("weeks", 0, 6000)
    others_ill: bool | int | None = flag_or_count(100_000)
    other_pets: tuple[str, ...] = texts()
    notes: str = text()


@dataclass(frozen=True)
class Treatment(When):
    """Something given before; ``agent = "none"`` where the owner says nothing was given."""

    agent: str = text()
    dose: str = text()
    dose_mg_per_kg: Span | None = quantity("mg/kg", 0, 100_000)
    dose_iu: Span | None = quantity("IU", 0, 10_000_000)
    route: str | None = word("oral", "injection", "sc", "im", "iv", "icoelomic", "topical", "spray", "bath")
    times: Span | None = quantity("times", 0, 10_000)
    reason: str = text()
    by: str | None = word("vet", "keeper", "shop")
    effect: str | None = word("better", "none", "worse")
    notes: str = text()


@dataclass(frozen=True)
class History:
    """How it was kept."""

    years: Span | None = quantity("years", 0, 200)
    wild_caught: bool | None = flag()
    source: str | None = word(*SOURCES)
    appetite_before: str | None = word("good", "poor")
    past_illness: tuple[str, ...] = texts()
    meals_per_week: Span | None = quantity("meals a week", 0, 200)
    fed_share_of_need: Span | None = quantity("share", 0, 10)
    judged_good: tuple[str, ...] = words(*TOPICS)
    judged_poor: tuple[str, ...] = words(*TOPICS)
    stated_exposures: tuple[str, ...] = identifiers("@exposures")
    denied_exposures: tuple[str, ...] = identifiers("@exposures")
    diet: tuple[DietItem, ...] = tables("DietItem")
    supplements: tuple[Supplement, ...] = tables("Supplement")
    lights: tuple[Light, ...] = tables("Light")
    surroundings: Surroundings | None = table("Surroundings")
    periods: tuple[Period, ...] = tables("Period")
    winter_rest: tuple[WinterRest, ...] = tables("WinterRest")
    events: tuple[Event, ...] = tables("Event")
    contact: Contact | None = table("Contact")
    treatments: tuple[Treatment, ...] = tables("Treatment")
    notes: str = text()


@dataclass(frozen=True)
class SignSeen:
    """One sign found at the examination."""

    sign: str = identifier("@signs", required=True)
    severity: int | None = integer(0, 3)
    since_days: Span | None = quantity("days", 0, 40_000)
    onset: str | None = word("sudden", "gradual")
    side: str | None = word("left", "right", "both")
    course: str = text()
    notes: str = text()


@dataclass(frozen=True)
class MeasureTaken:
    """One length measured at the examination."""

    part: str = text()
    length_mm: Span | None = quantity("mm", 0.01, 2000)
    healthy_length_mm: Span | None = quantity("mm", 0.01, 2000)
    quick_mm: Span | None = quantity("mm", 0, 2000)
    notes: str = text()


@dataclass(frozen=True)
class TestResult:
    """One test, with its result as written."""

    __test__ = False

    test: str = text()
    result: str = text()
    days_after: Span | None = quantity("days", -40_000, 40_000)
    notes: str = text()


@dataclass(frozen=True)
class Exam:
    """What was found. ``examined`` holds signs and body systems looked at, or ``("all",)``."""

    date: dt.date | None = other("date")
    month: int | None = integer(1, 12)
    season: str | None = word("spring", "summer", "autumn", "winter")
    reason: str | None = word("intake", "ill", "check")
    general: str | None = word("well", "quiet", "dull", "weak", "collapsed", "critical", "dead")
    behaviour: tuple[str, ...] = texts()
    since_days: Span | None = quantity("days", 0, 40_000)
    onset: str | None = word("sudden", "gradual")
    days_since_shed: Span | None = quantity("days", 0, 40_000)
    body_temperature_c: Span | None = quantity("degC", -10, 60)
    body_condition: Span | None = quantity("1-5", 1, 5)
    examined: tuple[str, ...] = identifiers("all", "@signs", "@body_systems")
    absent: tuple[str, ...] = identifiers("@signs")
    signs: tuple[SignSeen, ...] = tables("SignSeen")
    measures: tuple[MeasureTaken, ...] = tables("MeasureTaken")
    tests: tuple[TestResult, ...] = tables("TestResult")
    notes: str = text()


@dataclass(frozen=True)
class Weight:
    """One weighing."""

    at: dt.datetime | None = other("moment")
    mass_g: Span | None = quantity("g", 0.1, 500_000)
    notes: str = text()


@dataclass(frozen=True)
class Meal:
    """One offer of food."""

    at: dt.datetime | None = other("moment")
    food: str | None = identifier("@foods", "@labels", *FOOD_GROUPS)
    presentation: str | None = word("moving", "whole", "chopped", "mixed", "hand", "tongs", "dish")
    offered_g: Span | None = quantity("g", 0, 100_000)
    left_g: Span | None = quantity("g", 0, 100_000)
    control_loss_pct: Span | None = quantity("%", 0, 100)
    notes: str = text()


@dataclass(frozen=True)
class Faeces:
    """One passage of faeces."""

    at: dt.datetime | None = other("moment")
    score: int | None = integer(1, 4)
    undigested: bool | None = flag()
    notes: str = text()


@dataclass(frozen=True)
class DoseGiven:
    """One dose given here."""

    at: dt.datetime | None = other("moment")
    agent: str = text()
    route: str | None = word("oral", "injection", "sc", "im", "iv", "icoelomic", "topical", "spray", "bath")
    amount_iu: Span | None = quantity("IU", 0, 10_000_000)
    amount_mg: Span | None = quantity("mg", 0, 10_000_000)
    ordered_by: str = text()
    notes: str = text()


@dataclass(frozen=True)
class Days:
    """The days since it came."""

    weights: tuple[Weight, ...] = tables("Weight")
    meals: tuple[Meal, ...] = tables("Meal")
    faeces: tuple[Faeces, ...] = tables("Faeces")
    doses: tuple[DoseGiven, ...] = tables("DoseGiven")


@dataclass(frozen=True)
class Product:
    """A supplement in the cupboard, with its printed strength."""

    agent: str = identifier("@agents", required=True)
    strength: str = text()
    notes: str = text()


@dataclass(frozen=True)
class Pantry:
    """Foods and products on hand."""

    foods: tuple[str, ...] = identifiers("@foods")
    products: tuple[Product, ...] = tables("Product")


@dataclass(frozen=True)
class Case:
    """One animal: who it is, how it was kept, what was found, the days since, what is on hand."""

    animal: Animal
    history: History = field(default_factory=History)
    labels: Mapping[str, Label] = field(default_factory=dict)
    exam: Exam = field(default_factory=Exam)
    days: Days = field(default_factory=Days)
    pantry: Pantry = field(default_factory=Pantry)
    format: int = 1
