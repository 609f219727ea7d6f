"""The digest of code follows everything that the code imports, and nothing else."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from handouts.store import code_digest
from handouts.store.code_digest import Code, imports_of
from handouts.store.memo import own_code
from tests.test_layers import PACKAGE, modules
from tests.test_layers import imports_of as imports_of_tree

SOURCES = {
    "__init__.py": '__version__ = "1"\n',
    "top.py": "from package.room.middle import (\n    thing,  # the thing\n    other as another,\n)\nimport json\n",
    "room/__init__.py": "",
    "room/middle.py": 'def late():\n    from package.low import value\n    import numpy.linalg as np\n\nTEMPLATES = ("styles/", "one.html")\n',
    "room/beside.py": "",
    "room/words/es.po": "hola",
    "low.py": "value = 1\n",
    "apart.py": "",
    "apart_data.txt": "",
}
TEMPLATES = {"styles/a.css": b"a", "one.html": b"b", "two.html": b"c"}


def code_in(folder: Path, **changed: str) -> dict[str, bytes]:
    """The digest of each module of a small package."""
    for path, text in {**SOURCES, **{key.replace("__", "/"): text for key, text in changed.items()}}.items():
        (folder / "package" / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / "package" / path).write_text(text)
    code = Code(folder / "package", lambda: TEMPLATES)
    return {name: code.digest(name) for name in ("package.top", "package.room.middle", "package.low", "package.apart")}


def changed_by(folder: Path, path: str, text: str) -> set[str]:
    """The modules whose digest another text of one file changes."""
    before = code_in(folder)
    (folder / "package" / path).write_text(text)
    code = Code(folder / "package", lambda: TEMPLATES)
    return {name.removeprefix("package.") for name, found in before.items() if code.digest(name) != found}


@pytest.mark.parametrize(("path", "who"), [
    ("top.py", {"top"}), ("room/middle.py", {"top", "room.middle"}), ("low.py", {"top", "room.middle", "low"}), ("apart.py", {"apart"}),
    ("room/__init__.py", {"top", "room.middle"}), ("__init__.py", {"top", "room.middle", "low", "apart"}), ("room/beside.py", set()),
    ("room/words/es.po", {"top", "room.middle"}), ("apart_data.txt", set()),
])
def test_what_a_change_reaches(tmp_path: Path, path: str, who: set[str]) -> None:
    """Whoever imports the file, however far below; data beside a module of a room too."""
    assert changed_by(tmp_path, path, f"{SOURCES[path]}\n# changed\n") == who


def test_templates_that_are_named(tmp_path: Path) -> None:
    """Those that a module of the closure names, and no others."""
    before = code_in(tmp_path)
    for path, who in (("styles/a.css", {"package.top", "package.room.middle"}), ("one.html", {"package.top", "package.room.middle"}), ("two.html", set())):
        code = Code(tmp_path / "package", lambda path=path: {**TEMPLATES, path: b"other"})
        assert {name for name, found in before.items() if code.digest(name) != found} == who


def test_kept_digests(tmp_path: Path) -> None:
    """What a file has is taken where nothing at all has changed: no source, no template; a damaged file is none."""
    file, root = tmp_path / "kept/code", tmp_path / "package"
    expected = code_in(tmp_path)

    def recalled(templates: dict[str, bytes] = TEMPLATES) -> dict[str, bytes]:
        code_digest.whole_digest.cache_clear()
        code = Code(root, lambda: templates)
        code.recall(file)
        return code._digests

    first = Code(root, lambda: TEMPLATES)
    first.recall(file)
    assert {name: first.digest(name) for name in expected} == expected
    first.write(file)
    assert recalled() == expected
    assert recalled({**TEMPLATES, "two.html": b"other"}) == {}
    (root / "room/beside.py").write_text("# another\n")
    assert recalled() == {}
    (root / "room/beside.py").write_text(SOURCES["room/beside.py"])
    assert recalled() == expected
    data = bytearray(file.read_bytes())
    data[-3] ^= 1
    file.write_bytes(data)
    assert recalled() == {}


def test_a_task_for_later_counts_as_an_import(tmp_path: Path) -> None:
    """A module that is named for a task is behind the module that names it."""
    top = f'{SOURCES["top.py"]}\nLATER = Later(\n    "package.apart", "task", str)\n'
    code_in(tmp_path, top=SOURCES["top.py"])
    (tmp_path / "package/top.py").write_text(top)
    assert "package.apart" in Code(tmp_path / "package", lambda: TEMPLATES).closure("package.top")[0]


def test_versions_of_packages(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another version of a package, or of what it requires, reaches those that import it."""
    before = code_in(tmp_path)
    monkeypatch.setattr(code_digest, "versions_of", lambda names: [f"{name} another" for name in sorted(names)])
    after = code_in(tmp_path)
    assert {name for name in before if before[name] != after[name]} == {"package.top", "package.room.middle"}
    monkeypatch.undo()
    found = code_digest.versions_of(frozenset({"weasyprint"}))
    assert {line.partition(" ")[0] for line in found} >= {"weasyprint", "pydyf", "fonttools", "libpango-1.0.so.0", "libharfbuzz.so.0"}
    assert not any(line.endswith("unknown") for line in found)
    assert code_digest.versions_of(frozenset({"no_such_package"})) == []


def test_no_import_is_overlooked() -> None:
    """What Python's own parser finds is found; there are no relative imports, and none by name but for those named here."""
    for path in modules():
        source = path.read_text(encoding="utf-8")
        found = set(imports_of(source))
        assert {name for name, _, _ in imports_of_tree(path)} - found - {"__future__.annotations"} == set(), path
        assert not any(isinstance(node, ast.ImportFrom) and node.level for node in ast.walk(ast.parse(source))), path
        by_name = "import_module" in source or "__import__" in source
        # a command by its word, where no result is made; a task that names its module for the digest; names that stand as imports too
        assert not by_name or str(path.relative_to(PACKAGE)) in ("cli.py", "tasks/calling.py", "figure/__init__.py"), path


def test_a_sheet_does_not_follow_the_site() -> None:
    """What a PDF is made by holds its styles and fonts, and no page."""
    own, others = own_code().closure("handouts.paper.laying")
    assert {"handouts.paper.contained_writer", "handouts.paper.assets", "handouts.paper.writer.stack", "handouts.paper.writer.spelling"} <= own
    assert not any(name.startswith("handouts.site") for name in own) and "weasyprint" in others


def test_templates_are_read_by_name_below_the_build() -> None:
    """Only rooms that order a build read all templates; what else reads some names them as ``TEMPLATES``."""
    free = {"build/pipeline.py", "build/inputs.py", "build/explain.py", "templating/assets.py", "commands/start.py", "commands/figure.py", "store/code_digest.py"}
    for path in modules():
        source = path.read_text(encoding="utf-8")
        if "read_templates" in source and str(path.relative_to(PACKAGE)) not in free:
            assert re.search(r"\bTEMPLATES = \(|import .*\bTEMPLATES\b", source) and source.count("read_templates(") == source.count("read_templates(TEMPLATES)"), path
