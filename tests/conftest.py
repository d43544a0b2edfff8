"""What tests of several floors share: one hand-made review of an invented animal.

Its numbers are made up for the drawing (design/looks), so that renderers can be built and checked
without the calculation; nothing in it is a result.
"""

import os
from dataclasses import replace

import pytest
from hypothesis import settings

from baskwell.science.causes.ranking import Cause, Fault, Flag, JointSet, Question, Ranking, Reason
from baskwell.science.draws import Against, Summary
from baskwell.science.history.finding import Finding, Topic, Wanted, judge
from baskwell.science.history.label import IngredientShare, LabelReading, NutrientReading
from baskwell.science.review import CAUTION, Review
from baskwell.science.telling import SignLine

# CI judges a change by the same examples each time; people's runs go on looking for new ones.
settings.register_profile("fixed", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("fixed")

BOOK = "invented handbook, table 4"


def _finding(
    finding_id: str,
    topic: Topic,
    name: str,
    unit: str,
    wanted: tuple[float | None, float | None],
    got: tuple[float, float, float],
    chances: tuple[float, float, float],
    sentence: str,
) -> Finding:
    against = Against(*chances)
    return Finding(
        finding_id,
        topic,
        name,
        unit,
        Wanted(*wanted, said_by=BOOK, grade="judgement", evidence_ids=("limit_1",)),
        Summary(*got),
        against,
        judge(against),
        sentence,
    )


def _fed() -> tuple[Finding, ...]:
    return (
        _finding(
            "retinol_iu_per_kg_dm",
            "diet",
            "vitamin A from animal food",
            "IU/kg dry matter",
            (5000, 10000),
            (900, 300, 2800),
            (0.96, 0.04, 0.0),
            "Fruit and iceberg lettuce hold no retinol; the cat food gave what there was.",
        ),
        _finding(
            "ca_p_ratio",
            "diet",
            "calcium to phosphorus",
            "to 1",
            (1.5, 2.0),
            (0.9, 0.62, 1.41),
            (0.91, 0.08, 0.01),
            "Meat and grain carry phosphorus without calcium.",
        ),
        _finding(
            "crude_protein_pct_dm",
            "diet",
            "protein",
            "% of dry matter",
            (20, 25),
            (21.3, 17.2, 26.1),
            (0.30, 0.58, 0.12),
            "Protein was near what is wanted.",
        ),
    )


def _housed() -> tuple[Finding, ...]:
    return (
        _finding(
            "warm_side_c",
            "heat",
            "warm side",
            "°C",
            (26, 30),
            (29, 27.6, 30.4),
            (0.0, 0.92, 0.08),
            "The warm side fits.",
        ),
        _finding(
            "floor_area_m2",
            "space",
            "floor area",
            "m²",
            (0.9, None),
            (0.405, 0.405, 0.405),
            (1.0, 0.0, 0.0),
            "The floor is less than half of what one adult needs.",
        ),
        Finding(
            "uv_index_at_back",
            "light",
            "UV index at the back",
            "UV index",
            Wanted(0.7, 2.6, BOOK, "B"),
            None,
            None,
            "not known",
            "The lamp's age is not known, so what it still gave is not known.",
            "How old is the UV lamp?",
        ),
    )


def _reasons() -> tuple[tuple[Reason, ...], tuple[Reason, ...]]:
    return (
        (
            Reason("sign", "eyelid_swelling", "swollen eyelids are seen in most animals with it", 1.9, BOOK),
            Reason("exposure", "diet_low_vitamin_a", "the diet held almost no retinol", 1.4, BOOK),
        ),
        (Reason("absent sign", "nasal_discharge", "no discharge from the nose", -0.4, BOOK),),
    )


def _cause(
    condition_id: str, name: str, posterior: Summary, explains: Summary, first: float, ranks: tuple[int, int]
) -> Cause:
    for_it, against_it = _reasons()
    return Cause(
        condition_id,
        name,
        "nutritional",
        0.08,
        posterior,
        explains,
        first,
        *ranks,
        for_it,
        against_it,
        ("liver retinol measured by a laboratory", "two weeks on the right diet"),
        "keeper with vet",
        "n",
        "n",
    )


def _questions() -> tuple[Question, ...]:
    return (
        Question(
            "lamp_age",
            "exposure",
            "How old is the UV lamp?",
            "Old lamps still shine but give little UV.",
            0.41,
            0.18,
            1.0,
            0.41,
            (
                ("under a year", "bone disease falls to about 2 in 20"),
                ("over a year", "bone disease rises to about 9 in 20"),
                ("not known", "nothing changes"),
            ),
        ),
        Question(
            "shell_soft",
            "sign",
            "Press the edge of the shell: does it give?",
            "Soft shell is a mark of bone disease.",
            0.2,
            0.1,
            2.0,
            0.1,
            (("yes", "bone disease rises to about 14 in 20"), ("no", "it falls to about 1 in 20")),
        ),
    )


def _causes() -> tuple[Cause, ...]:
    return (
        _cause(
            "hypovitaminosis_a",
            "too little vitamin A",
            Summary(0.72, 0.65, 0.8),
            Summary(2.1, 1.7, 2.6),
            0.93,
            (1, 1),
        ),
        _cause(
            "beak_unworn",
            "beak not worn down",
            Summary(0.47, 0.4, 0.55),
            Summary(0.9, 0.7, 1.1),
            0.06,
            (2, 2),
        ),
        _cause(
            "nshp",
            "bone disease (calcium, UV)",
            Summary(0.22, 0.13, 0.37),
            Summary(0.3, 0.1, 0.6),
            0.01,
            (3, 4),
        ),
        _cause("nematodes", "worms", Summary(0.3, 0.2, 0.4), Summary(0.05, 0.0, 0.1), 0.0, (4, 3)),
    )


def _faults() -> tuple[Fault, ...]:
    return (
        Fault(
            "diet_low_vitamin_a",
            "diet without usable vitamin A",
            0.96,
            1.8,
            "known",
            "vitamin A from animal food was 900 IU/kg",
            ("too little vitamin A",),
        ),
        Fault(
            "old_uv_lamp",
            "UV lamp too old",
            0.5,
            0.2,
            "unknown",
            "nothing was said",
            ("bone disease (calcium, UV)",),
        ),
    )


def _ranking() -> Ranking:
    return Ranking(
        causes=_causes(),
        remainder=Summary(0.06, 0.02, 0.12),
        joint_sets=(
            JointSet(
                ("hypovitaminosis_a", "beak_unworn"), ("too little vitamin A", "beak not worn down"), 0.31
            ),
            JointSet(("hypovitaminosis_a",), ("too little vitamin A",), 0.22),
        ),
        faults=_faults(),
        questions=_questions(),
        signs_present=("beak_overgrown", "eyelid_swelling", "anorexia"),
        signs_absent=("nasal_discharge", "shell_soft"),
        signs_not_examined=41,
        signs_set_aside=("sudden_death_group",),
        method="exact",
        notes=("Signs that many healthy animals show count little.",),
    )


def _label() -> LabelReading:
    return LabelReading(
        "cereal_pellet",
        (
            IngredientShare("ground wheat", "wheat_ground", Summary(0.42, 0.3, 0.6), ""),
            IngredientShare("vitamin premix", "", Summary(0.01, 0.0, 0.03), "not a known ingredient: wide"),
        ),
        (
            NutrientReading(
                "calcium_pct_dm", "calcium", "% of dry matter", 0.1, 0.9, Summary(0.3, 0.2, 0.6), ""
            ),
            NutrientReading(
                "retinol_iu_per_kg_dm",
                "vitamin A",
                "IU/kg dry matter",
                None,
                None,
                None,
                "only the premix holds it",
            ),
        ),
        ("The fibre maximum of 6 % cannot be met by these ingredients: 7.1 % is the least.",),
        ("vitamin A: the premix is not given in amounts",),
        1480.0,
        1.004,
    )


def _signs() -> tuple[SignLine, ...]:
    return (
        SignLine(
            "beak_overgrown",
            "beak overgrown",
            3,
            "drops food",
            "6.2 mm past the lower edge, for 200 days",
            "within days",
        ),
        SignLine(
            "eyelid_swelling", "upper eyelids swollen", 2, "eye half closed", "both sides", "within days"
        ),
        SignLine("anorexia", "does not eat", None, "", "", "watch"),
    )


@pytest.fixture
def sample_review() -> Review:
    """One review with everything in it: flags, labels, a second pass, gaps."""
    ranking = _ranking()
    return Review(
        who="Teasel, eastern box turtle (Terrapene carolina), female, about 9 years, 395 g, shell 121 mm",
        headline="Diet without usable vitamin A is the likeliest cause; the lamp is the open question.",
        flags=(
            Flag("vet now", "eyelid_swelling", "Both eyes are shut: it cannot see food or water.", BOOK),
            Flag("within days", "anorexia", "It has not eaten for three weeks.", BOOK),
        ),
        signs=_signs(),
        findings=(*_fed(), *_housed()),
        labels=(_label(),),
        ranking=ranking,
        ranking_with_tests=replace(ranking, causes=ranking.causes[:2], notes=("faecal flotation negative",)),
        gaps=("The climate log named in the file was not given, so nights are as told.",),
        caution=CAUTION,
        seed=1,
        n_draws=4000,
        code_version="0.1.0",
        evidence_version="0.1.0+abc",
    )


@pytest.fixture
def bare_review(sample_review: Review) -> Review:
    """A review of a case that says next to nothing: every list is empty."""
    empty = Ranking((), Summary(1.0, 1.0, 1.0), (), (), (), (), (), 96, (), "exact", ())
    return replace(
        sample_review,
        who="an animal of an unnamed kind",
        headline="Nothing was found that needs explaining.",
        flags=(),
        signs=(),
        findings=(),
        labels=(),
        ranking=empty,
        ranking_with_tests=None,
        gaps=(),
    )
