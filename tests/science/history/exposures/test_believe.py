"""Beliefs about exposures: the table of rules, statements, verdicts, silence, and what holds for all."""

import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baskwell.evidence.loader import load_evidence
from baskwell.science.case.model import (
    Amount,
    Animal,
    Case,
    Contact,
    DietItem,
    Event,
    History,
    Light,
    Supplement,
    Surroundings,
    Treatment,
    WinterRest,
)
from baskwell.science.case.span import Span
from baskwell.science.history import exposures
from baskwell.science.history.belief import Exposure
from baskwell.science.history.care import reconstruct_care
from baskwell.science.history.exposures.rules import RULES

EVIDENCE = load_evidence()
IDS = sorted(RULES)
RULE_FILES = sorted(Path(exposures.__file__).parent.glob("*.py"))
N_DRAWS = 50


def believe(history: History, taxon: str = "testudo_hermanni", seed: int = 1) -> dict[str, Exposure]:
    """Beliefs about a case that has only a history."""
    case = Case(Animal(taxon=taxon), history)
    return {exposure.exposure_id: exposure for exposure in _all(case, N_DRAWS, seed)}


def _all(case: Case, n_draws: int, seed: int) -> tuple[Exposure, ...]:
    return reconstruct_care(case, EVIDENCE, np.random.default_rng(seed), n_draws).exposures


FACTS: dict[str, st.SearchStrategy[Any]] = {
    "wild_caught": st.booleans(),
    "source": st.sampled_from(["wild", "found", "breeder", "abandoned", "farm", "owner_surrender"]),
    "meals_per_week": st.integers(0, 14).map(lambda n: Span.exactly(float(n))),
    "fed_share_of_need": st.floats(0, 3).map(Span.exactly),
    "judged_good": st.sampled_from([("diet",), ("husbandry",), ("uv", "heat")]),
    "lights": st.lists(
        st.builds(
            Light,
            kind=st.sampled_from(sorted(EVIDENCE.lamps)),
            age_months=st.none() | st.integers(0, 40).map(lambda n: Span.exactly(float(n))),
            barrier=st.sampled_from([None, "none", "mesh", "glass"]),
            guarded=st.none() | st.booleans(),
            thermostat=st.none() | st.booleans(),
        ),
        min_size=1,
        max_size=3,
    ).map(tuple),
    "surroundings": st.builds(
        Surroundings,
        container=st.sampled_from([None, "tub", "pen", "pond", "terrarium"]),
        space=st.sampled_from([None, "small", "large"]),
        heated=st.none() | st.booleans(),
        outdoor=st.sampled_from([None, True, False, "part"]),
        moist_hide=st.none() | st.booleans(),
        water=st.sampled_from([None, "none", "dish", "pond"]),
        cleanliness=st.sampled_from([None, "clean", "dirty"]),
        substrate=st.sampled_from([(), ("sand",), ("bark", "paper_towel")]),
        relative_humidity_pct=st.sampled_from([None, "low", "high"]),
    ),
    "diet": st.lists(
        st.builds(
            DietItem,
            food=st.sampled_from(
                ["cricket_adult", "romaine", "apple", "cat_food_dry", "mouse_adult", "kale", "smelt", "fruit"]
            ),
            amount=st.none() | st.sampled_from(["mostly", "sometimes", "only"]).map(lambda w: Amount(word=w)),
            form=st.sampled_from([None, "fresh", "frozen"]),
            live=st.none() | st.booleans(),
            gut_loaded=st.none() | st.booleans(),
            presentation=st.sampled_from([None, "chopped", "whole"]),
            treated_with=st.sampled_from(["", "none", "ivermectin"]),
        ),
        min_size=1,
        max_size=3,
        unique_by=lambda item: item.food,
    ).map(tuple),
    "events": st.lists(
        st.builds(
            Event,
            kind=st.sampled_from(
                ["attack", "hook", "escape", "chilling", "chemical", "move", "burn", "swallowed"]
            ),
            weeks_before=st.none() | st.integers(0, 200).map(lambda n: Span.exactly(float(n))),
            detail=st.sampled_from(["", "dog, left leg", "a coin", "tank mate"]),
        ),
        min_size=1,
        max_size=2,
    ).map(tuple),
    "contact": st.builds(
        Contact,
        other_reptiles=st.none() | st.booleans(),
        species=st.sampled_from([(), ("trachemys_scripta",), ("testudo",), ("pogona_vitticeps",)]),
        number=st.none() | st.integers(0, 20),
        relation=st.sampled_from([None, "bullied", "peaceful"]),
        losses=st.sampled_from([None, True, False, 2]),
        others_ill=st.sampled_from([None, True, False, 1, 4]),
    ),
    "treatments": st.lists(
        st.builds(
            Treatment,
            agent=st.sampled_from(["vitamin_a", "ivermectin", "gentamicin", "unknown", "calcium"]),
            route=st.sampled_from([None, "injection", "oral"]),
            months_before=st.none() | st.integers(0, 24).map(lambda n: Span.exactly(float(n))),
        ),
        min_size=1,
        max_size=2,
    ).map(tuple),
    "supplements": st.lists(
        st.builds(
            Supplement,
            agent=st.sampled_from(["vitamin_a", "calcium_carbonate", "multivitamin"]),
            days_per_week=st.none() | st.integers(0, 7).map(lambda n: Span.exactly(float(n))),
        ),
        min_size=1,
        max_size=2,
    ).map(tuple),
    "winter_rest": st.builds(
        WinterRest,
        done=st.none() | st.booleans(),
        ended_weeks_before=st.none() | st.integers(0, 40).map(lambda n: Span.exactly(float(n))),
        lowest_c=st.none() | st.integers(-5, 10).map(lambda n: Span.exactly(float(n))),
    ).map(lambda rest: (rest,)),
}


def _agree(facts: dict[str, Any]) -> bool:
    """Not heated, and a heater listed: such facts cancel, so taking one away does tell more."""
    unheated = "surroundings" in facts and facts["surroundings"].heated is False
    heaters = [light for light in facts.get("lights", ()) if EVIDENCE.lamps[light.kind].gives_heat]
    return not (unheated and heaters)


told = st.fixed_dictionaries({}, optional=FACTS).filter(_agree)
kinds = st.sampled_from(sorted(EVIDENCE.taxa))
quick = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def test_every_exposure_of_the_evidence_has_a_rule_a_prior_and_a_question() -> None:
    """The three tables name the same exposures."""
    assert set(RULES) == {row.exposure_id for row in EVIDENCE.exposure_effects}
    assert set(RULES) == set(EVIDENCE.exposure_priors)


def test_every_exposure_is_believed_in_once() -> None:
    """One belief an exposure, with draws of the shape asked for."""
    case = Case(Animal(taxon="python_regius"))
    found = _all(case, 7, 0)
    assert [exposure.exposure_id for exposure in found] == list(RULES)
    assert {exposure.probability.shape for exposure in found} == {(7,)}


def test_priors_are_ordered_and_their_answers_are_paired_with_meanings() -> None:
    """Every question offers "not known", and an answer's meaning is a probability."""
    for row in EVIDENCE.exposure_priors.values():
        assert 0.0 <= row.low <= row.mode <= row.high <= 1.0, row.exposure_id
        assert len(row.answers) == len(row.answer_means), row.exposure_id
        assert "?" in row.answer_means, row.exposure_id
        assert all(0.0 <= float(mean) <= 1.0 for mean in row.answer_means if mean != "?"), row.exposure_id
        assert row.ask_owner or row.look, row.exposure_id


def test_no_judgement_is_left_unused_and_all_are_ordered() -> None:
    """A row that no rule reads would mislead the reader of the table."""
    texts = " ".join(path.read_text(encoding="utf-8") for path in RULE_FILES)
    patterns = [re.sub(r"\{[^}]*\}", ".+", found) for found in re.findall(r'"([\w{}.]+)"', texts)]
    for row in EVIDENCE.exposure_judgements.values():
        assert row.low <= row.mode <= row.high, row.judgement_id
        assert any(re.fullmatch(pattern, row.judgement_id) for pattern in patterns), row.judgement_id


def test_an_animal_of_which_only_the_kind_is_known_settles_only_what_the_kind_settles() -> None:
    """A Hermann's tortoise: a chelonian, no python, and nothing else."""
    beliefs = believe(History())
    known = {name for name, exposure in beliefs.items() if exposure.state == "known"}
    assert known == {"lizard_vs_chelonian", "chelonian_or_lizard", "python", "insect_diet"}


def test_a_statement_outweighs_what_the_rules_would_say() -> None:
    """The owner states a lack of UVB although a lamp is listed."""
    history = History(lights=(Light("mercury_vapour"),), stated_exposures=("no_uvb",))
    assert believe(history)["no_uvb"].mean == 1.0
    assert believe(History(lights=(Light("mercury_vapour"),)))["no_uvb"].mean == 0.0


def test_a_contradiction_is_no_knowledge() -> None:
    """Stated and denied at once is asked again."""
    belief = believe(History(stated_exposures=("cold",), denied_exposures=("cold",)))["cold"]
    assert belief.state == "unknown"
    assert "ask again" in belief.because


def test_judged_good_lowers_without_excluding_and_judged_poor_raises_mildly() -> None:
    """Odds move by about a quarter and by less than two (judgement rows), from the prior."""
    prior = believe(History())["cold"].mean
    good = believe(History(judged_good=("heat",)))["cold"]
    poor = believe(History(judged_poor=("heat",)))["cold"]
    assert 0.0 < good.mean < prior < poor.mean < 1.0
    assert good.state == poor.state == "known"
    assert (prior - good.mean) > (poor.mean - prior)


def test_a_verdict_moves_only_its_own_field() -> None:
    """The diet judged right says nothing of the lamp."""
    assert believe(History(judged_good=("diet",)))["no_uvb"].state == "unknown"


def test_the_nearer_verdict_counts_where_two_disagree() -> None:
    """Husbandry right, diet wrong: the diet is wrong."""
    history = History(judged_good=("husbandry",), judged_poor=("diet",))
    assert "diet was judged poor" in believe(history)["fruit_heavy"].because
    assert "husbandry was judged good" in believe(history)["cold"].because


def test_an_unknown_taxon_is_refused_in_a_sentence() -> None:
    """The sentence names the field and the value."""
    with pytest.raises(KeyError, match="dragon"):
        believe(History(), taxon="dragon")


@given(told, kinds, st.integers(0, 2**32))
@quick
def test_probabilities_lie_between_nought_and_one(facts: dict[str, Any], taxon: str, seed: int) -> None:
    """Whatever is told."""
    for exposure in believe(History(**facts), taxon, seed).values():
        assert exposure.probability.shape == (N_DRAWS,)
        assert np.all((exposure.probability >= 0.0) & (exposure.probability <= 1.0))
        assert exposure.because.endswith((".", "?"))


@given(told, st.sampled_from(IDS), kinds)
@quick
def test_stating_makes_one_and_denying_makes_nought(
    facts: dict[str, Any], exposure_id: str, taxon: str
) -> None:
    """Outright statements settle, whatever else is told."""
    stated = believe(History(**facts, stated_exposures=(exposure_id,)), taxon)[exposure_id]
    denied = believe(History(**facts, denied_exposures=(exposure_id,)), taxon)[exposure_id]
    assert (stated.mean, denied.mean) == (1.0, 0.0)
    assert stated.state == denied.state == "known"


@given(told, kinds, st.data())
@quick
def test_taking_a_fact_away_never_makes_known_what_was_unknown(
    facts: dict[str, Any], taxon: str, data: st.DataObject
) -> None:
    """Less told is never more known; and what the fact did not bear on keeps its draws."""
    gone = data.draw(st.sampled_from([*facts, None]))
    before = believe(History(**facts), taxon)
    after = believe(History(**{name: fact for name, fact in facts.items() if name != gone}), taxon)
    for name in IDS:
        assert (before[name].state, after[name].state) != ("unknown", "known"), name
        if before[name].state == after[name].state == "unknown":
            assert np.array_equal(before[name].probability, after[name].probability)


@given(kinds, st.integers(0, 2**32))
@quick
def test_the_unknown_carries_its_usual_share_and_no_finding(taxon: str, seed: int) -> None:
    """An unknown exposure is the prior of the table and rests on nothing."""
    for exposure in believe(History(), taxon, seed).values():
        if exposure.state == "unknown":
            row = EVIDENCE.exposure_priors[exposure.exposure_id]
            assert exposure.finding_ids == ()
            assert row.low <= exposure.probability.min() <= exposure.probability.max() <= row.high


@given(told, kinds, st.integers(0, 2**32))
@quick
def test_the_same_seed_gives_the_same_beliefs(facts: dict[str, Any], taxon: str, seed: int) -> None:
    """Draws are fixed by the generator alone."""
    once, again = believe(History(**facts), taxon, seed), believe(History(**facts), taxon, seed)
    assert all(np.array_equal(once[name].probability, again[name].probability) for name in IDS)
