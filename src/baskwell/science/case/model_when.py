"""A time before the examination."""

import datetime as dt
from dataclasses import dataclass

from baskwell.science.case.fields import (
    other,
    quantity,
)
from baskwell.science.case.span import Span


@dataclass(frozen=True)
class When:
    """A time before the examination, as stated: one of the members, or ``from_`` and ``to`` together."""

    days_before: Span | None = quantity("days", 0, 40000)
    weeks_before: Span | None = quantity("weeks", 0, 6000)
    months_before: Span | None = quantity("months", 0, 1500)
    date: dt.date | None = other("date")
    from_: dt.date | None = other("date", key="from")
    to: dt.date | None = other("date")
