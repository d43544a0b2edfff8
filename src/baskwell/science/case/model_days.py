"""The days since it came."""

import datetime as dt
from dataclasses import dataclass

from baskwell.science.case.fields import (
    flag,
    identifier,
    integer,
    other,
    quantity,
    tables,
    text,
    word,
)
from baskwell.science.case.model_food import FOOD_GROUPS
from baskwell.science.case.span import Span


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
    notes: str = text()
