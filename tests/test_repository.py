"""What holds for the whole repository: imports point up, requirements in step, sizes, no private paths."""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
LONGEST_FUNCTION = 50
LONGEST_FILE = 350
LONGEST_TEST_FILE = 600
NOT_OURS = {".git", ".venv", "build", "dist", "demo-output", "_build", "__pycache__", "node_modules"}
BINARY = {".woff2", ".png", ".xlsx", ".pyc"}
NAME = re.compile(r"^([A-Za-z0-9][A-Za-z0-9._-]*)")


def _files() -> Iterator[Path]:
    for path in sorted(ROOT.rglob("*")):
        parts = path.relative_to(ROOT).parts
        hidden_or_built = any(part in NOT_OURS or part.endswith(("_cache", ".egg-info")) for part in parts)
        if path.is_file() and not hidden_or_built and not parts[0].startswith((".venv", ".hypothesis")):
            yield path


def _python() -> list[Path]:
    return [path for path in _files() if path.suffix == ".py"]


def _text_files() -> Iterator[tuple[str, str]]:
    for path in _files():
        if path.suffix not in BINARY:
            yield str(path.relative_to(ROOT)), path.read_text(encoding="utf-8", errors="replace")


def _names(lines: list[str]) -> set[str]:
    found = (NAME.match(line.strip()) for line in lines)
    return {match.group(1).lower().replace("_", "-") for match in found if match}


def _wanted(set_name: str) -> list[str]:
    text = (ROOT / "requirements" / f"{set_name}.in").read_text(encoding="utf-8")
    return [line for line in text.splitlines() if line and not line.startswith(("#", "-r"))]


def _project() -> dict[str, object]:
    loaded: dict[str, object] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    return loaded


def test_imports_point_up_and_science_is_pure(monkeypatch: pytest.MonkeyPatch) -> None:
    """The chain is cli -> paper -> science -> evidence; science imports no Django, command line or page."""
    from importlinter.cli import lint_imports

    monkeypatch.chdir(ROOT)
    assert lint_imports(no_cache=True) == 0


@pytest.mark.parametrize("path", _python(), ids=lambda path: str(path.relative_to(ROOT)))
def test_functions_and_files_stay_short(path: Path) -> None:
    """No function body over 50 lines, no file over 350 (tests 600): what is longer is two things."""
    source = path.read_text(encoding="utf-8")
    is_test = path.relative_to(ROOT).parts[0] == "tests"
    assert len(source.splitlines()) <= (LONGEST_TEST_FILE if is_test else LONGEST_FILE)
    long = [f"{node.name}: {length}" for node, length in _functions(source) if length > LONGEST_FUNCTION]
    assert not long


def _functions(source: str) -> Iterator[tuple[ast.FunctionDef | ast.AsyncFunctionDef, int]]:
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            has_docstring = ast.get_docstring(node) is not None
            body = node.body[1:] if has_docstring else node.body
            yield node, (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_requirements_are_in_step_with_the_project() -> None:
    """What the package says it needs is what is locked, word for word."""
    project = _project()
    assert sorted(project["project"]["dependencies"]) == sorted(_wanted("core"))  # type: ignore[index]
    build = project["build-system"]["requires"]  # type: ignore[index]
    assert set(build) <= set(_wanted("build"))


@pytest.mark.parametrize("set_name", ["build", "core", "dev"])
def test_every_requirement_is_locked_with_hashes(set_name: str) -> None:
    """A fresh machine installs exactly what was checked."""
    locked = (ROOT / "requirements" / f"{set_name}.txt").read_text(encoding="utf-8")
    pins = re.findall(r"^([A-Za-z0-9._-]+(?:\[[^\]]*\])?)==\S+", locked, re.MULTILINE)
    assert _names(_wanted(set_name)) <= _names(pins)
    assert locked.count("--hash=sha256:") >= len(pins)
    assert "://" not in locked


def test_the_locks_agree() -> None:
    """One version a package over all sets, so that nothing is installed twice."""
    pins: dict[str, set[str]] = {}
    for set_name in ("build", "core", "dev"):
        locked = (ROOT / "requirements" / f"{set_name}.txt").read_text(encoding="utf-8")
        for name, version in re.findall(r"^([A-Za-z0-9._-]+)==(\S+)", locked, re.MULTILINE):
            pins.setdefault(name.lower(), set()).add(version)
    assert {name: versions for name, versions in pins.items() if len(versions) > 1} == {}


def test_nothing_names_a_private_path() -> None:
    """A path of one machine is of no use on another."""
    private = re.compile(r"(?<![\w.])/(?:home|root|Users|work|tmp)/[\w.]+")
    found = {
        name: private.findall(text)
        for name, text in _text_files()
        if name != "tests/test_repository.py" and private.search(text)
    }
    assert found == {}


def _targets() -> set[str]:
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    return set(re.findall(r"^([a-z][a-z-]*):", makefile, re.MULTILINE))


@pytest.mark.parametrize(
    "path", [p for p in _files() if p.suffix == ".md"], ids=lambda p: str(p.relative_to(ROOT))
)
def test_commands_in_the_manual_exist(path: Path) -> None:
    """Whoever copies a command from a page gets an answer."""
    from baskwell.cli import main

    text = path.read_text(encoding="utf-8")
    code = "\n".join(
        [*re.findall(r"```[a-z]*\n(.*?)```", text, re.DOTALL), *re.findall(r"`([^`\n]+)`", text)]
    )
    targets = set(re.findall(r"^(?:\$ )?make ([a-z-]+)", code, re.MULTILINE))
    commands = set(re.findall(r"^(?:\$ )?baskwell ([a-z][a-z-]*)", code, re.MULTILINE))
    assert targets <= _targets()
    assert commands <= set(main.commands)


def test_ci_runs_the_test_command_of_the_readme() -> None:
    """What a newcomer runs is what guards the branch."""
    assert "make test" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "make test" in (ROOT / "README.md").read_text(encoding="utf-8")
    assert "make demo" in (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_license_is_whole() -> None:
    """The project's licence, and that of each font beside the fonts."""
    licence = (ROOT / "LICENSE").read_text(encoding="utf-8")
    assert "Apache License" in licence
    assert "END OF TERMS AND CONDITIONS" in licence
    fonts = ROOT / "src" / "baskwell" / "paper" / "fonts"
    assert len(list(fonts.glob("OFL-*.txt"))) == 2
