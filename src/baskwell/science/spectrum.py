"""UV index, UVB and the short-wave warning from a measured lamp or sun spectrum.

Vitamin-D-effective irradiance (CIE 174:2006) is left out: its table stands in a priced document that
was not obtained, and the formulas found in public code under that name are reconstructions without a
source. The UV index is the exposure measure; behind glass or ordinary plastic its useful part is nil.
"""

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from baskwell.evidence.catalogue import Evidence
from baskwell.science.errors import KeeperError

Array = NDArray[np.float64]

ANCHOR_NM = 140.0
"""Third segment of the erythema weight in ISO/CIE 17166; the older form has 139 (under 1 % on sunlight)."""
UVI_PER_W_M2 = 40.0
"""The definition of the UV index: 40 m2/W times the erythemal irradiance (ISO/CIE 17166)."""
FIRST_NM, LAST_NM = 250.0, 400.0
"""WHO/WMO limits. The NOAA form starts at 286.5 nm and would drop the dangerous end of a bad lamp."""
MOST_POINTS = 20_000

_UNITS = {"w/m2": 1.0, "mw/m2": 1e-3, "uw/cm2": 1e-2, "mw/cm2": 10.0, "w/cm2": 1e4}
_UNIT = re.compile(r"(?<![a-z])(mw|uw|w)\s*(?:/\s*|\s)(m|cm)\s*(?:\^|-)?\s*2", re.IGNORECASE)


class SpectrumError(KeeperError):
    """A spectrum that cannot be read or trusted; the message says why and what to do."""


@dataclass(frozen=True, eq=False)
class Spectrum:
    """Spectral irradiance: ``wavelength_nm`` rising, ``irradiance`` in W m-2 nm-1, both ``(n,)``.

    Refused (SpectrumError): other shapes, fewer than 10 points, NaN, wavelengths that do not rise, a
    range that misses 290 to 395 nm, steps over 5 nm there, and values below zero beyond 1 % of the peak
    (smaller ones are noise and become 0).

    >>> flat = Spectrum(np.arange(280.0, 401.0), np.full(121, 0.01))
    >>> flat.irradiance.size
    121
    """

    wavelength_nm: Array
    irradiance: Array

    def __post_init__(self) -> None:
        wavelength = np.asarray(self.wavelength_nm, dtype=np.float64)
        irradiance = np.asarray(self.irradiance, dtype=np.float64)
        _check_numbers(wavelength, irradiance)
        _check_range(wavelength)
        object.__setattr__(self, "wavelength_nm", wavelength)
        object.__setattr__(self, "irradiance", np.maximum(irradiance, 0.0))


@dataclass(frozen=True, slots=True)
class SpectrumReading:
    """What a spectrum says.

    ``uv_index``; ``uvb_w_m2`` from 280 to 315 nm; ``uvb_uw_cm2_per_uvi`` (sunlight 18.5; None without
    any UV index); ``share_below_290_nm`` of the erythemal irradiance. ``hazards`` are sentences, empty
    where the light is no more short-waved than sunlight; ``gaps`` are sentences on what was not measured.
    """

    uv_index: float
    uvb_w_m2: float
    uvb_uw_cm2_per_uvi: float | None
    share_below_290_nm: float
    hazards: tuple[str, ...]
    gaps: tuple[str, ...]


def erythema_weight(wavelength_nm: ArrayLike, anchor_nm: float = ANCHOR_NM) -> Array:
    """Erythema action spectrum of ISO/CIE 17166, dimensionless, 0 outside 250-400 nm.

    >>> erythema_weight([298.0, 300.0, 340.0, 401.0]).round(6).tolist()
    [1.0, 0.648634, 0.001, 0.0]
    """
    wavelength = np.asarray(wavelength_nm, dtype=np.float64)
    middle = 10.0 ** (0.094 * (298.0 - wavelength))
    tail = 10.0 ** (0.015 * (anchor_nm - wavelength))
    weight = np.where(wavelength <= 298.0, 1.0, np.where(wavelength <= 328.0, middle, tail))
    return np.where((wavelength < FIRST_NM) | (wavelength > LAST_NM), 0.0, weight)


def uv_index(spectrum: Spectrum, anchor_nm: float = ANCHOR_NM) -> float:
    """UV index of a spectrum: 40 times its erythemal irradiance, integrated from 250 to 400 nm.

    >>> line = Spectrum(np.arange(280.0, 401.0, 0.5), np.where(np.arange(280.0, 401.0, 0.5) < 298, 0.01, 0))
    >>> round(uv_index(line), 2)                     # 40 * 0.01 * 17.75 nm
    7.1
    """
    return UVI_PER_W_M2 * _erythemal_w_m2(spectrum, FIRST_NM, LAST_NM, anchor_nm)


def band_w_m2(spectrum: Spectrum, low_nm: float, high_nm: float) -> float:
    """Unweighted irradiance between two wavelengths, in W/m2 (what was not measured counts as 0).

    >>> round(band_w_m2(Spectrum(np.arange(280.0, 401.0), np.full(121, 0.01)), 280, 315), 3)
    0.35
    """
    grid, irradiance = _fine(spectrum, low_nm, high_nm)
    return float(np.trapezoid(irradiance, grid))


def erythemal_dose_j_m2(uvi: float, hours: float) -> float:
    """Erythemal dose of an hour-long exposure: UVI 1 for 1 h is 90 J/m2 (0.9 SED).

    >>> erythemal_dose_j_m2(3.0, 4.0)
    1080.0
    """
    return uvi / UVI_PER_W_M2 * hours * 3600.0


def read_spectrum(spectrum: Spectrum, evidence: Evidence, anchor_nm: float = ANCHOR_NM) -> SpectrumReading:
    """Turn a spectrum into UV index, UVB and warnings.

    ``evidence`` supplies sunlight's ratio of UVB to UV index (light.csv) and the shares at which a
    light is called abnormally short-waved (light_priors.csv, judgement).

    >>> from baskwell.evidence.loader import load_evidence
    >>> wavelength = np.arange(250.0, 401.0)
    >>> germicidal = Spectrum(wavelength, np.where(np.abs(wavelength - 254) < 3, 0.05, 0.0))
    >>> len(read_spectrum(germicidal, load_evidence()).hazards)
    2
    """
    index = uv_index(spectrum, anchor_nm)
    uvb = band_w_m2(spectrum, 280.0, 315.0)
    below = _erythemal_w_m2(spectrum, FIRST_NM, 290.0, anchor_nm)
    share = UVI_PER_W_M2 * below / index if index > 0 else 0.0
    return SpectrumReading(
        uv_index=index,
        uvb_w_m2=uvb,
        uvb_uw_cm2_per_uvi=100.0 * uvb / index if index > 0 else None,
        share_below_290_nm=share,
        hazards=_hazards(index, uvb, share, evidence),
        gaps=_gaps(spectrum),
    )


def is_short_waved(uvb_uw_cm2: float, uvi: float, evidence: Evidence) -> bool:
    """Whether UVB per UV index lies so far below sunlight's that short wavelengths must be suspected.

    Works for two meters as well: a broadband UVB meter (uW/cm2) and a UV index meter at one place.

    >>> from baskwell.evidence.loader import load_evidence
    >>> is_short_waved(21.0, 3.8, load_evidence())   # the hazardous lamp of light.csv, ratio 5.5
    True
    """
    if uvi <= 0:
        return False
    share = _judged(evidence, "short_wave_ratio_share")
    return uvb_uw_cm2 / uvi < share * sunlight_uw_cm2_per_uvi(evidence)


def sunlight_uw_cm2_per_uvi(evidence: Evidence) -> float:
    """UVB (280-315 nm) per UV index in sunlight, uW/cm2, from the AM1.5 row of light.csv.

    >>> from baskwell.evidence.loader import load_evidence
    >>> round(sunlight_uw_cm2_per_uvi(load_evidence()), 1)
    18.5
    """
    rows = (fact for fact in evidence.light_facts if fact.item == "sunlight, AM1.5 global")
    return 100.0 / next(rows).low


def parse_spectrum(text: str) -> Spectrum:
    r"""Read two columns, wavelength in nm and irradiance, from the text of a CSV or table file.

    Columns may be parted by comma, semicolon, tab or blanks; a decimal comma is understood where
    anything but a comma parts them. Lines without two numbers at the start of the file are its heading;
    a unit named there (W/m2, mW/m2, uW/cm2, mW/cm2, each per nm) is converted, none means W/m2.
    SpectrumError for anything else, with the line.

    >>> rows = "\n".join(f"{nm};0,5" for nm in range(280, 401))
    >>> float(parse_spectrum("nm;uW/cm2/nm\n" + rows).irradiance[0])
    0.005
    """
    lines = text.splitlines()
    if len(lines) > MOST_POINTS:
        raise SpectrumError(
            f"The spectrum has {len(lines)} lines; {MOST_POINTS} are read at most: use steps of 0.1 nm."
        )
    rows = [_row(line) for line in lines]
    start = next((at for at, row in enumerate(rows) if row is not None), None)
    if start is None:
        raise SpectrumError(
            "No line of the spectrum holds two numbers: it needs wavelength (nm) and irradiance (W/m2/nm)."
        )
    _refuse_broken_line(lines, rows, start)
    table = np.array([row for row in rows if row is not None])
    return Spectrum(table[:, 0], table[:, 1] * _unit_factor(" ".join(lines[:start])))


def _refuse_broken_line(lines: list[str], rows: list[tuple[float, float] | None], start: int) -> None:
    for at in range(start, len(lines)):
        if rows[at] is None and lines[at].strip():
            raise SpectrumError(
                f"Line {at + 1} of the spectrum, {lines[at][:40]!r}, does not hold two numbers: mend it."
            )


def _row(line: str) -> tuple[float, float] | None:
    fields = _columns(line.strip())
    try:
        return float(fields[0]), float(fields[1])
    except (ValueError, IndexError):
        return None


def _columns(line: str) -> list[str]:
    if ";" in line or "\t" in line:
        return [part.strip() for part in re.split(r"[;\t]", line.replace(",", "."))]
    if "," in line and re.search(r"[^,\s]\s+\S", line) and not re.search(r",\s", line):
        return line.replace(",", ".").split()
    return [part.strip() for part in line.split(",")] if "," in line else line.split()


def _unit_factor(heading: str) -> float:
    found = _UNIT.search(heading.replace("µ", "u").replace("μ", "u").replace("²", "2"))
    if found is None:
        return 1.0
    return _UNITS[f"{found[1].lower()}/{found[2].lower()}2"]


def _check_numbers(wavelength: Array, irradiance: Array) -> None:
    if wavelength.ndim != 1 or wavelength.shape != irradiance.shape:
        raise SpectrumError(
            f"A spectrum needs one irradiance a wavelength, got {wavelength.shape} and {irradiance.shape}."
        )
    if wavelength.size < 10:
        raise SpectrumError(f"A spectrum of {wavelength.size} points is too short: 10 are the least.")
    if not (np.isfinite(wavelength).all() and np.isfinite(irradiance).all()):
        raise SpectrumError("The spectrum holds a value that is no number: leave those lines out.")
    if not bool(np.all(np.diff(wavelength) > 0)):
        raise SpectrumError("The wavelengths must rise from line to line: sort them and drop doubles.")
    lowest, peak = float(irradiance.min()), float(irradiance.max())
    if lowest < -0.01 * max(peak, 0.0) - 1e-9:
        raise SpectrumError(
            f"The irradiance falls to {lowest:.3g}, beyond noise (peak {peak:.3g}): redo the dark correction."
        )


def _check_range(wavelength: Array) -> None:
    first, last = float(wavelength[0]), float(wavelength[-1])
    if first > 290.0 or last < 395.0:
        raise SpectrumError(
            f"The spectrum runs from {first:g} to {last:g} nm; the UV index needs 290 to 400 nm at least "
            "(wavelengths are read in nm)."
        )
    inside = wavelength[(wavelength >= 285.0) & (wavelength <= 400.0)]
    step = float(np.diff(inside).max(initial=0.0))
    if inside.size < 10 or step > 5.0:
        raise SpectrumError(
            f"The spectrum has steps of {step:g} nm; the weight falls tenfold in 11 nm: 5 nm at most."
        )


def _fine(spectrum: Spectrum, low_nm: float, high_nm: float) -> tuple[Array, Array]:
    known = spectrum.wavelength_nm
    low, high = max(low_nm, float(known[0])), min(high_nm, float(known[-1]))
    if low >= high:
        return np.array([low_nm, low_nm]), np.zeros(2)
    own = known[(known > low) & (known < high)]
    grid = np.union1d(np.linspace(low, high, round((high - low) * 10) + 1), own)
    return grid, np.interp(grid, known, spectrum.irradiance)


def _erythemal_w_m2(spectrum: Spectrum, low_nm: float, high_nm: float, anchor_nm: float) -> float:
    grid, irradiance = _fine(spectrum, low_nm, high_nm)
    return float(np.trapezoid(irradiance * erythema_weight(grid, anchor_nm), grid))


def _judged(evidence: Evidence, quantity: str) -> float:
    return next(row.mode for row in evidence.light_priors if row.quantity == quantity)


def _hazards(index: float, uvb: float, share_below: float, evidence: Evidence) -> tuple[str, ...]:
    found: list[str] = []
    if is_short_waved(100.0 * uvb, index, evidence):
        found.append(
            f"This light holds {100.0 * uvb / index:.1f} uW/cm2 of UVB per UV index; sunlight holds "
            f"{sunlight_uw_cm2_per_uvi(evidence):.1f}: its UVB is abnormally short-waved: take the lamp "
            "off even where the UV index looks right."
        )
    if share_below > _judged(evidence, "short_wave_share"):
        found.append(
            f"{100.0 * share_below:.0f} % of its burning power lies below 290 nm, where sunlight has none: "
            "take the lamp off; it can injure eyes and skin."
        )
    return tuple(found)


def _gaps(spectrum: Spectrum) -> tuple[str, ...]:
    vitamin_d = (
        "Vitamin-D-effective irradiance is not given: the weights of CIE 174 were not available. "
        "The UV index is used instead."
    )
    first = float(spectrum.wavelength_nm[0])
    if first <= FIRST_NM:
        return (vitamin_d,)
    return (
        f"Nothing was measured below {first:g} nm: light shorter than that cannot be excluded.",
        vitamin_d,
    )
