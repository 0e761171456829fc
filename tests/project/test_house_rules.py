"""The rules of the house that no linter knows."""

import ast
import os
import re
from pathlib import Path

import haulm

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "haulm"
LONGEST_MODULE = 400
DRAWERS = {"utils", "util", "helpers", "common", "misc", "manager", "tools"}


def modules() -> list[Path]:
    """Give every module of the package."""
    return sorted(PACKAGE.rglob("*.py"))


def test_the_tests_run_against_the_wheel_when_one_was_built() -> None:
    """What is tested is what is shipped: the built wheel, with its data files inside."""
    wheel = os.environ.get("HAULM_WHEEL")
    assert wheel is None or Path(haulm.__file__).is_relative_to(wheel)


def test_a_module_fits_in_the_head() -> None:
    """No module is longer than four hundred lines."""
    long = {
        path.name: length
        for path in modules()
        if (length := len(path.read_text().splitlines())) > LONGEST_MODULE
    }
    assert long == {}


def test_no_room_has_a_drawer_for_everything() -> None:
    """No module or folder is named for holding odds and ends."""
    assert {path.stem for path in PACKAGE.rglob("*")} & DRAWERS == set()


def test_imports_stand_at_the_top() -> None:
    """No function hides an import, so the import contract sees every one."""
    hidden = [
        f"{path.name}:{node.lineno}"
        for path in modules()
        for function in ast.walk(ast.parse(path.read_text()))
        if isinstance(function, ast.FunctionDef)
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom)
    ]
    assert hidden == []


def test_nothing_but_haulm_errors_is_made_to_be_raised() -> None:
    """Every exception class of haulm's own stands in the tree of measure/errors.py or under it."""
    loose = [
        f"{path.name}: {node.name}"
        for path in modules()
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.ClassDef)
        and any(isinstance(base, ast.Name) and base.id == "Exception" for base in node.bases)
        and node.name != "HaulmError"
    ]
    assert loose == []


def test_every_pinned_version_carries_hashes_and_no_address() -> None:
    """A fresh machine installs exactly what was tested, from whichever registry it uses."""
    for name in ("run.txt", "dev.txt"):
        text = (ROOT / "requirements" / name).read_text()
        pins = re.findall(r"^[A-Za-z0-9][\w.\-]*==", text, re.MULTILINE)
        assert pins
        assert "://" not in text
        assert len(pins) <= text.count("--hash=sha256:")


def test_the_links_of_the_readme_lead_somewhere() -> None:
    """Every file that the README and the contributor's page point to is there."""
    for page in ("README.md", "CONTRIBUTING.md"):
        links = re.findall(r"\]\(([^)#:]+)\)", (ROOT / page).read_text())
        assert [link for link in links if not (ROOT / link).exists()] == []
