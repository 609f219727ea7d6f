"""The rooms import only downwards, never in a circle, never late: so each module can be imported alone.

Why that follows.  A module that is imported first fails only where it, or what it imports, asks for a name of a module that is still
being imported.  Modules wait for one another in a chain of imports, and from the waiting one the chain leads back to it.  Inside a room
that would be a circle, which is refused (the room's ``__init__`` counts as a module); from another room it could not lead back, since
imports only go down; and no import happens later.  That the names asked for exist is seen by mypy.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "handouts"

LEVELS = [
    # lowest first; a room imports from rooms above it in this list, and from its own folder
    ["figure.body", "problems", "readability", "tasks"],
    ["source", "text"],
    ["figure.pose", "model", "templating"],
    ["dose", "figure.draw", "store"],
    ["figure.checks", "figure.props", "library", "paper.pdf", "publishing", "workers"],
    ["figure", "ledger", "paper.writer"],
    ["importers", "limits", "score"],
    ["words"],
    ["gallery", "posing", "publication", "rules"],
    ["bases", "bundle", "site"],
    ["changes", "paper", "phone", "translator", "history_pages"],
    ["clinician"],
    ["build"],
    ["commands"],
    ["cli"],
    ["__main__"],
]
"""The rooms, as DEVELOPERS.md draws them."""
LATE_IMPORTS = {
    "publishing/locks.py": {"fcntl"},  # only on POSIX
    "commands/build.py": {"handouts"},  # where nothing has changed, nothing that makes a site is imported
    "source/bases.py": {"handouts"},  # a library without a base needs no parser to be read
    "workers/pool.py": {"resource"},  # only on POSIX
    "workers/workers.py": {"handouts"},  # a build on this machine needs no cluster
    "workers/cluster.py": {"distributed"},  # an extra, for builds on a cluster
    "paper/writer/load.py": {"weasyprint"},  # a site without paper needs no Pango
}
"""Modules that may import something inside a function, and what."""


SUITES = {room for rooms in LEVELS for room in rooms if "." in room}
"""Rooms inside a room."""


def rank_of(room: str) -> int:
    """How high a room stands."""
    return next(rank for rank, rooms in enumerate(LEVELS) if room in rooms)


@cache
def modules() -> list[Path]:
    """Every module of the package."""
    return sorted(path for path in PACKAGE.rglob("*.py") if "_templates" not in path.parts)


def room_of(path: Path) -> str:
    """The room a module stands in: its folder, or its own name."""
    return room_named(".".join(path.relative_to(PACKAGE).with_suffix("").parts))


def room_named(name: str) -> str:
    """The room of a name inside the package: its first part, and a second one where a room has rooms of its own."""
    parts = name.split(".")
    return ".".join(parts[:2]) if ".".join(parts[:2]) in SUITES else parts[0]


@cache
def imports_of(path: Path) -> list[tuple[str, bool, int]]:
    """What a module imports: name, whether inside a function, line.  TYPE_CHECKING imports count, and tasks named for later."""
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
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Later":
            module, name, _ = node.args
            names = [f"{ast.literal_eval(module)}.{ast.literal_eval(name)}"]
        found += [(name, id(node) in late, node.lineno) for name in names]
    return found


def test_imports_go_down() -> None:
    """No module imports a room that stands higher, or another room of its own level; every room has a level."""
    up = []
    for path in modules():
        room = room_of(path)
        if room == "__init__":
            up += [f"{path.name}:{line} imports {name}" for name, _, line in imports_of(path)]
            continue
        for name, _, line in imports_of(path):
            parts = name.split(".")
            there = room_named(".".join(parts[1:]))
            if parts[0] == "handouts" and there not in (room, "__version__") and rank_of(there) >= rank_of(room):
                up.append(f"{path.relative_to(PACKAGE)}:{line} imports {name}")
    assert up == []
    assert {room_of(path) for path in modules()} - {"__init__"} == {room for rooms in LEVELS for room in rooms}


REMEMBERING = {"build/explain.py", "build/loading.py", "build/pdfs.py", "build/pipeline.py", "commands/making.py", "commands/preview.py"}
"""What orders a build, and so may remember; all else is given how to call what it asks (``handouts.tasks.calling``).  A cluster asks for
the digest of code alone."""


BY_NAME = ("handouts.store.objects", "handouts.store.whole_file", "handouts.store.digest", "handouts.store.code_digest")
"""Files that are known by their bytes, and digests of values and of the program: none gives what was made for other arguments."""


def test_only_the_build_remembers() -> None:
    """No room below imports the store, so that none can keep what its arguments do not tell."""
    users = {
        str(path.relative_to(PACKAGE))
        for path in modules()
        if any(name.startswith("handouts.store") and not name.startswith(BY_NAME) for name, _, _ in imports_of(path))
    }
    assert {path for path in users if not path.startswith("store/")} == REMEMBERING


def test_no_late_imports() -> None:
    """Imports stand at the top, but for the few that are named here."""
    late = {
        (str(path.relative_to(PACKAGE)), name.split(".")[0]) for path in modules() for name, inside, _ in imports_of(path) if inside
    }
    assert late == {(path, name) for path, names in LATE_IMPORTS.items() for name in names}


def name_of(path: Path) -> str:
    """The name by which a module is imported."""
    return ".".join(("handouts", *path.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(".__init__")


def test_no_ring_inside_a_room() -> None:
    """Inside each folder, too, no modules import one another in a circle."""
    names = {name_of(path) for path in modules()}
    edges: dict[str, set[str]] = {}
    for path in modules():
        name = name_of(path)
        edges[name] = set()
        for imported, _, _ in imports_of(path):
            for known in (imported, imported.rpartition(".")[0]):
                if known in names and known != name:
                    edges[name].add(known)
                    break  # a module of a room, or else the room itself
    try:
        TopologicalSorter(edges).prepare()
    except CycleError as error:
        pytest.fail(" -> ".join(reversed(error.args[1])))


def test_modules_are_small() -> None:
    """No module is longer than 340 lines; a longer one is two rooms.  Lists of phrases and words may grow."""
    long = {
        str(path.relative_to(PACKAGE)): count
        for path in modules()
        if (count := len(path.read_text(encoding="utf-8").splitlines())) > 340 and "phrases" not in path.parts
    }
    assert long == {}


def test_a_class_name_stands_for_one_thing() -> None:
    """No two modules give a class the same name, so that a name in a traceback or a message tells where to look."""
    places: dict[str, list[str]] = {}
    for path in modules():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                places.setdefault(node.name, []).append(str(path.relative_to(PACKAGE)))
    assert {name: files for name, files in places.items() if len(files) > 1} == {}


def test_a_small_build_imports_no_engine() -> None:
    """What makes pages needs neither the engine of figures nor the PDF writer, its fonts or its codes, before one of them makes something."""
    heavy = ("numpy", "shapely", "weasyprint", "fontTools", "pypdfium2", "PIL", "segno", "distributed", "handouts.figure.compute")
    code = f"import sys, handouts.commands.making; print([name for name in {heavy!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=PACKAGE.parent)
    assert done.stdout.strip() == "[]"
