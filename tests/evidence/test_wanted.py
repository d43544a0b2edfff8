"""What an animal needs: limits first, then own rows, then borrowed ones."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.evidence.errors import UnknownKey
from baskwell.evidence.lookup import limits_for, uv_zone, wanted_environment

EVIDENCE = load_evidence()
TAXA = st.sampled_from(sorted(EVIDENCE.taxa))
PARAMETERS = st.sampled_from(sorted(EVIDENCE.parameters))
PROFILES = [taxon.taxon_id for taxon in EVIDENCE.taxa.values() if taxon.profile]


def test_the_ornate_box_turtle_is_active_from_24_to_32() -> None:
    """Environment README, conflict 1."""
    first = wanted_environment(EVIDENCE, "terrapene_ornata", "preferred_body_temperature_C")[0]
    assert (first.low, first.high, first.prior) == (24.0, 32.0, "measured")


@pytest.mark.parametrize("taxon_id", PROFILES)
def test_the_cautious_hot_spot_stands_first(taxon_id: str) -> None:
    """safety/limits.csv wins over every other table: its figures are those of the first row."""
    first = wanted_environment(EVIDENCE, taxon_id, "basking_surface_C")[0]
    high = EVIDENCE.limits[f"hot_{taxon_id}_high"].value
    low = EVIDENCE.limits.get(f"hot_{taxon_id}_low")
    assert first.high == high
    assert first.grade == "judgement"
    assert low is None or first.low == low.value


@given(TAXA)
def test_no_hot_spot_row_reaches_an_alarm(taxon_id: str) -> None:
    """A row above the alarm of a limit is kept for display, never used."""
    alarms = [limit.value for limit in limits_for(EVIDENCE, taxon_id, "hot_spot", "alarm") if limit.value]
    rows = wanted_environment(EVIDENCE, taxon_id, "basking_surface_C")
    own = [row.high for row in rows if row.relation == "own" and row.high is not None]
    assert not alarms or all(high <= min(alarms) for high in own)


@given(TAXA, PARAMETERS)
def test_class_values_never_stand_before_species_rows(taxon_id: str, parameter: str) -> None:
    """Environment README: rows of the class table were assigned by class; a species row beats them."""
    rows = [row for row in wanted_environment(EVIDENCE, taxon_id, parameter) if row.relation == "own"]
    priors = [row.prior for row in rows]
    assert "class" not in priors or priors.index("class") == len([p for p in priors if p != "class"])


@given(TAXA, PARAMETERS)
def test_borrowed_rows_are_marked_and_come_last(taxon_id: str, parameter: str) -> None:
    """Own rows first; whoever is borrowed from is named."""
    rows = wanted_environment(EVIDENCE, taxon_id, parameter)
    relations = [row.relation for row in rows]
    assert relations == sorted(relations, key=lambda relation: relation not in ("own", "named"))
    assert all(row.taxon_id != taxon_id for row in rows if row.relation not in ("own",))


@given(TAXA, PARAMETERS)
def test_every_row_says_who_says_so(taxon_id: str, parameter: str) -> None:
    """Unit, grade, source and reason are there for every row, and ranges run upwards."""
    for row in wanted_environment(EVIDENCE, taxon_id, parameter):
        assert row.source_ids
        assert all(source in EVIDENCE.sources for source in row.source_ids)
        assert row.grade
        assert row.why
        assert row.unit or row.bound == "text"
        assert row.low is None or row.high is None or row.low <= row.high


def test_no_size_is_borrowed() -> None:
    """A marginated tortoise is not as large as a Hermann's."""
    assert wanted_environment(EVIDENCE, "testudo_marginata", "adult_mass_g") == ()


def test_heat_is_not_borrowed_where_it_would_harm() -> None:
    """A tortoise of cool hills does not get the heat of a red-footed one (judgement in taxon_names)."""
    assert wanted_environment(EVIDENCE, "manouria_emys", "warm_side_C") == ()
    assert wanted_environment(EVIDENCE, "manouria_emys", "relative_humidity_pct")[0].relation == "same_habit"


def test_a_higher_name_gets_the_rows_of_its_members() -> None:
    """An animal known only as a Testudo gets what the three profiled species need."""
    rows = wanted_environment(EVIDENCE, "testudo", "cool_side_C")
    assert {row.taxon_id for row in rows} == {"testudo_hermanni", "testudo_graeca", "testudo_horsfieldii"}
    assert {row.relation for row in rows} == {"member"}


@pytest.mark.parametrize(
    ("taxon_id", "zone", "ceiling"),
    [
        # zones of species_environment.csv by the rule uv_span of limits.csv; ceilings of limits.csv
        ("terrapene_ornata", 2, 2.5),
        ("python_regius", 1, 1.4),
        ("pogona_vitticeps", 3, 5.0),
        ("centrochelys_sulcata", 3, 5.0),
        ("correlophus_ciliatus", 1, 1.4),
    ],
)
def test_a_span_of_zones_takes_the_lower_and_its_ceiling(taxon_id: str, zone: int, ceiling: float) -> None:
    """limits.csv: a seven-fold span is no ceiling."""
    assert uv_zone(EVIDENCE, taxon_id) == zone
    assert wanted_environment(EVIDENCE, taxon_id, "uv_index_basking")[0].high == ceiling


@given(TAXA, st.sampled_from(sorted({limit.topic for limit in EVIDENCE.limits.values()})))
def test_the_strictest_limit_comes_first(taxon_id: str, topic: str) -> None:
    """Of the warnings and blocks of a topic and unit the first is the lowest."""
    for kind in ("warn", "block", "alarm"):
        found = limits_for(EVIDENCE, taxon_id, topic, kind)
        values = [limit.value for limit in found if limit.value is not None]
        assert values == sorted(values)


def test_herbivores_need_no_retinol_added() -> None:
    """limits.csv: va_daily_warn is zero for tortoises and plant eaters, va_daily_warn_other for the rest."""
    tortoise = [limit.limit_id for limit in limits_for(EVIDENCE, "testudo_graeca", "vitamin_a", "warn")]
    gecko = [limit.limit_id for limit in limits_for(EVIDENCE, "eublepharis_macularius", "vitamin_a", "warn")]
    assert "va_daily_warn" in tortoise
    assert "va_daily_warn_other" not in tortoise
    assert "va_daily_warn_other" in gecko


def test_unknown_words_are_told_with_the_nearest() -> None:
    """A parameter that does not exist is answered with those that do."""
    with pytest.raises(UnknownKey, match="basking_surface_C"):
        wanted_environment(EVIDENCE, "terrapene_ornata", "basking_surface")
