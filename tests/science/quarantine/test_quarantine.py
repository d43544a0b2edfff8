"""Every criterion is met, not met or not known; unknown is never met."""

import datetime as dt
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.science.case.model import (
    Animal,
    Case,
    Days,
    DoseGiven,
    Exam,
    Faeces,
    Meal,
    SignSeen,
    TestResult,
    Weight,
)
from baskwell.science.case.span import Span
from baskwell.science.quarantine import Freedom, Gate, Quarantine, judge_quarantine
from baskwell.science.quarantine.tested import read_tested

EVIDENCE = load_evidence()
CAME = dt.date(2026, 1, 1)
NOW = dt.datetime(2026, 8, 1, 12, 0)
ARE = Span.exactly


def judged(case: Case, now: dt.datetime = NOW, newcomers: tuple[dt.date, ...] | None = ()) -> Quarantine:
    """A judgement with a fixed generator."""
    return judge_quarantine(case, EVIDENCE, now, np.random.default_rng(7), newcomers, n_draws=1000)


def gate(case: Case, gate_id: str, now: dt.datetime = NOW) -> Gate:
    """One gate of a case."""
    return next(g for g in judged(case, now).gates if g.gate_id == gate_id)


def freed(case: Case, condition_id: str) -> Freedom:
    """Freedom of a case from one agent."""
    return next(f for f in judged(case).freedom if f.condition_id == condition_id)


def before(days: float) -> dt.datetime:
    """So many days before now."""
    return NOW - dt.timedelta(days=days)


def faecal(days_after: float | None, result: str = "negative") -> TestResult:
    """A faecal test so many days after the examination."""
    return TestResult("faecal_flotation", result, None if days_after is None else ARE(days_after))


def with_tests(*tests: TestResult, taxon: str = "pogona_vitticeps") -> Case:
    """An animal that came in January with these tests."""
    return Case(Animal(taxon), exam=Exam(date=CAME, reason="intake", tests=tests))


def ready() -> Case:
    """A bearded dragon that meets every criterion, examined shortly before now."""
    late = NOW.date() - dt.timedelta(days=3)
    tests = tuple(faecal(-20.0 * k) for k in range(12))
    vet = TestResult("vet_examination", "no findings", ARE(0))
    exam = Exam(date=late, reason="check", examined=("all",), tests=(*tests, vet))
    days = Days(
        weights=tuple(Weight(before(d), ARE(400.0 - d / 10)) for d in (27, 20, 13, 6, 1)),
        meals=tuple(Meal(before(d), offered_g=ARE(10), left_g=ARE(1)) for d in (200, 16, 9, 4, 1)),
        faeces=tuple(Faeces(before(d), score=3) for d in (9, 6, 2)),
    )
    return Case(Animal("pogona_vitticeps", mass_g=ARE(400)), exam=exam, days=days)


def test_an_animal_with_everything_on_record_may_leave() -> None:
    """All criteria of quarantine.csv (clear_1 to clear_9) are on record."""
    told = judged(ready())

    assert told.may_leave, told.sentence
    assert {g.state for g in told.gates} == {"met"}
    assert all(not g.would_meet for g in told.gates)


def test_nothing_known_is_nowhere_met() -> None:
    """A case of a taxon alone meets nothing and says what would."""
    told = judged(Case(Animal("pogona_vitticeps")), newcomers=None)

    assert {g.state for g in told.gates} == {"not known"}
    assert all(g.would_meet and g.said_by for g in told.gates)
    assert not told.may_leave


@pytest.mark.parametrize(
    ("taxon", "days", "fact"),
    [
        ("pogona_vitticeps", 90, "dur_common"),
        ("testudo_graeca", 180, "dur_tortoise"),
        ("python_regius", 180, "dur_boa"),
    ],
)
def test_days_needed_by_taxon(taxon: str, days: int, fact: str) -> None:
    """Expected: the longest duration of clinical/quarantine.csv that covers the animal."""
    short, enough = (
        gate(with_tests(taxon=taxon), "days", dt.datetime.combine(CAME, dt.time(12)) + dt.timedelta(days=d))
        for d in (days - 1, days)
    )

    assert (short.state, enough.state, short.fact_id) == ("not met", "met", fact)
    assert short.would_meet.startswith("1 day more")


def test_without_a_day_of_arrival_records_give_the_least() -> None:
    """A first weight 30 days ago: it may have been here longer, so nothing is met and nothing denied."""
    case = Case(Animal("pogona_vitticeps"), days=Days(weights=(Weight(before(30), ARE(400)),)))

    assert gate(case, "days").state == "not known"
    assert "At least 30 days" in gate(case, "days").sentence


def test_a_newcomer_restarts_the_clock() -> None:
    """Any new arrival restarts the clock for the whole class (quarantine.csv, dur_restart; AZA2007)."""
    told = judged(ready(), newcomers=(NOW.date() - dt.timedelta(days=10),))

    assert next(g for g in told.gates if g.gate_id == "newcomers").state == "not met"
    assert not told.may_leave


@pytest.mark.parametrize(
    ("part", "state"),
    [
        ({"meals": (Meal(before(2), offered_g=ARE(10), left_g=ARE(9)),)}, "not met"),
        ({"meals": (Meal(before(2), offered_g=ARE(10)),)}, "not known"),
        ({"meals": ()}, "not known"),
    ],
)
def test_meals(part: dict[str, tuple[Meal, ...]], state: str) -> None:
    """Refused is not met; not weighed is not known."""
    case = ready()
    assert gate(replace(case, days=replace(case.days, **part)), "meals").state == state  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("scores", "state"),
    [((3, 3, 3), "met"), ((3, 1, 3), "not met"), ((3, None, 3), "not known"), ((3,), "not known")],
)
def test_faeces(scores: tuple[int | None, ...], state: str) -> None:
    """Formed (score 3 of the case file) three times in a row (clear_3)."""
    faeces = tuple(Faeces(before(9 - 2 * k), score=s) for k, s in enumerate(scores))
    assert gate(replace(ready(), days=Days(faeces=faeces)), "faeces").state == state


@pytest.mark.parametrize(
    ("grams", "state"),
    [
        ((400, 401, 399, 402), "met"),
        ((400, 395, 391, 386), "not met"),
        ((400, 400, 400, 370), "not met"),
        ((400, 400), "not known"),
    ],
)
def test_weight(grams: tuple[float, ...], state: str) -> None:
    """A steady fall, and a loss over 5 % in 7 days (body_condition.csv, alarm_week), are not met."""
    case = ready()
    weights = tuple(Weight(before(22 - 7 * k), ARE(g)) for k, g in enumerate(grams))
    assert gate(replace(case, days=replace(case.days, weights=weights)), "weight").state == state


def test_weight_is_not_met_on_thinness_nobody_looked_for() -> None:
    """Not below the alarm line (clear_4): whether it is thin must have been examined."""
    case = ready()
    assert gate(replace(case, exam=replace(case.exam, examined=())), "weight").state == "not known"


def test_signs() -> None:
    """A wound keeps it here; an old examination says nothing of today (clear_8)."""
    case = ready()
    wounded = replace(case.exam, signs=(SignSeen("wound", severity=1),))
    old = replace(case.exam, date=CAME)

    assert gate(replace(case, exam=wounded), "signs").state == "not met"
    assert gate(replace(case, exam=old), "signs").state == "not known"
    assert gate(replace(case, exam=replace(case.exam, examined=("eye",))), "signs").state == "not known"


@pytest.mark.parametrize(("result", "state"), [("not fit", "not met"), ("seen", "not known"), ("fit", "met")])
def test_veterinarian(result: str, state: str) -> None:
    """Only a result that says so is a sign-off."""
    case = ready()
    exam = replace(case.exam, tests=(TestResult("vet_examination", result, ARE(0)),))
    assert gate(replace(case, exam=exam), "vet").state == state


def test_three_faecals_two_weeks_apart() -> None:
    """Three negative faecals at least 14 days apart (clear_5): closer ones are one, a finding starts anew."""
    states = [
        gate(with_tests(*tests), "faecal").state
        for tests in (
            (faecal(0), faecal(14), faecal(28)),
            (faecal(0), faecal(7), faecal(14)),
            (faecal(0), faecal(14, "oxyurids 2+"), faecal(28)),
            (faecal(None), faecal(None), faecal(None)),
            (faecal(0, "pending"),),
        )
    ]
    assert states == ["met", "not met", "not met", "not met", "not known"]


def test_the_last_faecal_lies_two_weeks_after_a_treatment() -> None:
    """The last one 14+ days after treatment (clear_5); a drug on an unknown day leaves it open."""
    case = with_tests(faecal(0), faecal(14), faecal(28))
    near = Days(doses=(DoseGiven(dt.datetime(2026, 1, 20), "fenbendazole"),))
    undated = Days(doses=(DoseGiven(None, "fenbendazole"),))
    vitamin = Days(doses=(DoseGiven(dt.datetime(2026, 1, 20), "vitamin_a"),))

    assert [gate(replace(case, days=d), "faecal").state for d in (near, undated, vitamin)] == [
        "not met",
        "not known",
        "met",
    ]


def test_a_tortoise_needs_two_tests_eight_weeks_apart() -> None:
    """PCR at entry and again 8+ weeks later (clear_6)."""

    def tests(days: int) -> Case:
        names = ("pcr_mycoplasma", "pcr_herpesvirus")
        results = [TestResult(n, "negative", ARE(d)) for n in names for d in (0, days)]
        return with_tests(*results, taxon="testudo_graeca")

    assert [gate(tests(d), "agents").state for d in (30, 56)] == ["not met", "met"]
    assert gate(with_tests(taxon="testudo_graeca"), "agents").state == "not known"


def test_negatives_count_for_the_agents_the_test_can_find() -> None:
    """A plain flotation says nothing of Cryptosporidium (freedom_tests.csv); an acid-fast stain does."""
    plain, stain = faecal(0), TestResult("faecal_acid_fast", "negative", ARE(0))
    cases = [with_tests(test, taxon="eublepharis_macularius") for test in (plain, stain)]

    assert [freed(case, "cryptosporidiosis").negatives for case in cases] == [0, 1]
    assert [freed(case, "nematodes").negatives for case in cases] == [1, 0]


@pytest.mark.parametrize(
    ("result", "state", "negatives"),
    [
        ("oxyurids 2+, otherwise negative", "not met", 0),
        ("no nematodes, few flagellates", "not met", 1),
        ("negative", "not met", 1),
        ("pending", "not known", 0),
    ],
)
def test_results_are_read_clause_by_clause(result: str, state: str, negatives: int) -> None:
    """What was found stays found; what is not said is not counted."""
    told = freed(with_tests(faecal(0, result)), "nematodes")
    assert (told.state, told.negatives) == (state, negatives)


def test_something_found_without_a_name_is_asked_for() -> None:
    """A bare positive faecal is neither negative nor any one parasite."""
    told = judged(with_tests(faecal(0, "positive")))

    assert any("not what" in gap for gap in told.gaps)
    assert next(g for g in told.gates if g.gate_id == "faecal").state == "not met"


def test_no_number_is_told_where_none_is_published() -> None:
    """Ranavirus swabs were all negative where tail clips were not (GOODMAN2013): no sensitivity is stated."""
    told = freed(with_tests(taxon="testudo_graeca"), "ranavirus")
    assert told.infected is None
    assert told.more_tests is None


def test_more_tests_needed_is_the_fewest() -> None:
    """After so many further tests the limit is met, after one fewer it is not."""
    more = freed(with_tests(), "nematodes").more_tests
    assert more is not None
    done = [with_tests(*(faecal(14.0 * k) for k in range(n))) for n in (more - 1, more)]
    assert [freed(case, "nematodes").state == "met" for case in done] == [False, True]


@settings(deadline=None, max_examples=25)
@given(st.lists(st.integers(0, 150), max_size=8), st.integers(0, 150), st.booleans())
def test_a_further_negative_test_never_raises_infection(days: list[int], further: int, dated: bool) -> None:
    """In the median and in both ends, whatever its day."""
    some = with_tests(*(faecal(d) for d in days))
    more = with_tests(*(faecal(d) for d in days), faecal(further if dated else None))
    for condition in ("nematodes", "flagellates", "coccidia"):
        one, other = freed(some, condition).infected, freed(more, condition).infected
        assert one is not None
        assert other is not None
        assert (other.low, other.median, other.high) <= (
            one.low + 1e-12,
            one.median + 1e-12,
            one.high + 1e-12,
        )


@settings(deadline=None, max_examples=25)
@given(
    st.sampled_from(["tests", "signs_examined", "weights", "meals", "faeces", "date", "newcomers"]),
)
def test_taking_knowledge_away_never_lets_it_leave(what: str) -> None:
    """Unknown is never met: an animal that may leave stays when any part of the record is missing."""
    case = ready()
    if what in ("weights", "meals", "faeces"):
        case = replace(case, days=replace(case.days, **{what: ()}))  # type: ignore[arg-type]
    changed = {"tests": {"tests": ()}, "signs_examined": {"examined": ()}, "date": {"date": None}}.get(what)
    if changed is not None:
        case = replace(case, exam=replace(case.exam, **changed))  # type: ignore[arg-type]
    assert not judged(case, newcomers=None if what == "newcomers" else ()).may_leave


def test_records_after_now_are_told_and_left_out() -> None:
    """Times out of order lose nothing and count for nothing."""
    told = judged(ready(), now=NOW - dt.timedelta(days=10))
    assert any("left out" in gap for gap in told.gaps)
    assert not told.may_leave


def test_practice_comes_from_the_evidence() -> None:
    """Separate air, tools and order of work, each with its row; salmonella for people."""
    told = {p.fact_id: p for p in judged(with_tests()).practice}

    assert {"airspace", "equip", "order_work", "gloves_hands", "sal_assume"} <= set(told)
    assert told["order_work"].sentence.startswith("1 eggs/hatchlings")
    assert "species_mix" not in told  # chelonians only


@pytest.mark.parametrize("taxon", sorted(EVIDENCE.taxa))
def test_every_taxon_is_judged(taxon: str) -> None:
    """Higher names too; priors lie in order and every line has a source."""
    told = judged(Case(Animal(taxon)), newcomers=None)

    assert not told.may_leave
    assert all(0 <= f.before.low <= f.before.median <= f.before.high <= 1 and f.said_by for f in told.freedom)
    assert all(p.sentence and p.said_by for p in told.practice)


@given(st.text(max_size=40), st.text(max_size=40))
def test_whatever_a_laboratory_writes_is_read_or_told(name: str, result: str) -> None:
    """No text of a test stops the judgement."""
    told = read_tested(with_tests(TestResult(name, result, ARE(0))), EVIDENCE, NOW)
    assert all(o.words == result for o in told.outcomes)


@pytest.mark.parametrize(
    "result", ["", "pending", "not done", "unclear", "sample lost", "negative?? inconclusive"]
)
def test_an_unclear_result_is_never_a_negative(result: str) -> None:
    """Unknown is never fine: it is told and not counted."""
    told = read_tested(with_tests(faecal(0, result)), EVIDENCE, NOW)

    assert not told.outcomes
    assert len(told.gaps) == 1


def test_a_treatable_parasite_can_be_cleared_and_a_virus_cannot() -> None:
    """After a finding negatives count from anew (judged prior); herpesvirus stays for life (clear_6)."""
    worms = [faecal(0, "pinworms 3+"), *(faecal(20 + 14.0 * k) for k in range(9))]
    virus = [
        TestResult("pcr_herpesvirus", r, ARE(d))
        for r, d in (("positive", 0), ("negative", 60), ("negative", 150))
    ]

    assert freed(with_tests(*worms), "nematodes").state == "met"
    assert freed(with_tests(*virus, taxon="testudo_graeca"), "herpesvirus").state == "not met"
