"""The rooms import only downwards, never in a ring, never late; each can be imported alone."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "handouts"

LEVELS = [
    # lowest first; a room imports from rooms above it in this list, and from its own folder
    ["problems", "weight", "calling"],
    ["source", "colour", "cache", "manifest", "progress"],
    ["work", "program", "untouched"],
    ["recall"],
    ["model", "markup"],
    ["library", "stamp", "files", "progression", "templating", "placeholder", "disk"],
    ["assets", "staging", "locks"],
    ["author_files", "store"],
    ["workers"],
    ["dose", "reading", "figure", "ledger", "intake"],
    ["limits"],
    ["words", "drawing"],
    ["rules", "shelf", "score", "steps", "lost_addresses"],
    ["bundle", "publication"],
    ["site"],
    ["paper"],
    ["clinician", "phone", "translator", "upkeep"],
    ["publish", "settings", "press"],
    ["published", "inputs", "edition"],
    ["again"],
    ["loading"],
    ["pipeline"],
    ["commands"],
    ["cli"],
    ["__main__"],
]
"""The house, as DEVELOPERS.md draws it."""
LATE_IMPORTS = {
    "locks.py": {"fcntl"},  # only on POSIX
    "commands/build.py": {"handouts"},  # where nothing has changed, nothing that makes a site is imported
    "workers/pool.py": {"resource"},  # only on POSIX
    "workers/cluster.py": {"distributed"},  # an extra, for builds on a cluster
    "paper/writer.py": {"weasyprint"},  # a site without paper needs no Pango
}
"""Modules that may import something inside a function, and what."""


def rank_of(room: str) -> int:
    """How high a room stands."""
    return next(rank for rank, rooms in enumerate(LEVELS) if room in rooms)


def modules() -> list[Path]:
    """Every module of the package."""
    return sorted(path for path in PACKAGE.rglob("*.py") if "_templates" not in path.parts)


def room_of(path: Path) -> str:
    """The room a module stands in: its folder, or its own name."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports_of(path: Path) -> list[tuple[str, bool, int]]:
    """What a module imports: name, whether inside a function, line.  TYPE_CHECKING imports count."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    late = {
        id(node)
        for function in ast.walk(tree)
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef)
        for node in ast.walk(function)
    }
    found = []
    for node in ast.walk(tree):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        found += [(name, id(node) in late, node.lineno) for name in names]
    return found


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_go_down(path: Path) -> None:
    """No module imports a room that stands higher, or another room of its own level."""
    room = room_of(path)
    if room == "__init__":
        assert imports_of(path) == []
        return
    for name, _, line in imports_of(path):
        parts = name.split(".")
        if parts[0] != "handouts" or parts[1] in (room, "__version__"):
            continue
        assert rank_of(parts[1]) < rank_of(room), f"{path.name}:{line} imports {name}"


REMEMBERING = {"loading.py", "pipeline.py", "commands/making.py"}
"""What orders a build, and so may remember; all else is given how to call what it asks (``handouts.calling``).  A cluster asks for
the digest of code alone."""


def test_only_the_build_remembers() -> None:
    """No room below imports the store, so that none can keep what its arguments do not tell."""
    users = {str(path.relative_to(PACKAGE)) for path in modules() if any(name.startswith("handouts.store") for name, _, _ in imports_of(path))}
    assert {path for path in users if not path.startswith("store/")} == REMEMBERING | {"workers/cluster.py"}


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_late_imports(path: Path) -> None:
    """Imports stand at the top, but for the few that are named here."""
    allowed = LATE_IMPORTS.get(str(path.relative_to(PACKAGE)), set())
    late = {name.split(".")[0] for name, inside, _ in imports_of(path) if inside}
    assert late <= allowed


def test_no_ring_inside_a_room() -> None:
    """Inside each folder, too, no modules import one another in a ring."""
    edges: dict[str, set[str]] = {}
    for path in modules():
        name = ".".join(("handouts", *path.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(".__init__")
        edges[name] = set()
        for imported, _, _ in imports_of(path):
            for known in (imported, imported.rpartition(".")[0]):
                if known.startswith("handouts") and known != name and (PACKAGE.parent / Path(*known.split("."))).with_suffix(".py").exists():
                    edges[name].add(known)
    done: set[str] = set()

    def visit(name: str, path: tuple[str, ...]) -> None:
        assert name not in path, " -> ".join((*path[path.index(name) :], name))
        if name not in done:
            for other in sorted(edges.get(name, ())):
                visit(other, (*path, name))
            done.add(name)

    for name in sorted(edges):
        visit(name, ())


def test_each_module_imports_alone() -> None:
    """Every module can be the first one imported."""
    names = [".".join(("handouts", *path.relative_to(PACKAGE).with_suffix("").parts)) for path in modules()]
    code = (
        "import importlib, sys\n"
        f"for name in {names!r}:\n"
        "    for loaded in [m for m in sys.modules if m.startswith('handouts')]: del sys.modules[loaded]\n"
        "    if not name.endswith('__main__'): importlib.import_module(name)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=PACKAGE.parent, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]


def test_modules_are_small() -> None:
    """No module is longer than 340 lines; a longer one is two rooms.  Lists of phrases and words may grow."""
    long = {
        str(path.relative_to(PACKAGE)): count
        for path in modules()
        if (count := len(path.read_text(encoding="utf-8").splitlines())) > 340 and "phrases" not in path.parts
    }
    assert long == {}
