"""One pass over the files of the package: text, digest, typed rows."""

import hashlib
import types
import typing
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from typing import TypeVar

from baskwell import __version__
from baskwell.evidence.errors import EvidenceError
from baskwell.evidence.package import DATA, Package, read_package
from baskwell.evidence.tables import Table, parse_table, typed_rows

Row = TypeVar("Row")
Group = TypeVar("Group")


class Reader:
    """Reads each table of a package once, with the rows of a user folder behind the shipped ones.

    >>> from baskwell.evidence.rows.clinical import FrequencyWord
    >>> Reader().keyed("clinical/word_map.csv", FrequencyWord, "word")["rare"].p_mode
    0.02
    """

    def __init__(self, folder: Path = DATA, user_folder: Path | None = None) -> None:
        self.package: Package = read_package(folder)
        self._bytes = read_bytes(self.package)
        self._own: Mapping[str, Table] = {}
        own_bytes: Mapping[str, bytes] = {}
        if user_folder is not None:
            from baskwell.evidence.own import own_bytes_in, with_own_rows

            own_bytes = own_bytes_in(user_folder)
            self._own = with_own_rows(self, user_folder)
        self.version: str = f"{__version__}+{_digest({**self._bytes, **own_bytes})}"

    def table(self, path: str) -> Table:
        """The table at a path of the package, as text, the rows of the user folder with it.

        Raises ``EvidenceError`` for a table that the package does not name.
        """
        if path in self._own:
            return self._own[path]
        resource = self.package.by_path.get(path)
        if resource is None:
            todo = "Add it to datapackage.json with a schema."
            raise EvidenceError(path, 0, "", path, "this table is not in the data package", todo)
        return parse_table(resource, self._bytes[path].decode())

    @cached_property
    def all_tables(self) -> Mapping[str, Table]:
        """Every table as text by its path, kept for those who look through them again and again."""
        return {path: self.table(path) for path in self.package.by_path}

    def rows(self, path: str, kind: type[Row]) -> tuple[Row, ...]:
        """The rows of the table at a path of the package.

        Raises ``EvidenceError`` for a table that the package does not name and for a cell that is not
        of its column's type.
        """
        return typed_rows(self.table(path), kind)

    def keyed(self, path: str, kind: type[Row], key: str) -> Mapping[str, Row]:
        """The rows by the attribute that names them."""
        return types.MappingProxyType({getattr(row, key): row for row in self.rows(path, kind)})

    def group(self, area: str, kind: type[Group]) -> Group:
        """A class whose fields are tables of one area, each named as its file."""
        hints = typing.get_type_hints(kind)
        return kind(
            **{
                name: self.rows(f"{area}/{name}.csv", typing.get_args(hint)[0])
                for name, hint in hints.items()
            }
        )


def read_bytes(package: Package) -> Mapping[str, bytes]:
    """The bytes of every table of a package by its path.

    Raises ``FileNotFoundError`` where a file that the package names is missing.
    """
    return {path: _content(package.folder / path) for path in package.by_path}


def _content(path: Path) -> bytes:
    with open(path, "rb") as handle:  # noqa: PTH123  (a third faster than Path.read_bytes over 80 files)
        return handle.read()


def _digest(contents: Mapping[str, bytes]) -> str:
    """Twelve hex digits that change with any cell of any table."""
    digest = hashlib.sha256()
    for path, content in sorted(contents.items()):
        digest.update(path.encode())
        digest.update(content)
    return digest.hexdigest()[:12]
