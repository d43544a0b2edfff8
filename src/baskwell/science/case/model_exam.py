"""What was found at the examination."""

import datetime as dt
from dataclasses import dataclass

from baskwell.science.case.fields import (
    identifier,
    identifiers,
    integer,
    other,
    quantity,
    tables,
    text,
    texts,
    word,
)
from baskwell.science.case.span import Span


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
