"""The colours of the page: contrast by the WCAG 2.2 formula, in light, in dark, on paper."""

import re
from importlib.resources import files

import pytest

CSS = (files("baskwell.paper") / "templates" / "page.css").read_text(encoding="utf-8")
THEMES = re.findall(r":root\{([^}]*)\}", CSS)
TEXT = [
    ("ink", "paper"), ("soft", "paper"), ("act", "paper"), ("out", "paper"), ("ink", "act-ground"),
    ("ink", "out-ground"), ("out", "out-ground"), ("act", "out-ground"), ("soft", "out-ground"),
]  # fmt: skip
PICTURES = [("ink", "want"), ("out", "want"), ("want-line", "paper"), ("act", "paper")]


def _colours(theme: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z-]+):(#[0-9a-f]{3,6})\b", theme))


def _luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2 glossary."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
    channels = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.2 glossary)."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_gives_its_known_ends() -> None:
    """Black on white is 21, a colour on itself 1; #767676 on white is the known 4.54."""
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#123456", "#123456") == 1
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", THEMES, ids=["light", "dark", "print"])
def test_text_has_contrast_of_at_least_4_5(theme: str) -> None:
    """WCAG 2.2 success criterion 1.4.3."""
    colours = _colours(theme)
    low = {pair: contrast(colours[pair[0]], colours[pair[1]]) for pair in TEXT}
    assert {pair: ratio for pair, ratio in low.items() if ratio < 4.5} == {}


@pytest.mark.parametrize("theme", THEMES, ids=["light", "dark", "print"])
def test_pictures_have_contrast_of_at_least_3(theme: str) -> None:
    """WCAG 2.2 success criterion 1.4.11: what must be told apart to read a bar."""
    colours = _colours(theme)
    low = {pair: contrast(colours[pair[0]], colours[pair[1]]) for pair in PICTURES}
    assert {pair: ratio for pair, ratio in low.items() if ratio < 3} == {}


def test_there_are_three_themes() -> None:
    """Light, dark, print: each names every colour, so that none is inherited by accident."""
    assert len(THEMES) == 3
    assert all(set(_colours(theme)) >= {name for pair in TEXT for name in pair} for theme in THEMES)
