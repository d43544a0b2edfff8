"""How it was kept: lamps, surroundings, winter rest, events, company, treatments."""

from dataclasses import dataclass

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
from baskwell.science.case.model_food import DietItem, Supplement
from baskwell.science.case.model_when import When
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
EVENTS = (
    "attack", "fall", "crush", "hook", "escape", "chilling", "overheating", "chemical", "metal", "toxin",
    "burn", "move", "passed_stone", "swallowed", "other",
)  # fmt: skip


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
    basking_surface_c: Span | None = quantity("degC", -30, 80)
    warm_side_c: Span | None = quantity("degC", -30, 60)
    cool_side_c: Span | None = quantity("degC", -30, 50)
    night_c: Span | None = quantity("degC", -30, 50)
    thermometer: str | None = word("dial", "digital", "infrared", "logger")
    heated: bool | None = flag()
    relative_humidity_pct: Span | str | None = word_or_number("%", 0, 100, "low", "high")
    hygrometer: str | None = word("dial", "digital", "logger")
    hides: int | None = integer(0, 1000)
    moist_hide: bool | None = flag()
    ventilation: str | None = word("closed", "vented", "open")
    outdoor: bool | str | None = other("flag", vocabulary=("part",))
    outdoor_shelter: str | None = word("heated", "unheated", "none")
    latitude_deg: Span | None = quantity("degrees north", -90, 90)
    time_out_hours_per_day: Span | None = quantity("hours a day", 0, 24)
    substrate: tuple[str, ...] = texts()
    substrate_depth_cm: Span | None = quantity("cm", 0, 500)
    water: str | None = word("none", "dish", "soak", "pool", "pond")
    water_depth_cm: Span | None = quantity("cm", 0, 500)
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
    winter_rest: tuple[WinterRest, ...] = tables("WinterRest", lone=True)
    events: tuple[Event, ...] = tables("Event")
    contact: Contact | None = table("Contact")
    treatments: tuple[Treatment, ...] = tables("Treatment")
    notes: str = text()
