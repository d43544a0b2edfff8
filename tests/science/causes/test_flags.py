"""Red flags fire on a sign alone and stand first."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, Exam, SignSeen
from baskwell.science.causes.flags import red_flags
from baskwell.science.causes.ranking import Flag

EVIDENCE = load_evidence()
SIGNS = sorted(EVIDENCE.signs)


def flags(*signs: SignSeen, taxon: str = "terrapene_carolina", **exam: object) -> tuple[Flag, ...]:
    """The flags of one examination."""
    return red_flags(Case(Animal(taxon), exam=Exam(signs=signs, **exam)), EVIDENCE)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("sign", "severity", "level"),
    [
        ("tremor", 1, "vet now"),
        ("open_mouth_breathing", 1, "vet now"),
        ("limb_weakness", 1, "within days"),
        ("limb_weakness", 2, "vet now"),
        ("anorexia", 1, "watch"),
        ("anorexia", 2, "within days"),
        ("anorexia", 3, "vet now"),
        ("shell_pyramiding", 3, "watch"),
        ("beak_overgrown", 3, "vet now"),
    ],
)
def test_urgency_of_a_sign_alone(sign: str, severity: int, level: str) -> None:
    """Expected: the urgency column of clinical/signs.csv."""
    assert flags(SignSeen(sign, severity=severity))[0].level == level


def test_an_unscored_severity_is_never_taken_as_fine() -> None:
    """Weak legs without a score need the veterinarian until somebody scores them."""
    found = flags(SignSeen("limb_weakness"))

    assert found[0].level == "vet now"
    assert "not scored" in found[0].sentence


def test_signs_together_call_for_a_veterinarian() -> None:
    """Lids shut and not eating (signs.csv: "shut and not eating: see vet now")."""
    alone = flags(SignSeen("palpebral_oedema", severity=2))
    together = flags(SignSeen("palpebral_oedema", severity=2), SignSeen("anorexia", severity=1))

    assert alone[0].level == "within days"
    assert together[0].level == "vet now"


def test_age_decides_on_a_soft_shell() -> None:
    """A soft shell is an emergency in a grown animal; in a hatchling a matter of days (signs.csv)."""
    sign = SignSeen("shell_soft", severity=1)
    grown = Case(Animal("testudo_graeca", age_class="adult"), exam=Exam(signs=(sign,)))
    young = Case(Animal("testudo_graeca", age_class="hatchling"), exam=Exam(signs=(sign,)))

    assert red_flags(grown, EVIDENCE)[0].level == "vet now"
    assert red_flags(young, EVIDENCE)[0].level == "within days"


@pytest.mark.parametrize("state", ["weak", "collapsed", "critical", "dead"])
def test_a_critical_state_is_urgent_without_any_sign(state: str) -> None:
    """Common practice: a collapsed animal goes to the veterinarian whatever else is found."""
    assert flags(general=state)[0].level == "vet now"


def test_an_absent_sign_raises_no_flag() -> None:
    """Severity 0 is absent."""
    assert flags(SignSeen("tremor", severity=0)) == ()


@given(st.lists(st.sampled_from(SIGNS), unique=True, max_size=6), st.integers(1, 3))
def test_vet_now_comes_first(signs: list[str], severity: int) -> None:
    """Whatever is found, the most urgent line stands on top, and no sign is lost."""
    found = flags(*(SignSeen(sign, severity=severity) for sign in signs))
    order = ["vet now", "within days", "watch"]

    assert [order.index(f.level) for f in found] == sorted(order.index(f.level) for f in found)
    assert {f.key for f in found} == set(signs)
