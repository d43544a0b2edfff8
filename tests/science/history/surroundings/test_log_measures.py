"""Hours outside and degree-hours of a series, against the worked example of heat.md and closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.science.draws import Draws
from baskwell.science.history.climate_log import ClimateSeries
from baskwell.science.history.surroundings.log_measures import (
    Limits,
    Weighed,
    covers_day_and_night,
    day_maxima,
    day_means,
    hours_and_degree_hours,
    night_minima,
    of_a_typical_day,
    weigh,
)

STEP_S = 1800
WANTED = Limits(35.0, 39.0, 15.0, 39.0)


def series(of_hour: object, days: int = 4, keep: object = None) -> ClimateSeries:
    """A series every half hour whose temperature is a function of the hour of the day."""
    assert callable(of_hour)
    times = np.arange(0, days * 86_400, STEP_S, dtype=np.int64) + 20_000 * 86_400
    hours = times % 86_400 / 3600
    celsius = np.array([float(of_hour(hour)) for hour in hours])
    if callable(keep):
        kept = np.array([keep(i) for i in range(times.size)], dtype=bool)
        times, celsius = times[kept], celsius[kept]
    return ClimateSeries("", "", times, celsius, np.full(times.size, np.nan))


def ten_hour_days(of_hour: object, **rest: object) -> Weighed:
    """Weighed with day from 8 to 18 o'clock, as in the example."""
    return weigh(series(of_hour, **rest), 8.0, 18.0)  # type: ignore[arg-type]


def measure(weighed: Weighed, limits: Limits = WANTED) -> tuple[float, float]:
    """Hours outside and degree-hours below with a logger that does not err."""
    outside, below = hours_and_degree_hours(weighed, limits, np.zeros(50), np.random.default_rng(1))
    assert np.ptp(outside) < 1e-9
    return float(outside[0]), float(below[0])


def test_the_worked_example_of_degree_hours() -> None:
    """heat.md section 3: 10 h at 30 C against 35-39 C and a normal night is 50 K h a day."""
    assert measure(ten_hour_days(lambda h: 30 if 8 <= h < 18 else 21)) == pytest.approx((10.0, 50.0))


def test_a_basking_window_lowers_it() -> None:
    """heat.md section 3: two hours at 38 C make it 8 x 5 = 40 K h."""
    weighed = ten_hour_days(lambda h: 38 if 12 <= h < 14 else (30 if 8 <= h < 18 else 21))
    assert measure(weighed) == pytest.approx((8.0, 40.0))


def test_a_gap_at_night_does_not_make_the_nights_lighter() -> None:
    """Half of the cold night readings missing changes nothing: the night is weighed by its own mean."""
    of_hour = lambda h: 36 if 8 <= h < 18 else 10  # noqa: E731
    whole = measure(ten_hour_days(of_hour))
    thinned = measure(ten_hour_days(of_hour, keep=lambda i: 8 <= (i % 48) / 2 < 18 or i % 2 == 0))
    assert whole == pytest.approx((14.0, 70.0))
    assert thinned == pytest.approx(whole)


def test_a_pause_stands_for_nothing() -> None:
    """A reading before a gap of a day does not stand for that day."""
    weighed = ten_hour_days(lambda h: 30.0, keep=lambda i: not 48 <= i < 96)
    assert float(weighed.hours.sum()) == pytest.approx(72.0 + 0.25, abs=0.5)


@given(st.floats(0.1, 3.0), st.lists(st.floats(5, 45), min_size=48, max_size=48))
def test_a_colder_log_never_has_fewer_degree_hours(colder_k: float, celsius: list[float]) -> None:
    """Degree-hours below rise as every reading falls."""
    warm = ten_hour_days(lambda h: celsius[int(2 * h)])
    cold = ten_hour_days(lambda h: celsius[int(2 * h)] - colder_k)
    assert measure(cold)[1] >= measure(warm)[1] - 1e-9


@given(st.floats(-2.0, 2.0))
def test_an_error_of_the_logger_is_as_good_as_a_shift_of_the_readings(offset_k: float) -> None:
    """Adding k to every reading and an error of k are one and the same."""
    plain = ten_hour_days(lambda h: 25 + 5 * np.sin(h))
    shifted = ten_hour_days(lambda h: 25 + 5 * np.sin(h) + offset_k)
    by_error = hours_and_degree_hours(plain, WANTED, np.full(5, offset_k), np.random.default_rng(1))
    by_shift = hours_and_degree_hours(shifted, WANTED, np.zeros(5), np.random.default_rng(1))
    np.testing.assert_allclose(by_error[1], by_shift[1], atol=1e-6)


def test_offsets_between_the_grid_are_read_straight() -> None:
    """Degree-hours are piecewise straight in the offset, so the grid gives them to a few hundredths."""
    weighed = ten_hour_days(lambda h: 25 + 8 * np.sin(h / 3))
    offsets: Draws = np.linspace(-2.5, 2.5, 101)
    _, below = hours_and_degree_hours(weighed, WANTED, offsets, np.random.default_rng(1))
    exact = [measure(ten_hour_days(lambda h, k=k: 25 + 8 * np.sin(h / 3) + k))[1] for k in offsets]
    np.testing.assert_allclose(below, exact, atol=0.05)


def test_unlike_days_give_a_wide_answer() -> None:
    """Two cold days of four: the days are weighed anew in each world."""
    times = np.arange(0, 4 * 86_400, STEP_S, dtype=np.int64)
    celsius = np.where(times < 2 * 86_400, 10.0, 36.0)
    weighed = weigh(ClimateSeries("", "", times, celsius, np.full(times.size, np.nan)), 8.0, 20.0)
    outside, _ = hours_and_degree_hours(weighed, WANTED, np.zeros(4000), np.random.default_rng(1))
    assert 11.0 < float(np.median(outside)) < 13.0
    assert float(np.std(outside)) > 3.0


def test_nights_run_from_noon_to_noon() -> None:
    """The minimum after midnight belongs to the evening before: three whole nights in four days."""
    minima = night_minima(ten_hour_days(lambda h: 10 + h / 10))
    assert minima.tolist() == pytest.approx([10.0, 10.0, 10.0, 10.0])


def test_day_maxima_and_means() -> None:
    """The highest and the mean reading of the day hours of each day."""
    weighed = ten_hour_days(lambda h: 20 + (10 if h == 12 else 0))
    assert day_maxima(weighed).tolist() == [30.0] * 4
    assert day_means(weighed).tolist() == pytest.approx([20.5] * 4)


def test_a_day_of_which_less_than_half_is_covered_is_left_out() -> None:
    """Three hours of a ten-hour day say nothing of its maximum."""
    weighed = ten_hour_days(lambda h: 25.0, keep=lambda i: i < 48 or 48 + 16 <= i < 48 + 22)
    assert day_maxima(weighed).size == 1


def test_day_alone_does_not_cover_a_night() -> None:
    """Readings only while the keeper is up cover no night."""
    by_day = ten_hour_days(lambda h: 25.0, keep=lambda i: 8 <= (i % 48) / 2 < 18)
    assert not covers_day_and_night(by_day)
    assert covers_day_and_night(ten_hour_days(lambda h: 25.0))


def test_without_a_day_there_is_no_typical_day() -> None:
    """None, not NaN."""
    assert of_a_typical_day(np.empty(0), np.zeros(3), np.random.default_rng(1)) is None
