"""Files named on the command line: read whole or refused in a sentence, written whole or not at all."""

from pathlib import Path

import pytest

from baskwell.cli.files import read_bytes, write_text
from baskwell.science.errors import KeeperError


def test_a_missing_file_is_told_with_what_to_do(tmp_path: Path) -> None:
    """The name that was not found stands in the sentence."""
    with pytest.raises(KeeperError, match=r"flint\.toml was not found\. Check the name"):
        read_bytes(str(tmp_path / "flint.toml"))


def test_a_folder_is_not_a_case(tmp_path: Path) -> None:
    """Naming the folder instead of the file is a common slip."""
    with pytest.raises(KeeperError, match="is a folder"):
        read_bytes(str(tmp_path))


def test_a_huge_file_is_not_read_to_its_end(tmp_path: Path) -> None:
    """One byte more than allowed is enough to refuse it."""
    file = tmp_path / "huge.toml"
    file.write_bytes(b"x" * 1000)
    assert len(read_bytes(str(file), largest=100)) == 101


def test_writing_replaces_a_file_whole_and_leaves_no_scraps(tmp_path: Path) -> None:
    """The old content stays until the new one is complete."""
    file = tmp_path / "page.html"
    file.write_text("old")
    file.chmod(0o640)
    write_text(str(file), "naïve")
    assert file.read_text(encoding="utf-8") == "naïve"
    assert file.stat().st_mode & 0o777 == 0o640
    assert [path.name for path in tmp_path.iterdir()] == ["page.html"]


def test_writing_into_a_missing_folder_is_told(tmp_path: Path) -> None:
    """The folder is named, and what to do."""
    with pytest.raises(KeeperError, match="Make it first"):
        write_text(str(tmp_path / "none" / "page.html"), "text")


def test_writing_over_a_folder_is_refused(tmp_path: Path) -> None:
    """Nothing in it is touched."""
    with pytest.raises(KeeperError, match="is a folder"):
        write_text(str(tmp_path), "text")
