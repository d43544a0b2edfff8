"""Since when it stays here, and small words about days."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from baskwell.evidence import Evidence
from baskwell.evidence.rows.clinical_records import QuarantineFact
from baskwell.evidence.rows.quarantine import QuarantineChoice
from baskwell.science.case.model import Case
from baskwell.science.case.span import Span


@dataclass(frozen=True)
class Stay:
    """One animal in quarantine as of ``now``.

    ``since`` is the first day of the clock, None where no date is known; ``at_least``: it may have come
    earlier, ``why`` says from what the day was taken.
    """

    case: Case
    evidence: Evidence = field(repr=False)
    now: dt.datetime
    since: dt.date | None = None
    at_least: bool = False
    why: str = ""

    @property
    def today(self) -> dt.date:
        """The day of ``now``."""
        return self.now.date()

    def choice(self, choice_id: str) -> float:
        """The figure of a choice of ``quarantine_choices.csv``."""
        return self.row(choice_id).value

    def row(self, choice_id: str) -> QuarantineChoice:
        """A choice of ``quarantine_choices.csv``."""
        return self.evidence.quarantine_tables.choice(choice_id)

    def fact(self, fact_id: str) -> QuarantineFact:
        """A row of ``quarantine.csv``."""
        return self.evidence.quarantine[fact_id]


def begin(case: Case, evidence: Evidence, now: dt.datetime) -> Stay:
    """When the clock started: at intake, at signs seen later, else at the first record of a day here.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, Exam
    >>> exam = Exam(date=dt.date(2026, 3, 14), reason="intake")
    >>> begin(Case(Animal("testudo_graeca"), exam=exam), load_evidence(), dt.datetime(2026, 4, 1)).since
    datetime.date(2026, 3, 14)
    """
    exam = case.exam
    day = exam.date if exam.date is not None and exam.date <= now.date() else None
    if day and exam.reason == "intake":
        return Stay(case, evidence, now, day, False, "the examination at intake")
    ill = day if any(sign.severity != 0 for sign in exam.signs) else None
    records = [at.date() for at in recorded(case) if at <= now]
    if ill and (not records or ill >= min(records)):
        return Stay(case, evidence, now, ill, False, "the signs seen on that day, which restart the clock")
    if not records:
        return Stay(case, evidence, now)
    return Stay(case, evidence, now, min(records), True, "the first record of a day here")


def recorded(case: Case) -> Iterator[dt.datetime]:
    """The times of all records of the days here."""
    days = case.days
    for records in (days.weights, days.meals, days.faeces, days.doses):
        yield from (record.at for record in records if record.at is not None)


def future_gaps(case: Case, now: dt.datetime) -> Iterator[str]:
    """What lies after ``now`` is told and left out."""
    late = [at for at in recorded(case) if at > now]
    if late:
        yield f"{len(late)} records lie after {now:%Y-%m-%d %H:%M} and are left out: check their dates."
    if case.exam.date is not None and case.exam.date > now.date():
        yield f"The examination is dated {case.exam.date}, after {now:%Y-%m-%d}: check the date."


def known(span: Span | None) -> float | None:
    """The middle of a closed span; None for an unknown or open one."""
    return None if span is None or span.is_open else span.middle


def spaced(days: Iterable[dt.date], gap: float) -> int:
    """The most days of a list that lie at least ``gap`` days apart.

    >>> spaced([dt.date(2026, 3, 1), dt.date(2026, 3, 8), dt.date(2026, 3, 15)], 14)
    2
    """
    count, last = 0, None
    for day in sorted(days):
        if last is None or (day - last).days >= gap:
            count, last = count + 1, day
    return count


def counted(n: float, thing: str) -> str:
    """A number with its noun.

    >>> counted(1, "day"), counted(3, "day")
    ('1 day', '3 days')
    """
    return f"{n:g} {thing}" if n == 1 else f"{n:g} {thing}s"
