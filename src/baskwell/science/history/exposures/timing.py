"""How much of a stated time lies inside a window before the examination."""

import datetime as dt

import numpy as np

from baskwell.science.case.model import When
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws

DAYS_PER_WEEK = 7.0
WEEKS_PER_MONTH = 365.25 / 12.0 / DAYS_PER_WEEK


def share_at_most(span: Span, limit: Draws | float) -> Draws:
    """Probability that a stated number or range is at most ``limit``.

    Any value of a range is as likely as another. An open upper end is taken to reach three times the
    known end or the limit, whichever is more (judgement: an open end says little); an open lower end
    starts at 0.

    >>> share_at_most(Span.exactly(8.0), 8.0)
    array([1.])
    >>> share_at_most(Span(4.0, 12.0), 8.0)
    array([0.5])
    >>> share_at_most(Span(9.0, None), 8.0)
    array([0.])
    """
    edge = np.atleast_1d(np.asarray(limit, dtype=np.float64))
    low = span.low if span.low is not None else 0.0
    high = np.full_like(edge, span.high) if span.high is not None else 3.0 * np.maximum(low, edge)
    width = high - low
    inside = np.clip(edge - low, 0.0, width) / np.where(width > 0, width, 1.0)
    return np.where(width > 0, inside, (edge >= low).astype(np.float64))


def share_below(span: Span, limit: Draws | float) -> Draws:
    """Probability that a stated number or range is below ``limit``; as ``share_at_most`` save at the limit.

    >>> share_below(Span.exactly(8.0), 8.0)
    array([0.])
    """
    if span.low is not None and span.low == span.high:
        return (span.low < np.atleast_1d(np.asarray(limit, dtype=np.float64))).astype(np.float64)
    return share_at_most(span, limit)


def weeks_before(when: When, examined: dt.date | None) -> Span | None:
    """The end of a stated time in weeks before the examination; None where the time is not known.

    A time with a start and no end still went on at the examination. Dates need the date of the examination.
    A whole number of months is a rounded one: it is read as half a month either way (judgement).

    >>> weeks_before(When(months_before=Span.exactly(2.0)), None).middle  # 2 * 365.25 / 12 / 7
    8.696428571428571
    >>> weeks_before(When(from_=dt.date(2026, 1, 1)), dt.date(2026, 3, 1))
    Span(low=0.0, high=0.0)
    """
    for stated, weeks in (
        (when.days_before, 1.0 / DAYS_PER_WEEK),
        (when.weeks_before, 1.0),
        (_rounded(when.months_before), WEEKS_PER_MONTH),
    ):
        if stated is not None:
            return _scaled(stated, weeks)
    return _since_date(when, examined)


def _rounded(months: Span | None) -> Span | None:
    if months is None or months.low is None or months.low != months.high or months.low % 1.0 != 0.0:
        return months
    return Span(max(0.0, months.low - 0.5), months.low + 0.5)


def _scaled(span: Span, factor: float) -> Span:
    return Span(
        None if span.low is None else span.low * factor, None if span.high is None else span.high * factor
    )


def _since_date(when: When, examined: dt.date | None) -> Span | None:
    ended = when.date or when.to
    if ended is not None and examined is not None:
        return Span.exactly(max(0.0, (examined - ended).days / DAYS_PER_WEEK))
    return Span.exactly(0.0) if when.from_ is not None and when.to is None and ended is None else None
