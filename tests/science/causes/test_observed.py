"""Present, absent and not examined are three different things."""

import pytest

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, SignSeen
from baskwell.science.case.span import Span
from baskwell.science.causes.observed import Observed, observe

EVIDENCE = load_evidence()


def look(taxon: str = "terrapene_carolina", **exam: object) -> Observed:
    """Observe an examination of one animal."""
    return observe(Case(Animal(taxon), exam=Exam(**exam)), EVIDENCE)  # type: ignore[arg-type]


def test_a_sign_nobody_looked_for_is_not_absent() -> None:
    """Without ``examined`` and ``absent`` everything is open."""
    seen = look()

    assert seen.absent == ()
    assert "anorexia" in seen.not_examined


def test_severity_zero_is_looked_for_and_absent() -> None:
    """A sign scored 0 was examined."""
    seen = look(signs=(SignSeen("anorexia", severity=0),))

    assert seen.absent == ("anorexia",)
    assert not seen.present


def test_examined_body_system_makes_its_other_signs_absent() -> None:
    """``examined = ["shell"]`` with a soft shell found: an ulcer was looked for and is not there."""
    seen = look(signs=(SignSeen("shell_soft", severity=2),), examined=("shell",))

    assert "shell_ulcer" in seen.absent
    assert list(seen.present) == ["shell_soft"]


def test_signs_of_other_animals_are_never_absent() -> None:
    """A turtle has no shed skin to examine: signs that cannot occur in the taxon are left out."""
    seen = look(examined=("all",))

    assert "retained_spectacle" not in seen.absent
    assert "retained_spectacle" not in seen.not_examined


@pytest.mark.parametrize(
    ("severities", "kept"),
    [((1, 3), "sunken_eyes"), ((2, 2), "dehydrated"), ((None, 3), "sunken_eyes")],
)
def test_one_finding_counts_once(severities: tuple[int | None, int], kept: str) -> None:
    """Of signs that name one finding the most severe is scored, of equals the most exact.

    Source: clinical README, "One finding, one sign".
    """
    dried, eyes = severities
    seen = look(signs=(SignSeen("dehydrated", severity=dried), SignSeen("sunken_eyes", severity=eyes)))

    assert list(seen.present) == [kept]
    assert len(seen.set_aside) == 1


def test_the_same_finding_under_another_name_is_not_absent() -> None:
    """Dehydration found: wrinkled skin of the same set does not count as absent evidence against it."""
    seen = look(signs=(SignSeen("dehydrated", severity=2),), examined=("all",))

    assert "skin_wrinkled" not in seen.absent


def test_composite_yields_to_its_parts() -> None:
    """``urtd_any`` must not be used together with its parts (clinical README)."""
    seen = look(signs=(SignSeen("nasal_discharge", severity=2), SignSeen("urtd_any", severity=2)))

    assert list(seen.present) == ["nasal_discharge"]


def test_parts_of_a_composite_stand_beside_each_other() -> None:
    """A runny nose and swollen lids are two findings."""
    seen = look(signs=(SignSeen("nasal_discharge", severity=2), SignSeen("palpebral_oedema", severity=2)))

    assert set(seen.present) == {"nasal_discharge", "palpebral_oedema"}


@pytest.mark.parametrize(
    ("general", "sign", "severity"), [("dull", "lethargy", 2), ("collapsed", "weakness", 3)]
)
def test_the_general_state_is_an_observation(general: str, sign: str, severity: int) -> None:
    """A dull animal is lethargic, whether or not the sign was scored as well (common practice)."""
    seen = look(general=general)

    assert seen.present[sign].severity == severity


def test_body_condition_speaks_where_nobody_scored_thinness() -> None:
    """Score 1 of 5 is wasted; a scored sign is never overruled by it."""
    wasted = look(body_condition=Span.exactly(1))
    scored = look(body_condition=Span.exactly(1), signs=(SignSeen("emaciation", severity=1),))

    assert wasted.present["emaciation"].severity == 3
    assert scored.present["emaciation"].severity == 1
