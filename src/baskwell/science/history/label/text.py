"""A label typed or pasted as text, read into ingredients and guarantees."""

import re
from collections.abc import Iterator

from baskwell.science.case.model import Label
from baskwell.science.errors import KeeperError
from baskwell.science.history.label.analysis_text import is_analysis, read_analysis

LONGEST = 20_000
INGREDIENTS, ANALYSIS, OTHER = "ingredients", "analysis", "other"
HEADINGS = (
    (ANALYSIS, r"guaranteed\s+analysis|analytical\s+constituents|typical\s+analysis|nutritional\s+analysis"),
    (
        ANALYSIS,
        r"nutritional\s+additives(?:\s*(?:per|/)\s*kg)?|additives\s*(?:per|/)\s*kg|guarantees?|analysis",
    ),
    (INGREDIENTS, r"ingredients?(?:\s+list)?|composition"),
    (
        OTHER,
        r"feeding\s+(?:guide|instructions|directions)|directions|storage|net\s+weight|best\s+before|warning",
    ),
)
UNKNOWN = {"unknown", "not known", "?", "n/a", ""}
BULLETS = str.maketrans(dict.fromkeys("•·▪●|\t\r\f\v", " ") | {"\n": " "})


def parse_label_text(text: str) -> Label:
    """Read a label as printed: ``Ingredients: a, b (c, d). Guaranteed analysis: Crude protein (min) 24 %``.

    Headings may stand in any order; the ingredients may come first without one. Brackets keep what they
    hold together; a percentage stays with its ingredient. Printed values that are not used are kept in
    ``notes``. Raises KeeperError where the text holds neither ingredients nor an analysis, or is not a label.

    >>> label = parse_label_text("Ingredients: maize, fish meal 12 %, salt. Guaranteed analysis: "
    ...                          "Crude protein (min) 24 %, crude fibre (max) 6 %")
    >>> label.ingredients
    ('maize', 'fish meal 12 %', 'salt')
    >>> dict(label.guaranteed)
    {'crude_protein_min_pct': 24.0, 'crude_fibre_max_pct': 6.0}
    """
    if len(text) > LONGEST:
        raise KeeperError(
            f"The label is {len(text):,} characters long; the longest read is {LONGEST:,}. "
            "Keep the ingredients and the analysis only."
        )
    sections = list(_sections(text))
    listed = " ".join(body for kind, _, body in sections if kind == INGREDIENTS)
    ingredients = split_ingredients(listed)
    guaranteed, unused = _analyses(sections)
    if not guaranteed and (not ingredients or (len(ingredients) == 1 and not _has_heading(sections))):
        raise KeeperError(
            "No ingredients and no analysis were found in the label. "
            'Write it like "Ingredients: maize, soya meal. Guaranteed analysis: crude protein (min) 24 %".'
        )
    notes = f"Printed but not used: {'; '.join(unused)}." if unused else ""
    return Label(ingredients or None, guaranteed, notes)


def _analyses(sections: list[tuple[str, str, str]]) -> tuple[dict[str, float], list[str]]:
    guaranteed: dict[str, float] = {}
    unused: list[str] = []
    for kind, heading, body in sections:
        if kind == ANALYSIS:
            found, left = read_analysis(body, heading)
            guaranteed |= found
            unused += left
    return guaranteed, unused


def _has_heading(sections: list[tuple[str, str, str]]) -> bool:
    return any(kind == INGREDIENTS and heading for kind, heading, _ in sections)


def _sections(text: str) -> Iterator[tuple[str, str, str]]:
    """Kind, heading and body of each part; text before the first heading counts as ingredients."""
    pattern = "|".join(f"(?P<h{i}>{words})" for i, (_, words) in enumerate(HEADINGS))
    found = list(
        re.finditer(rf"(?im)(?:(?<=^)|(?<=[\s.;]))(?:{pattern})\s*(?:\([^()\n]{{0,40}}\))?\s*(?::|$)", text)
    )
    first = text[: found[0].start()] if found else text
    lines = first.splitlines()
    if not any(_kind(match) == INGREDIENTS for match in found):
        yield INGREDIENTS, "", "\n".join(line for line in lines if not is_analysis(line))
    yield ANALYSIS, "guaranteed", "\n".join(line for line in lines if is_analysis(line))
    ends = [*(match.start() for match in found[1:]), len(text)]
    for match, end in zip(found, ends, strict=False):
        yield _kind(match), match.group(0), text[match.end() : end]


def _kind(match: "re.Match[str]") -> str:
    return next(kind for i, (kind, _) in enumerate(HEADINGS) if match.group(f"h{i}"))


def split_ingredients(text: str) -> tuple[str, ...]:
    """Split a list at its commas and semicolons, outside brackets; it ends at the end of its sentence.

    A comma within a number is none. Where brackets do not close, they are not minded.

    >>> split_ingredients("cereals (wheat, maize), fish 4,5 %; salt. Keep dry.")
    ('cereals (wheat, maize)', 'fish 4,5 %', 'salt')
    """
    flat = text.translate(BULLETS)
    minded = _balanced(flat)
    parts, depth, start = [], 0, 0
    for i, mark in enumerate(flat):
        depth += minded * ((mark in "([{") - (mark in ")]}"))
        if depth == 0 and mark in ",;" and not _within_number(flat, i):
            parts.append(flat[start:i])
            start = i + 1
        elif depth == 0 and mark == "." and _ends_sentence(flat, i):
            parts.append(flat[start:i])
            start = len(flat)
            break
    parts.append(flat[start:])
    names = (re.sub(r"^(?:and|&)\s+", "", " ".join(part.split()), flags=re.IGNORECASE) for part in parts)
    kept = tuple(name.strip(" .:-") for name in names)
    return tuple(name for name in kept if re.search(r"[^\W\d_]", name) and name.lower() not in UNKNOWN)


def _balanced(text: str) -> int:
    """1 where every bracket closes, 0 where not."""
    depth = 0
    for mark in text:
        depth += (mark in "([{") - (mark in ")]}")
        if depth < 0:
            return 0
    return int(depth == 0)


def _within_number(text: str, i: int) -> bool:
    return text[i - 1 : i].isdigit() and text[i + 1 : i + 2].isdigit()


def _ends_sentence(text: str, i: int) -> bool:
    """A point ends the list if a capital or nothing follows, and no single letter or figure stands before."""
    after = text[i + 1 :].lstrip()[:1]
    word = re.search(r"\w*$", text[max(0, i - 20) : i])
    abbreviated = word is not None and len(word.group()) <= 1
    return not after or (after.isupper() and text[i + 1 : i + 2].isspace() and not abbreviated)
