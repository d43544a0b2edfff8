"""Species, foods and labels of one's own, from the command line."""

import csv
from collections.abc import Mapping
from pathlib import Path

from click.testing import CliRunner

from baskwell.cli.main import main

SHIPPED = Path(__file__).parents[2] / "src" / "baskwell" / "evidence" / "data"


def write_row(folder: Path, name: str, shipped: str, row: Mapping[str, str]) -> None:
    """Write one row under the header of a shipped table."""
    with (SHIPPED / shipped).open(encoding="utf-8", newline="") as handle:
        header = next(csv.reader(handle))
    with (folder / name).open("w", encoding="utf-8", newline="") as handle:
        csv.writer(handle).writerows([header, [row.get(column, "") for column in header]])


def own_food(folder: Path, source_id: str) -> Path:
    """A folder with one food of this house (invented) and its source."""
    source = {"source_id": "OWN_BED", "areas": "foods", "citation": "Harrow Mill, own bed", "how_read": "own"}
    food = {
        "food_id": "garden_mallow", "name": "Garden mallow, our bed", "group": "weed_browse", "water_g": "85",
        "protein_g": "3", "calcium_mg": "200", "phosphorus_mg": "60", "source_id": source_id,
        "quality": "read",
    }  # fmt: skip
    write_row(folder, "sources.csv", "sources.csv", source)
    write_row(folder, "foods.csv", "foods/foods.csv", food)
    return folder


def test_an_own_food_is_known_and_says_who_says_so(tmp_path: Path) -> None:
    """``--own FOLDER`` adds the house's foods to every command."""
    folder = own_food(tmp_path, "OWN_BED")

    result = CliRunner().invoke(main, ["--own", str(folder), "evidence", "show", "garden_mallow.calcium_mg"])

    assert result.exit_code == 0
    assert "200" in result.output
    assert "Harrow Mill, own bed" in result.output


def test_an_own_table_with_a_fault_is_refused_in_sentences(tmp_path: Path) -> None:
    """The message names the file, the line, the value and what to do; no traceback."""
    folder = own_food(tmp_path, "OWN_BEDD")

    result = CliRunner().invoke(main, ["--own", str(folder), "evidence", "show", "garden_mallow.calcium_mg"])

    assert result.exit_code == 2
    assert "foods.csv, line 2" in result.output
    assert "OWN_BEDD" in result.output


def test_without_a_folder_the_own_food_is_not_known() -> None:
    """Nothing of one house stays for the next command."""
    result = CliRunner().invoke(main, ["evidence", "show", "garden_mallow.calcium_mg"])

    assert result.exit_code == 2
