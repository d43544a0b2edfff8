"""UVB: whether there was any, and what was wrong with the lamp."""

from typing import Any

import pytest

from baskwell.science.case.model import Light, Period, Surroundings
from baskwell.science.case.span import Span


def lamp(**rest: Any) -> tuple[Light, ...]:
    """One strong tube."""
    return (Light("uvb_tube_t5_ho_12pct", **rest),)


@pytest.mark.parametrize(
    ("history", "expected"),
    [
        ({"lights": lamp()}, 0.0),
        ({"lights": (Light("none"),)}, 1.0),
        ({"lights": lamp(hours_per_day=Span.exactly(0.0))}, 1.0),  # a lamp that is never on
        ({"lights": (Light("window"),)}, 1.0),  # useful UVB behind glass is nil (CIE206 in lamps.csv)
        ({"lights": (Light("sun"),)}, 0.0),
        ({"surroundings": Surroundings(outdoor=True)}, 0.0),
    ],
)
def test_a_lamp_the_sun_or_their_stated_lack_settles_it(
    believe: Any, history: dict[str, Any], expected: float
) -> None:
    """The question of exposures.csv: any UVB lamp or outdoor sun."""
    assert believe(**history)["no_uvb"].mean == expected


def test_heat_lamps_alone_make_it_probable_and_not_certain(believe: Any) -> None:
    """People leave lamps out of a list; silence says nothing at all."""
    belief = believe(lights=(Light("basking_lamp"),))["no_uvb"]
    assert 0.5 < belief.mean < 0.95  # light_priors.csv: a lamp is there unlisted with 0.05 to 0.5
    assert believe()["no_uvb"].state == "unknown"


def test_summers_in_the_sun_count_in_part(believe: Any) -> None:
    """No lamp, but out for the summer."""
    periods = (Period(when="summer", outdoor=True),)
    assert 0.0 < believe(lights=(Light("none"),), periods=periods)["no_uvb"].mean < 1.0


def test_a_lamp_is_old_when_aged_and_weak(believe: Any) -> None:
    """A tube of ten years gives too little; one of a month is not old (life of lamps.csv: 9 to 18 months)."""
    near = {"distance_cm": Span.exactly(30.0), "barrier": "none"}
    ancient = believe(lights=lamp(age_months=Span.exactly(120.0), **near))["lamp_old"]
    fresh = believe(lights=lamp(age_months=Span.exactly(1.0), **near))["lamp_old"]
    assert fresh.mean == 0.0
    assert ancient.mean > 0.5


def test_an_age_that_nobody_knows_raises_and_lowers_nothing(believe: Any) -> None:
    """A lamp of unknown age that was never measured."""
    assert believe(lights=lamp())["lamp_old"].state == "unknown"


def test_a_pane_of_glass_blocks_and_a_clear_way_does_not(believe: Any) -> None:
    """The same new tube at 30 cm, with and without glass."""
    near = {"distance_cm": Span.exactly(30.0), "age_months": Span.exactly(1.0)}
    assert believe(lights=lamp(barrier="glass", **near))["lamp_blocked"].mean == 1.0
    assert believe(lights=lamp(barrier="none", **near))["lamp_blocked"].mean < 0.1
    assert believe(lights=lamp())["lamp_blocked"].state == "unknown"


def test_far_away_is_out_of_range(believe: Any) -> None:
    """A line source falls off at least with the distance: 3 m is a tenth of 30 cm or less."""
    far = lamp(barrier="none", distance_cm=Span.exactly(300.0))
    assert believe(lights=far)["lamp_blocked"].mean > 0.9


def test_one_good_lamp_is_enough(believe: Any) -> None:
    """Glass before one lamp does not matter where another reaches the animal."""
    clear = lamp(barrier="none", distance_cm=Span.exactly(30.0), age_months=Span.exactly(1.0))
    both = (*clear, Light("uvb_compact", barrier="glass"))
    assert believe(lights=both)["lamp_blocked"].mean < 0.1


def test_what_is_wrong_with_lamps_is_hardly_possible_without_one(believe: Any) -> None:
    """Nought where it is stated that there is none; small where the list may lack one."""
    for exposure_id in ("lamp_old", "lamp_blocked"):
        assert believe(lights=(Light("none"),))[exposure_id].mean == 0.0
        assert 0.0 < believe(lights=(Light("basking_lamp"),))[exposure_id].mean < 0.25
        assert believe(lights=(Light("sun"),))[exposure_id].mean == 0.0
