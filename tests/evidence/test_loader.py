"""The loader: typed values, a version that names the data, errors that say where."""

import shutil
from pathlib import Path

import pytest

from baskwell import __version__
from baskwell.evidence import Evidence, load_evidence
from baskwell.evidence.errors import EvidenceError
from baskwell.evidence.package import DATA
from baskwell.evidence.reader import Reader
from baskwell.evidence.rows.clinical import FrequencyWord, Taxon


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the shipped tables that a test may break."""
    return Path(shutil.copytree(DATA, tmp_path / "data", ignore=shutil.ignore_patterns("raw")))


def test_the_shipped_tables_are_read_once() -> None:
    """Asking twice gives the same object."""
    assert load_evidence() is load_evidence()


def test_an_empty_cell_is_not_known_and_never_zero() -> None:
    """Nightcrawler retinol was never measured in what was read (foods README): None."""
    assert load_evidence().foods["earthworm_nightcrawler"].retinol_ug is None


def test_values_have_the_types_of_their_columns() -> None:
    """Numbers, flags, lists and words."""
    taxon = load_evidence().taxa["terrapene_ornata"]
    assert taxon.adult_mass_g_low == 300.0
    assert taxon.profile is True
    assert taxon.tags == ("omnivorous", "terrestrial", "diurnal", "box_turtle")


def test_every_table_can_be_read() -> None:
    """Tables that are read when first asked for are of their types as well."""
    evidence = load_evidence()
    lazy = [name for name, thing in vars(Evidence).items() if hasattr(thing, "func")]
    assert len(lazy) > 15
    assert all(getattr(evidence, name) is not None for name in lazy)


def test_the_version_is_the_package_version_and_a_digest() -> None:
    """Two loads of the same files agree; twelve hex digits follow the package version."""
    version, _, digest = load_evidence().version.partition("+")
    assert version == __version__
    assert len(digest) == 12
    assert digest == Reader().version.partition("+")[2]


def test_one_changed_cell_changes_the_version(copy: Path) -> None:
    """A review made with other data can be told apart."""
    path = copy / "clinical/word_map.csv"
    path.write_text(path.read_text(encoding="utf-8").replace("0.95,0.99", "0.95,0.98"), encoding="utf-8")
    assert Reader(copy).version != Reader().version


def test_a_bad_cell_is_named_with_file_line_and_column(copy: Path) -> None:
    """The error says where, which value, what is wrong and what to do."""
    path = copy / "clinical/word_map.csv"
    path.write_text(
        path.read_text(encoding="utf-8").replace("very_common,0.55", "very_common,half"), encoding="utf-8"
    )
    with pytest.raises(
        EvidenceError, match=r"clinical/word_map.csv, line 3, column p_low: 'half'.*plain number"
    ):
        Reader(copy).rows("clinical/word_map.csv", FrequencyWord)


def test_a_row_with_a_cell_too_many_is_named(copy: Path) -> None:
    """The usual slip, a comma without quotes, is guessed."""
    path = copy / "clinical/taxa.csv"
    path.write_text(path.read_text(encoding="utf-8") + "a,b,c\n", encoding="utf-8")
    with pytest.raises(EvidenceError, match=r"line 72.*3 cells, the header 18.*quotes"):
        Reader(copy).rows("clinical/taxa.csv", Taxon)


def test_a_table_that_the_package_does_not_name_is_refused() -> None:
    """Asking for a file outside the package says what to do."""
    with pytest.raises(EvidenceError, match=r"not in the data package.*datapackage.json"):
        Reader().table("clinical/none.csv")
