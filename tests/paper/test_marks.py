"""Dot rows and interval bars: the geometry that text and page share."""

from hypothesis import given
from hypothesis import strategies as st

from baskwell.paper.marks import Bar, Dots, bar_of
from baskwell.science.draws import Summary
from baskwell.science.history.finding import Wanted
from baskwell.science.review import Review

ends = st.one_of(st.none(), st.floats(0, 1e6))


def _sorted_summary(values: list[float]) -> Summary:
    low, median, high = sorted(values)
    return Summary(median, low, high)


def _sorted_wanted(pair: tuple[float | None, float | None]) -> Wanted:
    low, high = pair
    if low is not None and high is not None and low > high:
        low, high = high, low
    return Wanted(low, high, "nobody", "judgement")


chances = st.lists(st.floats(0, 1), min_size=3, max_size=3).map(_sorted_summary)
amounts = st.lists(st.floats(-50, 1e6), min_size=3, max_size=3).map(_sorted_summary)
ranges = st.tuples(ends, ends).map(_sorted_wanted)


@given(chances)
def test_a_row_holds_twenty_dots(chance: Summary) -> None:
    """Full, hatched and empty add to twenty, none is negative."""
    dots = Dots.of(chance)
    assert min(dots.full, dots.hatched, dots.empty) >= 0
    assert len(dots.drawn("#", "/", ".")) == 20


@given(ranges, amounts)
def test_places_on_a_bar_keep_their_order(wanted: Wanted, got: Summary) -> None:
    """Low, median and high stand in order and on the line, the wanted range too."""
    bar = Bar.of(wanted, got)
    if bar is None:
        return
    assert 0 <= bar.low <= bar.median <= bar.high <= 1
    assert 0 <= bar.wanted_low <= bar.wanted_high <= 1


@given(ranges, amounts)
def test_a_bar_shows_below_above_and_inside_truly(wanted: Wanted, got: Summary) -> None:
    """A median under the wanted range is drawn left of it, one over it right of it."""
    bar = Bar.of(wanted, got)
    if bar is None:
        return
    if wanted.low is not None and got.median < wanted.low:
        assert bar.median <= bar.wanted_low
    if wanted.high is not None and got.median > wanted.high:
        assert bar.median >= bar.wanted_high


@given(ranges, amounts, st.integers(5, 60))
def test_a_drawn_bar_has_the_width_asked_for(wanted: Wanted, got: Summary, width: int) -> None:
    """One median mark, nothing beyond the line."""
    bar = Bar.of(wanted, got)
    if bar is not None:
        drawn = bar.drawn(width, "-", ":", "=", "|")
        assert len(drawn) == width
        assert drawn.count("|") == 1


def test_nothing_is_drawn_where_nothing_is_known(sample_review: Review) -> None:
    """An unknown finding has no bar: it would look like a measurement."""
    unknown = next(f for f in sample_review.findings if f.verdict == "not known")
    assert bar_of(unknown) is None


def test_a_line_that_hides_small_values_is_stretched_and_says_so() -> None:
    """From a ratio of thirty the small end keeps room."""
    bar = Bar.of(Wanted(5000.0, 10000.0, "nobody", "judgement"), Summary(2.0, 1.0, 3.0))
    assert bar is not None
    assert bar.stretched
    assert bar.high - bar.low > 0.02
