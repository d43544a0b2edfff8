"""One lamp: published lamps, and what holds in every possible world whatever is not said."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Light
from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, summarise
from baskwell.science.history.light.lamp import recall_lamp
from baskwell.science.history.light.priors import Priors

EVIDENCE = load_evidence()
UVB_KINDS = sorted(
    lamp.lamp_id for lamp in EVIDENCE.lamps.values() if lamp.gives_uvb and lamp.class_ != "sun"
)
BARRIERS = ["none", "mesh", "fine_mesh", "glass", "acrylic"]
exactly = Span.exactly


def new_lamp(kind: str, distance_cm: float) -> Light:
    """A new lamp with nothing between."""
    return Light(kind, exactly(0.0), exactly(distance_cm), "none", exactly(12.0))


@pytest.mark.parametrize(
    ("kind", "distance", "low", "high"),
    [
        ("uvb_tube_t5_ho_12pct", 85.0, 0.5, 1.0),  # light.csv BAINES16: 24 W in a reflector
        ("uvb_tube_t8_5pct", 15.0, 0.0, 1.0),  # light.csv BAINES_T8: 18 W, never above 1.0 even at 15-30 cm
        ("uvb_tube_t8_10pct", 30.0, 1.2, 2.7),  # light.csv BLACKWELL: 50 uW/cm2 by sunlight-like ratios
        ("uvb_compact", 20.0, 0.3, 2.0),  # light.csv lamp_prior (from memory)
        ("mercury_vapour", 30.0, 2.0, 10.0),  # light.csv lamp_prior (from memory)
    ],
)
def test_published_lamps_lie_inside_the_expected_interval(
    kind: str, distance: float, low: float, high: float
) -> None:
    """The 90 % interval of a new lamp overlaps the published range, and its median is within threefold."""
    line = recall_lamp(Priors(EVIDENCE, 3, 8000), 1, new_lamp(kind, distance), ())
    got = summarise(line.uv_index)
    assert got.low < high
    assert got.high > low
    assert (low + high) / 2.0 / 3.0 < got.median < (low + high) / 2.0 * 3.0


def test_published_decay_lies_inside_the_expected_interval() -> None:
    """light.csv BLACKWELL: a 10 % tube falls from 50 to 25 uW/cm2 in six months; hours a day not said."""
    lamp = replace(new_lamp("uvb_tube_t8_10pct", 30.0), age_months=exactly(6.0), hours_per_day=None)
    got = summarise(recall_lamp(Priors(EVIDENCE, 3, 8000), 1, lamp, ()).left)
    assert got.low < 0.5 < got.high


def test_transmission_rows_are_those_of_the_light_table() -> None:
    """light_priors.csv repeats the extremes of the net, screen, pane and acrylic rows of light.csv."""
    rows = [fact for fact in EVIDENCE.light_facts if fact.topic == "transmission"]
    priors = Priors(EVIDENCE, 1, 10)
    nets = [fact.low for fact in rows if "insect net" in fact.item]
    fine = priors.row("transmission", "fine_mesh")
    assert (fine.low, fine.mode, fine.high) == (min(nets), float(np.median(nets)), max(nets))
    screens = [fact for fact in rows if fact.item in ("screen or wire mesh top", "mesh")]
    mesh = priors.row("transmission", "mesh")
    assert (mesh.low, mesh.high) == (min(s.low for s in screens), max(s.high or 0.0 for s in screens))
    panes = [fact.low for fact in rows if "float glass" in fact.item]
    glass = priors.row("meter_transmission", "glass")
    assert (glass.low, glass.mode, glass.high) == (min(panes), float(np.median(panes)), max(panes))
    sheets = [fact.low for fact in rows if "acrylic" in fact.item and "UV-trans" not in fact.item]
    acrylic = priors.row("meter_transmission", "acrylic")
    assert (acrylic.low, acrylic.mode, acrylic.high) == (min(sheets), float(np.median(sheets)), max(sheets))


def test_lamp_of_unknown_kind_keeps_a_share_that_gives_none() -> None:
    """lamps.csv, note: many lamps sold as full spectrum give none (compiler: 0.1)."""
    lamp = new_lamp("uvb_lamp_unspecified", 30.0)
    nil = np.mean(recall_lamp(Priors(EVIDENCE, 3, 20_000), 1, lamp, ()).uv_index == 0.0)
    assert nil == pytest.approx(0.1, abs=0.01)


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from(UVB_KINDS), st.floats(2, 300), st.floats(1.01, 5), st.floats(0, 100), st.floats(0, 100)
)
def test_uv_index_falls_with_distance_and_age(
    kind: str, distance: float, factor: float, age: float, more: float
) -> None:
    """In every possible world, all else as before."""
    near = Light(kind, exactly(age), exactly(distance))
    priors = Priors(EVIDENCE, 3, 500)
    base = recall_lamp(priors, 1, near, ()).uv_index
    far = recall_lamp(priors, 1, replace(near, distance_cm=exactly(distance * factor)), ()).uv_index
    old = recall_lamp(priors, 1, replace(near, age_months=exactly(age + more)), ()).uv_index
    assert np.all(far <= base)
    assert np.all(old <= base)


@pytest.mark.parametrize("kind", UVB_KINDS)
@pytest.mark.parametrize("barrier", BARRIERS)
def test_no_barrier_raises_the_uv_index(kind: str, barrier: str) -> None:
    """In every possible world."""
    priors = Priors(EVIDENCE, 3, 500)
    lamp = new_lamp(kind, 30.0)
    assert np.all(
        recall_lamp(priors, 1, replace(lamp, barrier=barrier), ()).uv_index
        <= recall_lamp(priors, 1, lamp, ()).uv_index
    )


@pytest.mark.parametrize("kind", UVB_KINDS)
@pytest.mark.parametrize("field", ["age_months", "distance_cm", "barrier", "hours_per_day"])
def test_unknown_is_never_narrower_than_what_it_may_be(kind: str, field: str) -> None:
    """Its variance is no smaller than the mean of those with the field known (law of total variance)."""
    told = Light(kind, exactly(12.0), exactly(30.0), "mesh", exactly(12.0))
    priors = Priors(EVIDENCE, 3, 4000)

    def with_(answer: object) -> Draws:
        changed = replace(told, **{field: answer})  # type: ignore[arg-type]
        return recall_lamp(priors, 1, changed, ()).uv_index

    answers: list[tuple[float, object]]
    if field == "barrier":
        answers = [(priors.one("barrier_share", word), word) for word in BARRIERS]
    else:
        draws = priors.stated("light 1", None, field, EVIDENCE.lamps[kind].class_)
        points = np.quantile(draws, (np.arange(20) + 0.5) / 20)
        answers = [(1 / 20, exactly(float(point))) for point in points]
    known = sum(share * float(with_(answer).var()) for share, answer in answers)
    assert float(with_(None).var()) >= 0.9 * known
