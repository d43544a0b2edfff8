"""How each field of a case may be written: the one description that parser, writer and forms share.

Every field of the classes in ``model`` is declared by one of the helpers below. The helper stores a
``Spec`` in the dataclass field's metadata and makes the field's default "not stated".
"""

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass, field
from typing import Any, Literal

Kind = Literal[
    "number", "integer", "flag", "flag_or_count", "text", "texts", "word", "words", "word_or_number",
    "id", "ids", "date", "moment", "amount", "pair", "guarantees", "table", "tables", "named_tables",
]  # fmt: skip


@dataclass(frozen=True)
class Spec:
    """What may stand in one field.

    ``low`` and ``high`` bound a number (inclusive, in the field's unit). ``vocabulary`` lists the
    words allowed, or names the evidence table whose ids are allowed (``"@foods"``). ``of`` is the
    class of a nested table. ``required`` fields may not be left out. ``aliases`` maps further words
    that people write to the word of the vocabulary they stand for. ``key`` is the key of the case
    file where it differs from the name of the field. ``lone`` marks a list of tables that seldom has
    more than one: a single one is then written as a plain table.
    """

    kind: Kind
    unit: str = ""
    low: float | None = None
    high: float | None = None
    vocabulary: tuple[str, ...] = ()
    of: str = ""
    required: bool = False
    aliases: Mapping[str, str] | None = None
    key: str = ""
    lone: bool = False


@dataclass(frozen=True)
class Declared:
    """One declared field: its name in the model, its key in the case file, and what may stand in it."""

    name: str
    key: str
    spec: Spec


def declared_fields(model: type) -> Iterator[Declared]:
    """Yield the declared fields of a class of ``model``, in the order in which they are written.

    >>> from baskwell.science.case.model import When
    >>> [declared.key for declared in declared_fields(When)][-2:]
    ['from', 'to']
    """
    for one in dataclasses.fields(model):
        spec: Spec | None = one.metadata.get("spec")
        if spec is not None:
            yield Declared(one.name, spec.key or one.name, spec)


def _declare(spec: Spec, default: Any) -> Any:
    metadata = {"spec": spec}
    if callable(default):
        return field(default_factory=default, metadata=metadata)
    if default is MISSING:
        return field(metadata=metadata)
    return field(default=default, metadata=metadata)


def quantity(unit: str, low: float, high: float) -> Any:
    """A number or a range ``[low, high]``, kept as a ``Span``; None where not stated or unknown."""
    return _declare(Spec("number", unit, low, high), None)


def integer(low: int, high: int) -> Any:
    """A whole number; None where not stated or unknown."""
    return _declare(Spec("integer", "", low, high), None)


def flag() -> Any:
    """True or false; None where not stated or unknown."""
    return _declare(Spec("flag"), None)


def flag_or_count(high: int) -> Any:
    """True, false or a whole number of animals; None where not stated or unknown."""
    return _declare(Spec("flag_or_count", "", 0, high), None)


def text() -> Any:
    """Free words, never computed with; empty where not stated."""
    return _declare(Spec("text"), "")


def texts() -> Any:
    """A list of free words."""
    return _declare(Spec("texts"), ())


def word(*vocabulary: str) -> Any:
    """One word of a fixed list; None where not stated or unknown."""
    return _declare(Spec("word", vocabulary=vocabulary), None)


def word_or_number(unit: str, low: float, high: float, *vocabulary: str) -> Any:
    """A word of a fixed list, a number or a range; None where not stated or unknown."""
    return _declare(Spec("word_or_number", unit, low, high, vocabulary), None)


def words(*vocabulary: str) -> Any:
    """A list of words of a fixed list (one word alone is read as a list of one)."""
    return _declare(Spec("words", vocabulary=vocabulary), ())


def identifier(*vocabulary: str, required: bool = False) -> Any:
    """One id of an evidence table (``"@foods"``) or of the words given."""
    return _declare(Spec("id", vocabulary=vocabulary, required=required), MISSING if required else None)


def identifiers(*vocabulary: str) -> Any:
    """A list of ids of an evidence table or of the words given."""
    return _declare(Spec("ids", vocabulary=vocabulary), ())


def table(of: str, *, required: bool = False, default: Any = None) -> Any:
    """One nested table; ``default`` (None, or the class itself for an empty one) where not stated."""
    return _declare(Spec("table", of=of, required=required), MISSING if required else default)


def tables(of: str, *, lone: bool = False) -> Any:
    """A list of nested tables (one table alone is read as a list of one)."""
    return _declare(Spec("tables", of=of, lone=lone), ())


def named_tables(of: str, key: str) -> Any:
    """Nested tables by a name that the writer of the file chooses; ``key`` is their common header."""
    return _declare(Spec("named_tables", of=of, key=key), dict)


def other(kind: Kind, *, default: Any = None, **rest: Any) -> Any:
    """A field with a form of its own (date, moment, amount, pair ...); None where not stated."""
    return _declare(Spec(kind, **rest), default)
