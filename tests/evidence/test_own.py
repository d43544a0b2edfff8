"""Tables that users keep themselves."""

from pathlib import Path

import pytest

from baskwell.evidence import load_evidence
from baskwell.evidence.errors import OwnTablesError
from baskwell.evidence.lookup import wanted_environment, wanted_nutrient

TAXON = "taxon_id,scientific_name,common_names,rank,clade,family,genus,tags,profile\n"
SKINK = "tiliqua_gigas,Tiliqua gigas,blue-tongue,species,lizard,Scincidae,Tiliqua,omnivorous;terrestrial,n\n"


def _write(folder: Path, name: str, text: str) -> Path:
    (folder / name).write_text(text, encoding="utf-8")
    return folder


def test_an_own_species_is_found_with_its_rows_and_its_trophic_group(tmp_path: Path) -> None:
    """Two small files are enough; grade and source say whose rows they are."""
    _write(tmp_path, "taxa.csv", TAXON + SKINK)
    _write(
        tmp_path,
        "species_environment.csv",
        "taxon_id,parameter,low,high,unit\ntiliqua_gigas,relative_humidity_pct,60,80,%\n",
    )
    evidence = load_evidence(tmp_path)
    first = wanted_environment(evidence, "tiliqua_gigas", "relative_humidity_pct")[0]
    assert (first.low, first.high, first.grade, first.source_ids) == (60.0, 80.0, "own", ("OWN",))
    found = wanted_nutrient(evidence, "tiliqua_gigas", "calcium")
    assert found is not None
    assert found.row.taxon_or_group == "group:omnivore"


def test_own_rows_change_the_version(tmp_path: Path) -> None:
    """A review made with own rows can be told from one without."""
    _write(tmp_path, "taxa.csv", TAXON + SKINK)
    assert load_evidence(tmp_path).version != load_evidence().version


def test_an_own_row_never_passes_a_safety_limit(tmp_path: Path) -> None:
    """An own hot spot of 50 C for a bearded dragon is refused: it lies above the alarm of limits.csv."""
    text = "taxon_id,parameter,low,high,unit\npogona_vitticeps,basking_surface_C,45,50,degC\n"
    with pytest.raises(OwnTablesError, match="above the alarm"):
        load_evidence(_write(tmp_path, "species_environment.csv", text))


def test_an_own_row_stands_behind_the_limit(tmp_path: Path) -> None:
    """An own row under the alarm is shown, the cautious default still stands first."""
    text = "taxon_id,parameter,low,high,unit\npogona_vitticeps,basking_surface_C,36,41,degC\n"
    rows = wanted_environment(
        load_evidence(_write(tmp_path, "species_environment.csv", text)),
        "pogona_vitticeps",
        "basking_surface_C",
    )
    assert rows[0].keys == ("hot_pogona_vitticeps_low", "hot_pogona_vitticeps_high")
    assert rows[-1].grade == "own"


def test_limits_are_not_among_the_own_tables(tmp_path: Path) -> None:
    """Nobody overrides safety by a file."""
    with pytest.raises(OwnTablesError, match=r"limits.csv.*Files that are read: taxa.csv"):
        load_evidence(_write(tmp_path, "limits.csv", "limit_id\nx\n"))


def test_a_clash_of_ids_is_refused_unless_it_replaces(tmp_path: Path) -> None:
    """A food of the same id is either a slip or meant: the column says which."""
    text = "food_id,name,group,calcium_mg\ncollard_greens,Garden collards,leafy_green,240\n"
    with pytest.raises(OwnTablesError, match=r"id of a shipped row.*replaces"):
        load_evidence(_write(tmp_path, "foods.csv", text))


def test_a_replaced_row_keeps_what_it_leaves_out(tmp_path: Path) -> None:
    """Only the cells that are written change."""
    text = "food_id,calcium_mg,replaces\ncollard_greens,240,y\n"
    own = load_evidence(_write(tmp_path, "foods.csv", text)).foods["collard_greens"]
    shipped = load_evidence().foods["collard_greens"]
    assert own.calcium_mg == 240.0
    assert (own.phosphorus_mg, own.name, own.quality) == (shipped.phosphorus_mg, shipped.name, "own")


def test_all_faults_of_own_tables_come_at_once(tmp_path: Path) -> None:
    """Two faults, two sentences, with file and line."""
    text = "food_id,name,group,calcium_mg,water_g\nx1,One,leafy_green,wet,90\nx2,Two,leafy_green,10,140\n"
    with pytest.raises(OwnTablesError) as caught:
        load_evidence(_write(tmp_path, "foods.csv", text))
    first = [sentence for sentence in caught.value.sentences if "line 2" in sentence]
    assert first
    assert "'wet' is not a number" in first[0]


def test_a_column_that_does_not_exist_is_named(tmp_path: Path) -> None:
    """The known columns are listed."""
    with pytest.raises(OwnTablesError, match=r"calcium_g.*not a column.*calcium_mg"):
        load_evidence(_write(tmp_path, "foods.csv", "food_id,name,group,calcium_g\nx,X,leafy_green,1\n"))


def test_an_own_source_can_be_named(tmp_path: Path) -> None:
    """Who measured something cites it."""
    _write(tmp_path, "sources.csv", "source_id,citation,how_read\nMETER26,Own meter readings,measured\n")
    text = "food_id,name,group,calcium_mg,source_id\nx,Garden weed,leafy_green,100,METER26\n"
    evidence = load_evidence(_write(tmp_path, "foods.csv", text))
    assert evidence.sources[evidence.foods["x"].source_id].citation == "Own meter readings"


def test_a_missing_folder_is_told(tmp_path: Path) -> None:
    """The sentence names the folder."""
    with pytest.raises(OwnTablesError, match=r"nowhere.*is not a folder"):
        load_evidence(tmp_path / "nowhere")
