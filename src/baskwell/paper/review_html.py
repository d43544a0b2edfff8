"""A review as one page of HTML that needs nothing from outside: fonts and figures are inside it."""

from base64 import b64encode
from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from baskwell.evidence import Evidence
from baskwell.paper import telling, words
from baskwell.paper.marks import Dots, bar_of
from baskwell.paper.sources import Citations, Sources
from baskwell.science.review import CAUTION, Review

if TYPE_CHECKING:
    from jinja2 import Environment

FONTS = (
    ("Source Serif 4", 400, "source-serif-4-latin-400-normal.woff2"),
    ("Source Serif 4", 600, "source-serif-4-latin-600-normal.woff2"),
    ("Atkinson Hyperlegible Next", 400, "atkinson-hyperlegible-next-latin-400-open-zero.woff2"),
    ("Atkinson Hyperlegible Next", 600, "atkinson-hyperlegible-next-latin-600-open-zero.woff2"),
)


def review_as_html(review: Review, evidence: Evidence | None = None) -> str:
    """Render a review as one self-contained page.

    Everything typed by people is escaped; the page holds no script and its own policy forbids any
    request. Light and dark, 360 px and up, A4 or Letter. ``evidence`` gives signs their plain names and
    turns "who says so" into citations, listed once at the end.
    """
    title = f"{review.who.split(',')[0]}: what was found, and why"
    sources = Sources(evidence)
    return _render(
        "review.html",
        page_title=title,
        review=review,
        ranking=review.ranking,
        sources=sources,
        citations=Citations(sources),
        has_sources=evidence is not None,
    )


def reviews_index(title: str, pages: Sequence[tuple[str, Review]]) -> str:
    """Render a list of review pages, each a pair of its link and its review; what is urgent first."""
    urgent = sum(_is_urgent(review) for _, review in pages)
    told = f"{words.count(urgent, 'animal')} of {len(pages)} should see a vet now."
    ordered = sorted(pages, key=lambda page: not _is_urgent(page[1]))
    return _render(
        "index.html",
        page_title=title,
        title=title,
        sentence=told if urgent else f"{words.count(len(pages), 'animal')} reviewed.",
        pages=ordered,
        caution=CAUTION,
    )


def _is_urgent(review: Review) -> bool:
    return any(flag.level == "vet now" for flag in review.flags)


def _render(name: str, **told: object) -> str:
    return _environment().get_template(name).render(fonts=_fonts(), **told)


@cache
def _environment() -> "Environment":
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("baskwell.paper"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals |= {"telling": telling, "words": words, "dots_of": Dots.of, "bar_of": bar_of}
    environment.filters |= {
        "sentence": words.sentence,
        "capitalize_first": words.capital,
        "place": _place,
        "host": _host,
    }
    return environment


def _place(share: float) -> str:
    """A share of a line as an SVG length."""
    return f"{100.0 * share:.1f}%"


def _host(url: str) -> str:
    """The site of a link, to be shown in its place."""
    return url.split("/")[2] if url.count("/") >= 2 else url


@cache
def _fonts() -> tuple[tuple[str, int, str], ...]:
    folder = files("baskwell.paper") / "fonts"
    return tuple(
        (family, weight, b64encode((folder / name).read_bytes()).decode("ascii"))
        for family, weight, name in FONTS
    )
