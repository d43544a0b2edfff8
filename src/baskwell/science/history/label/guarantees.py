"""Guarantee keys read, checked, and turned into what they say of the true content."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from baskwell.evidence.catalogue import Evidence
from baskwell.evidence.rows.labels import LabelGuarantee
from baskwell.science.errors import KeeperError

LARGEST = {"pct": 100.0, "mg_per_kg": 1e6, "iu_per_kg": 1e9}


@dataclass(frozen=True)
class Guarantee:
    """One printed value with the row that says what it means."""

    key: str
    printed: float
    row: LabelGuarantee

    @property
    def nutrient(self) -> str:
        """The column of ``foods.csv`` that it speaks of."""
        return self.row.nutrient

    @property
    def likely(self) -> float:
        """The likeliest true content, per 100 g of feed in the unit of the nutrient."""
        return max(0.0, self.printed + self._towards_safe(self.row.margin)) * self.row.per_100_g

    @property
    def spread(self) -> float:
        """Standard deviation of the true content about ``likely``, in the same unit."""
        return max(self._amount(self.row.sd), 1e-9) * self.row.per_100_g

    @property
    def limits(self) -> tuple[float, float]:
        """Lowest and highest content that keeps the guarantee within its tolerance, in the same unit."""
        tolerance = min(self._amount(self.row.tolerance), self.row.tolerance_share * self.printed)
        low = self.printed - tolerance if self.row.side != "max" else 0.0
        high = self.printed + tolerance if self.row.side != "min" else float("inf")
        return max(low, 0.0) * self.row.per_100_g, high * self.row.per_100_g

    def told(self, amount: float) -> str:
        """An amount per 100 g in the unit of the label."""
        unit = {"pct": "%", "mg_per_kg": "mg/kg", "iu_per_kg": "IU/kg"}[self.row.suffix]
        return f"{amount / self.row.per_100_g:.3g} {unit}"

    def _amount(self, figure: float) -> float:
        return figure * self.printed if self.row.margin_unit == "share" else figure

    def _towards_safe(self, figure: float) -> float:
        return self._amount(figure) * {"min": 1.0, "max": -1.0, "value": 1.0}[self.row.side]


def guarantee_keys(evidence: Evidence) -> dict[str, LabelGuarantee]:
    """Every key that ``guaranteed`` of a label may hold, aliases included.

    >>> from baskwell.evidence.loader import load_evidence
    >>> keys = guarantee_keys(load_evidence())
    >>> keys["crude_fiber_max_pct"].nutrient, keys["calcium_pct"].side
    ('crude_fibre_g', 'value')
    """
    return {key: row for row in evidence.feed_labels.label_guarantees for key in _keys_of(row)}


def _keys_of(row: LabelGuarantee) -> Iterator[str]:
    for stem in (row.stem, *row.aliases):
        yield f"{stem}_{row.suffix}" if row.side == "value" else f"{stem}_{row.side}_{row.suffix}"


def read_guarantees(
    guaranteed: Mapping[str, float], evidence: Evidence, label_id: str
) -> tuple[Guarantee, ...]:
    """Check the guarantees of one label and say what each means.

    Raises KeeperError for a key that is not known (naming the nearest one), a value outside its range, and
    a minimum above its maximum.

    >>> from baskwell.evidence.loader import load_evidence
    >>> read_guarantees({"crude_protien_min_pct": 24.0}, load_evidence(), "pellet")
    Traceback (most recent call last):
    ...
    baskwell.science.errors.KeeperError: Label "pellet": "crude_protien_min_pct" is not a guarantee that is \
known. Did you mean "crude_protein_min_pct"?
    """
    known = guarantee_keys(evidence)
    found = tuple(_read_one(key, value, known, label_id) for key, value in guaranteed.items())
    _check_order(found, label_id)
    return found


def _read_one(key: str, value: float, known: Mapping[str, LabelGuarantee], label_id: str) -> Guarantee:
    row = known.get(key.strip().lower())
    if row is None:
        near = get_close_matches(key.strip().lower()[:80], known, n=1, cutoff=0.5)
        hint = f'Did you mean "{near[0]}"?' if near else 'Write it like "crude_protein_min_pct".'
        raise KeeperError(f'Label "{label_id}": "{key}" is not a guarantee that is known. {hint}')
    largest = LARGEST[row.suffix]
    if not 0.0 <= value <= largest:
        raise KeeperError(
            f'Label "{label_id}": {key} is {value:g}, which is not between 0 and {largest:g}: '
            "look at the label again."
        )
    return Guarantee(key, float(value), row)


def _check_order(found: tuple[Guarantee, ...], label_id: str) -> None:
    for low in found:
        for high in found:
            same = low.nutrient == high.nutrient and (low.row.side, high.row.side) == ("min", "max")
            if same and low.printed * low.row.per_100_g > high.printed * high.row.per_100_g:
                raise KeeperError(
                    f'Label "{label_id}": {low.key} is {low.printed:g} but {high.key} is {high.printed:g}: '
                    "the least cannot be above the most. Perhaps they are swapped."
                )
