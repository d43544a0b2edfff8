"""The format of the case file as data: what forms, the format page and other programs build on."""

from collections.abc import Iterator
from dataclasses import dataclass

from baskwell.science.case import model
from baskwell.science.case.explain import explanation
from baskwell.science.case.fields import Kind, declared_fields
from baskwell.science.case.model import Case


@dataclass(frozen=True)
class FieldDescription:
    """One field of the case file.

    ``path`` is ``history.diet[].amount``: ``[]`` marks a list of entries, ``*`` a name that the writer
    chooses. ``low`` and ``high`` bound numbers, in ``unit``. A word of ``vocabulary`` that begins with
    ``@`` stands for all ids of that table; ``aliases`` are other words that are read as one of these.
    """

    path: str
    kind: Kind
    means: str
    unit: str = ""
    low: float | None = None
    high: float | None = None
    vocabulary: tuple[str, ...] = ()
    aliases: tuple[tuple[str, str], ...] = ()
    required: bool = False

    @property
    def table(self) -> str:
        """The heading under which the field stands: ``history.diet[]``."""
        return self.path.removesuffix(".*").rpartition(".")[0]


def describe_fields() -> tuple[FieldDescription, ...]:
    """Describe every field of the case file, tables before what stands in them, in the order of the page.

    >>> next(one for one in describe_fields() if one.path == "animal.mass_g").unit
    'g'
    """
    return tuple(_describe(Case, ""))


def _describe(kind: type, heading: str) -> Iterator[FieldDescription]:
    inner: list[tuple[type, str]] = []
    for one in declared_fields(kind):
        spec = one.spec
        path = heading + one.key + ("" if spec.lone else _MARKS.get(spec.kind, ""))
        aliases = tuple((spec.aliases or {}).items())
        means = explanation(kind.__name__, one.key)
        yield FieldDescription(
            path, spec.kind, means, spec.unit, spec.low, spec.high, spec.vocabulary, aliases, spec.required
        )
        if spec.of:
            inner.append((getattr(model, spec.of), f"{path}."))
    for nested, nested_heading in inner:
        yield from _describe(nested, nested_heading)


_MARKS = {"tables": "[]", "named_tables": ".*"}
