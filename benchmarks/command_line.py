"""What a person waits for: `--help`, a whole review, a page, and the memory a review takes."""

import datetime as dt
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from baskwell.evidence import load_evidence
from baskwell.paper.review_html import review_as_html
from baskwell.paper.review_text import review_as_text
from baskwell.science.case.reader import parse_case
from baskwell.science.review import review_case
from benchmarks.figure import Figure, seconds

CASE = Path(__file__).parents[1] / "examples" / "harrow_mill" / "teasel.toml"
_WATCHER = """
import resource, subprocess, sys
code = "import sys; from baskwell.cli import main; main(['review', sys.argv[1]])"
subprocess.run([sys.executable, "-c", code, sys.argv[1]], stdout=subprocess.DEVNULL, check=True)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


def measure() -> Iterator[Figure]:
    """Whole commands in processes of their own, and a review in this one, imports apart."""
    command = str(Path(sys.executable).parent / "baskwell")
    with TemporaryDirectory() as cache:
        environment = _with_bytecode(cache)
        yield Figure(
            "baskwell --help, whole command", seconds(lambda: _run([command, "--help"], environment)), 0.3
        )
    evidence = load_evidence()
    case = parse_case(CASE.read_bytes(), evidence, today=dt.date.today())
    review = review_case(case, evidence)
    yield Figure("review of a full case, 4,000 draws", seconds(lambda: review_case(case, evidence), 3), 1.0)
    yield Figure("the same as text", seconds(lambda: review_as_text(review, None, evidence)), 0.05)
    yield Figure("the same as a page", seconds(lambda: review_as_html(review, evidence)), 0.2)
    yield Figure("peak memory of a review", _peak_memory_mb(), 400, "MB")


def _run(command: list[str], environment: dict[str, str]) -> None:
    subprocess.run(command, env=environment, stdout=subprocess.DEVNULL, check=True)


def _with_bytecode(cache: str) -> dict[str, str]:
    """An environment that keeps compiled modules, as an installed program has them."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPYCACHEPREFIX": cache}


def _peak_memory_mb() -> float:
    """Peak resident size of one whole review, in a process whose only child it is."""
    told = subprocess.run(
        [sys.executable, "-c", _WATCHER, str(CASE)], capture_output=True, text=True, check=True
    )
    return float(told.stdout) / (1024 * 1024 if sys.platform == "darwin" else 1024)
