"""Times told of against windows, by hand and by the calendar."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.case.model import When
from baskwell.science.case.span import Span
from baskwell.science.history.exposures.timing import share_at_most, share_below, weeks_before

EXAMINED = dt.date(2026, 3, 14)


@pytest.mark.parametrize(
    ("span", "limit", "share"),
    [
        (Span(0.0, 16.0), 8.0, 0.5),  # half of an even spread, by hand
        (Span(8.0, 8.0), 8.0, 1.0),
        (Span(None, 16.0), 8.0, 0.5),  # an open start is 0
        (Span(4.0, None), 8.0, 0.2),  # an open end reaches 3 x 8 = 24: (8 - 4) / (24 - 4)
        (Span(20.0, None), 8.0, 0.0),
    ],
)
def test_a_range_lies_inside_a_window_by_its_share(span: Span, limit: float, share: float) -> None:
    """Any value of a range is as likely as another."""
    assert share_at_most(span, limit) == pytest.approx([share])


def test_below_and_at_most_differ_only_at_the_limit() -> None:
    """Eight weeks are at most eight weeks and not below."""
    assert share_below(Span.exactly(8.0), 8.0)[0] == 0.0
    assert share_below(Span(0.0, 16.0), 8.0)[0] == share_at_most(Span(0.0, 16.0), 8.0)[0]


@pytest.mark.parametrize(
    ("when", "weeks"),
    [
        (When(days_before=Span.exactly(21.0)), 3.0),
        (When(weeks_before=Span.exactly(3.0)), 3.0),
        (When(months_before=Span.exactly(12.0)), 365.25 / 7),  # twelve months are a year
        (When(date=dt.date(2026, 2, 28)), 2.0),  # calendar: 14 days before 14 March
        (When(from_=dt.date(2026, 1, 1), to=dt.date(2026, 3, 7)), 1.0),  # its end counts
        (When(from_=dt.date(2026, 1, 1)), 0.0),  # still going on
    ],
)
def test_every_way_to_state_a_time_becomes_weeks(when: When, weeks: float) -> None:
    """Days, weeks, months, a date and a period."""
    span = weeks_before(when, EXAMINED)
    assert span is not None
    assert span.middle == pytest.approx(weeks)


def test_a_time_that_cannot_be_placed_is_unknown() -> None:
    """No time, or a date without the date of the examination."""
    assert weeks_before(When(), EXAMINED) is None
    assert weeks_before(When(date=dt.date(2026, 1, 1)), None) is None


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0, 200), st.floats(0, 200))
def test_a_wider_window_never_holds_less(one: float, other: float, first: float, second: float) -> None:
    """The share grows with the window and stays a probability."""
    span, limits = Span(min(one, other), max(one, other)), np.array(sorted((first, second)))
    near, far = share_at_most(span, limits)
    assert 0.0 <= near <= far <= 1.0
