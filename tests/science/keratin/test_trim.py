"""Trims: never past the margin to the quick, two ways side by side, gaps told."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, MeasureTaken, SignSeen
from baskwell.science.case.span import Span
from baskwell.science.keratin import PartPlan, TrimPlan, plan_trims

EVIDENCE = load_evidence()
MARGIN = 2.0  # margin_quick_nail and margin_beak of clinical/trims.csv
SOUND = ("beak_deviation", "jaw_deform", "beak_overgrown", "shell_soft")


def span(low: float | None, high: float | None = None) -> Span | None:
    """A number, a range, or unknown."""
    return None if low is None else Span(low, low if high is None else high)


def nail(
    length: float | None, healthy: float | None, quick: float | None, part: str = "nail_hind_left_3"
) -> MeasureTaken:
    """One measured part."""
    return MeasureTaken(part, span(length), span(healthy), span(quick))


def planned(
    *measures: MeasureTaken,
    taxon: str = "testudo_graeca",
    sex: str | None = None,
    absent: tuple[str, ...] = SOUND,
) -> TrimPlan:
    """The plan of an animal whose jaw was found sound."""
    return plan_trims(Case(Animal(taxon, sex=sex), exam=Exam(measures=measures, absent=absent)), EVIDENCE)


def only(plan: TrimPlan) -> PartPlan:
    """The one part of a plan."""
    (part,) = plan.parts
    return part


def test_a_nail_by_hand() -> None:
    """14 long, 10 healthy, quick at 9: safe 14 - 9 - 2 = 3, over 4, a third of 4 = 1.3 a session."""
    part = only(planned(nail(14, 10, 9)))

    assert (part.safe_mm, part.over_mm, part.remains_mm) == (3, 4, 1)
    assert [round(cut.cut_mm, 1) for cut in part.staged] == [1.3, 1.3, 0.4]
    assert [cut.cut_mm for cut in part.at_once] == [3]


def test_without_a_healthy_length_the_safe_cut_is_staged() -> None:
    """The example of the case file: 14 mm, quick at 9 mm, healthy length unknown."""
    part = only(planned(nail(14, None, 9)))

    assert (part.safe_mm, part.over_mm) == (3, None)
    assert "healthy length is not known" in part.sentence


def test_both_ways_stand_side_by_side() -> None:
    """Ten nails: minutes by minutes_nail (0.5 to 2), people by common practice, weeks by stage_gap (3)."""
    plan = planned(*(nail(14, 10, 9, f"nail_hind_left_{n}") for n in range(10)))
    assert plan.staged is not None
    assert plan.at_once is not None

    assert (plan.staged.sessions, plan.at_once.sessions) == (3, 1)
    assert plan.staged.minutes == (5, 20)
    assert plan.staged.sittings == 2  # 20 minutes in sessions of at most 10 (trims.csv, session)
    assert plan.staged.people == 2
    assert (plan.staged.weeks, plan.at_once.weeks) == (6, 0)


def test_styptic_and_rotary_tool_are_laid_out() -> None:
    """Expected rows: bleed_1 to bleed_3, tool_burr of clinical/trims.csv."""
    beak = planned(nail(20, 12, 14, "beak_upper"))
    facts = {advice.fact_id for advice in beak.prepare}
    assert {"bleed_1", "bleed_2", "bleed_3", "tool_burr", "leave_bite"} <= facts
    assert "tool_burr" not in {advice.fact_id for advice in planned(nail(14, 10, 9)).prepare}
    assert {"bleed_2"} <= {a.fact_id for a in planned(nail(14, 10, 9), taxon="python_regius").prepare}


def test_a_beak_keeps_an_overlap_to_bite_with() -> None:
    """Some side overlap is left on a shortened beak (common practice); 1 mm beyond its healthy length."""
    part = only(planned(nail(20, 12, 5, "beak_upper")))
    assert part.over_mm == 7  # 20 - (12 + 1)
    assert part.staged[-1].to_mm == pytest.approx(13)


@pytest.mark.parametrize(
    ("length", "healthy", "state"),
    [(14, 10, "slice"), (10.2, 10, "leave"), (14, None, "asks"), (None, 10, "asks")],
)
def test_an_unknown_quick_is_never_computed_with(
    length: float | None, healthy: float | None, state: str
) -> None:
    """One slice of 0.5 mm (common practice for dark nails) where it is surely too long, nothing otherwise."""
    part = only(planned(nail(length, healthy, None)))
    assert part.state == state
    assert part.safe_mm is None
    assert [cut.cut_mm for cut in part.at_once] == ([0.5] if state == "slice" else [])


def test_where_the_quick_is_looked_for_is_common_practice() -> None:
    """On a clear nail the quick shows as a darker core about 3 mm along a nail of normal length."""
    assert "darker core about 3 mm along (common practice)" in only(planned(nail(14, 10, None))).sentence


def test_a_beak_without_its_live_bed_is_refused() -> None:
    """Said so, with what to watch for instead."""
    part = only(planned(nail(20, 12, None, "beak_upper")))
    assert part.state == "refused"
    assert not part.staged


def test_a_nail_shorter_than_its_quick_is_told() -> None:
    """Impossible: nothing is computed and nothing lost."""
    part = only(planned(nail(8, 6, 9)))
    assert part.state == "refused"
    assert "measure both again" in part.sentence


@pytest.mark.parametrize(
    ("sign", "absent", "state"),
    [
        (SignSeen("jaw_deform", severity=1), (), "refused"),
        (SignSeen("beak_deviation", severity=2), ("jaw_deform", "shell_soft"), "refused"),
        (SignSeen("beak_overgrown", severity=3), ("jaw_deform", "beak_deviation"), "refused"),
        (SignSeen("beak_overgrown"), ("jaw_deform", "beak_deviation"), "refused"),
        (SignSeen("beak_overgrown", severity=2), ("jaw_deform", "beak_deviation"), "cut"),
        (SignSeen("beak_overgrown", severity=2), ("beak_deviation",), "asks"),
    ],
)
def test_beaks_that_only_a_veterinarian_may_cut(sign: SignSeen, absent: tuple[str, ...], state: str) -> None:
    """Image first where severe or skewed (trims.csv, image_first); not looked for is not fine."""
    exam = Exam(measures=(nail(20, 12, 5, "beak_upper"),), signs=(sign,), absent=absent)
    plan = plan_trims(Case(Animal("testudo_graeca"), exam=exam), EVIDENCE)

    assert only(plan).state == state
    assert [v.case for v in plan.vet_only] == ["soft jaw", "severe beak", "bleeding", "sedation"]


@pytest.mark.parametrize(
    ("sex", "part", "state"),
    [
        ("male", "nail_front_left_2", "leave"),
        (None, "nail_front_left_2", "asks"),
        ("female", "nail_front_left_2", "cut"),
        ("male", "nail_hind_left_2", "cut"),
    ],
)
def test_the_long_front_claws_of_male_sliders_stay(sex: str | None, part: str, state: str) -> None:
    """Expected: nail_male_slider of clinical/trims.csv (front claws of adult males)."""
    assert only(planned(nail(14, 10, 9, part), taxon="trachemys_scripta", sex=sex)).state == state


def test_gaps_are_told() -> None:
    """No length of a reptile's beak or nail was published (clinical/README.md, Weak)."""
    assert any("was found published" in gap for gap in planned(nail(14, 10, 9)).gaps)
    assert any("left out" in gap for gap in planned(MeasureTaken("tail", span(30))).gaps)
    assert any("No nail or beak" in gap for gap in planned().gaps)


LENGTH = st.one_of(st.none(), st.floats(0.1, 60))


@given(
    LENGTH,
    LENGTH,
    st.one_of(st.none(), st.floats(0, 60)),
    st.floats(0, 5),
    st.sampled_from(["nail", "beak_upper"]),
)
def test_no_way_cuts_past_the_margin_to_the_quick(
    length: float | None, healthy: float | None, quick: float | None, spread: float, part: str
) -> None:
    """In every session of either way, for ranges at the end that cuts less."""
    measure = nail(length, healthy, None, part)
    measure = replace(measure, quick_mm=None if quick is None else Span(quick, quick + spread))
    told = only(planned(measure))

    for cut in (*told.staged, *told.at_once):
        assert cut.cut_mm > 0
        assert quick is None or cut.to_mm >= quick + spread + MARGIN - 1e-6
        assert healthy is None or cut.to_mm >= healthy - 1e-6
        assert quick is not None or cut.cut_mm <= 0.5 + 1e-6
    assert told.sentence


@given(st.floats(5, 60), st.floats(1, 60), st.floats(0, 60))
def test_staged_takes_no_more_than_at_once(length: float, healthy: float, quick: float) -> None:
    """Both ways end at one length; a stage takes at most half of what is over (trims.csv: 0.25 to 0.5)."""
    told = only(planned(nail(length, healthy, quick)))
    if told.at_once and told.over_mm is not None and told.over_mm > 1:
        assert told.staged[-1].to_mm == pytest.approx(told.at_once[-1].to_mm)
        assert all(cut.cut_mm <= 0.5 * told.over_mm + 1e-6 for cut in told.staged)


@pytest.mark.parametrize("taxon", sorted(EVIDENCE.taxa))
def test_every_taxon_is_planned(taxon: str) -> None:
    """Whatever is cut, styptic and the call to the veterinarian are laid out, each line with its source."""
    plan = planned(nail(14, 10, 9), taxon=taxon)

    assert {"bleed_1", "bleed_2", "bleed_3"} <= {advice.fact_id for advice in plan.prepare}
    assert all(advice.said_by for advice in plan.prepare)
