"""Order in the sources: ruff and mypy find nothing, and no file names a place outside the project."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections import Counter
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).parents[1]
TEXTS = {".py", ".md", ".toml", ".yaml", ".html", ".css", ".js", ".json", ".po", ".lock", ".txt", ".sh", ""}


def run(*words: str) -> str:
    """What a tool of the project's environment says; empty where it finds nothing."""
    done = subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, check=False)
    return "" if done.returncode == 0 else done.stdout + done.stderr


def tracked() -> list[Path]:
    """Every text file that is committed or about to be."""
    said = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return [path for name in said.stdout.split("\n") if name and (path := ROOT / name).is_file() and path.suffix in TEXTS]


def test_ruff() -> None:
    """Style and common faults."""
    assert run("ruff", "check", "handouts", "tests") == ""


def test_mypy() -> None:
    """Types, strictly."""
    assert run("mypy") == ""


def sources() -> dict[Path, ast.Module]:
    """Every module of the package."""
    return {path: ast.parse(path.read_text(encoding="utf-8")) for path in sorted((ROOT / "handouts").rglob("*.py")) if "_templates" not in path.parts}


def test_each_class_has_a_name_of_its_own() -> None:
    """No name stands for two things."""
    names = Counter(node.name for tree in sources().values() for node in ast.walk(tree) if isinstance(node, ast.ClassDef))
    assert [name for name, count in names.items() if count > 1] == []


def test_nothing_is_only_for_tests() -> None:
    """Each function and class at the top of a module is used by the package itself, or named as a task or in a template."""
    trees, used = sources(), Counter[str]()
    for tree in trees.values():
        for node in ast.walk(tree):
            match node:
                case ast.Name(id=name) | ast.Attribute(attr=name):
                    used[name] += 1
                case ast.Constant(value=str(text)) if len(text) < 200:
                    used.update(re.findall(r"\w+", text))
    for path in (ROOT / "templates").rglob("*.html"):
        used.update(re.findall(r"\w+", path.read_text(encoding="utf-8")))
    found = []
    for path, tree in trees.items():
        for node in tree.body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("__"):
                itself = sum(isinstance(each, ast.Name) and each.id == node.name for each in ast.walk(node))
                found += [f"{path.relative_to(ROOT)}: {node.name}"] if used[node.name] <= itself else []
    assert found == []


def test_long_runs_name_what_there_is() -> None:
    """What the commands of ``tests/long`` import, change and copy is there: nobody runs them after each change."""
    missing = []
    for path in sorted((ROOT / "tests/long").glob("*.py")):
        text = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(("handouts", "tests")):
                module = import_module(str(node.module))
                missing += [f"{path.name}: {node.module}.{each.name}" for each in node.names if not hasattr(module, each.name) and find_spec(f"{node.module}.{each.name}") is None]
        named = re.findall(r'"((?:[a-z_]+/)+[a-z_]+\.py)"', text)
        missing += [f"{path.name}: {name}" for name in named if not any((ROOT / place / name).is_file() for place in (".", "handouts", "tests"))]
    assert missing == []


def test_no_address_of_a_registry_or_a_machine() -> None:
    """No committed file names a package registry's host or a folder of one machine."""
    hosts = "pypi" + r"\.org|files\.python" + r"hosted\.org|registry\." + r"npmjs\.org|deb\." + r"debian\.org"
    places = r"/ho" + r"me/\w+/|/Us" + r"ers/\w+/|/wo" + r"rk/(?:main|shared)"
    found = [
        f"{path.relative_to(ROOT)}: {match.group()}"
        for path in tracked()
        for match in re.finditer(f"{hosts}|{places}", path.read_text(encoding="utf-8", errors="replace"))
    ]
    assert found == []
