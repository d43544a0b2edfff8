"""The demo: review the invented animals beside this file and write a page for each.

Usage: python run.py FOLDER. Prints one review, writes FOLDER/*.html, prints where. With DEMO_OPEN=1 on a
desktop the pages are opened.
"""

import datetime as dt
import os
import sys
import webbrowser
from pathlib import Path

from baskwell.cli.look import style_for
from baskwell.evidence import load_evidence
from baskwell.paper.review_html import review_as_html, reviews_index
from baskwell.paper.review_text import review_as_text
from baskwell.science.case.reader import parse_case
from baskwell.science.review import Review, review_case

HERE = Path(__file__).parent
SHOWN = "teasel"


def main(folder: Path) -> None:
    """Review, show one, write all."""
    reviews = {path.stem: _review(path) for path in sorted(HERE.glob("*.toml"))}
    sys.stdout.write(review_as_text(reviews[SHOWN], style_for(sys.stdout), load_evidence()))
    index = write_pages(folder, reviews)
    sys.stdout.write(f"\nThat was one of {len(reviews)}. Pages of all: {index}\n")
    if os.environ.get("DEMO_OPEN") == "1" and _has_desktop():
        webbrowser.open(index.resolve().as_uri())


def _review(path: Path) -> Review:
    evidence = load_evidence()
    return review_case(
        parse_case(path.read_text(encoding="utf-8"), evidence, today=dt.date.today()), evidence
    )


def write_pages(folder: Path, reviews: dict[str, Review]) -> Path:
    """Write a page for each review and an index; returns the path of the index."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, review in reviews.items():
        (folder / f"{name}.html").write_text(review_as_html(review, load_evidence()), encoding="utf-8")
    index = folder / "index.html"
    pages = [(f"{name}.html", review) for name, review in reviews.items()]
    index.write_text(reviews_index("Harrow Mill Reptile Refuge", pages), encoding="utf-8")
    return index


def _has_desktop() -> bool:
    return sys.platform in ("darwin", "win32") or bool(
        os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")
    )


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "demo-output"))
