"""Another program over an old output makes what it makes from nothing; ``tests/long/program_edits.py`` tries every module."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from importlib import import_module
from pathlib import Path
from typing import Any, get_type_hints

import pytest

from handouts.store.code_digest import Code
from handouts.store.memo import own_code
from handouts.tasks.calling import Later
from tests.long.program_edits import Edit, Program
from tests.test_layers import PACKAGE

CONSTANTS = (
    ("paper/qr_code.py", "QUIET_ZONE = 4", "QUIET_ZONE = 5"),
    ("paper/contained_writer.py", 'PDF_VARIANT = "pdf/ua-1"', 'PDF_VARIANT = "pdf/ua-2"'),
    ("paper/geometry.py", "SPARE_MM = 1.0", "SPARE_MM = 3.0"),
    ("paper/geometry.py", 'FIGURE_LEAST = {"standard": 45.0', 'FIGURE_LEAST = {"standard": 47.0'),
    ("paper/previews.py", "WIDTH = 800", "WIDTH = 640"),
    ("build/drawing.py", "screen=svg_of(figure, TITLE, DESCRIPTION, IDENT),", 'screen=svg_of(figure, TITLE, DESCRIPTION, IDENT).replace("<svg", "<svg data-new=\\"\\"", 1),'),
)
TASKS = (
    "handouts.build.drawing:draw_one",
    "handouts.build.drawing:draw_mistake",
    "handouts.build.own_pictures:prepare_picture",
    "handouts.paper.laying:lay_out_documents",
    "handouts.paper.settle:draw_article",
    "handouts.paper.strips:draw_strips",
    "handouts.paper.preview_drawing:draw_one",
    "handouts.paper.qr_code:draw_code",
    "handouts.paper.font_letters:read_letters",
    "handouts.paper.own_faces:cut_face",
    "handouts.phone.icon:icon_png",
    "handouts.ledger.read:read_ledger",
    "handouts.library.read:pack_file",
    "handouts.templating.templates:compile_template",
    "handouts.words.shipped:read_shipped",
    "handouts.words.own_interface:read_checked",
    "handouts.words.catalogue:read_catalogue",
    "handouts.words.checks:find_all_faults",
    "handouts.words.directions:find_all_direction_faults",
    "handouts.rules.texts:find_long_sentences",
    "handouts.rules.texts:find_hard_text",
    "handouts.rules.texts:find_choppy_text",
    "handouts.limits.find:find_conflicts",
    "handouts.site.search_index:find_words",
)
"""Every task of a build."""
DOCUMENT = "handouts.build.pdfs:make_document"
"""What a PDF is known by: all that makes one is behind it."""


@pytest.mark.paper
def test_constants_of_sheets_and_figures(tmp_path: Path) -> None:
    """Constants that only PDFs, codes, pictures or drawings show, all at once: no file is stale."""
    program = Program(tmp_path, sizes="standard")
    edits = []
    for module, old, new in CONSTANTS:
        source = program.source_of(module)
        assert source.count(old) == 1, (module, old)
        edits.append(Edit(module, old, source.replace(old, new)))
    assert program.try_edits(*edits) == ("another site", [])


def test_tasks_are_all_named() -> None:
    """The tasks above are those that the package calls."""
    found, later = set[str](), dict[str, Later[Any]]()
    for path in PACKAGE.rglob("*.py"):
        if path.parent.name == "store":
            continue
        module = import_module(".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts))
        own = {name: value for name, value in vars(module).items() if isinstance(value, Later)}
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and len(node.args) > 1 and ast.unparse(node.func) == "_DrawnParts":
                found |= {node.args[1].id} - own.keys() if isinstance(node.args[1], ast.Name) else set()
            if isinstance(node, ast.Call) and node.args and ast.unparse(node.func).rpartition(".")[2].lstrip("_") in ("call", "each"):
                first = node.args[0].args[0] if isinstance(node.args[0], ast.Call) else node.args[0]
                found |= {first.id} - own.keys() if isinstance(first, ast.Name) else set()
        later |= {f"{value.module}:{value.name}": value for value in own.values()}
    assert found == {task.partition(":")[2] for task in TASKS if task not in later} and set(later) <= set(TASKS)
    for name, value in later.items():
        assert value.kind == get_type_hints(value.find())["return"], name


IMPORTING = """
import contextlib, importlib, json, os, sys

def after_import(*names):
    "What a child of this process has loaded once it has imported modules."
    reader, writer = os.pipe()
    if not os.fork():
        for name in names:
            importlib.import_module(name)
        with open(writer, "w") as told:
            json.dump(sorted(sys.modules), told)
        os._exit(0)
    os.close(writer)
    with open(reader) as told:
        found = json.load(told)
    os.wait()
    return found

modules = sys.argv[1:]
for name in after_import(*modules):  # what is not the program's is loaded once for all children
    if not name.startswith("handouts"):
        with contextlib.suppress(Exception):  # a name that another module made up for itself
            importlib.import_module(name)
json.dump({each: [name for name in after_import(each) if name.startswith("handouts")] for each in modules}, sys.stdout)
"""


def test_all_that_a_task_imports_counts() -> None:
    """What Python loads of the package when it imports a task is in the code behind it."""
    modules = sorted({task.partition(":")[0] for task in (*TASKS, DOCUMENT)})
    done = subprocess.run([sys.executable, "-c", IMPORTING, *modules], capture_output=True, text=True, check=True, cwd=PACKAGE.parent)
    loaded = {module: set(names) for module, names in json.loads(done.stdout).items()}
    assert sorted(loaded) == modules and all(module in names for module, names in loaded.items())
    assert {module: names - own_code().closure(module)[0] for module, names in loaded.items()} == {module: set() for module in modules}


def test_exactly_the_tasks_behind_a_module_miss(tmp_path: Path) -> None:
    """A byte more in one module in sixty (``tests/long/program_edits.py`` tries each): the digest of each task changes where the module is behind it, and nowhere else."""
    root = Program(tmp_path, build=False).home / "program/handouts"
    modules = {task.partition(":")[0] for task in (*TASKS, DOCUMENT)}
    whole_code = Code(root)
    before = {module: whole_code.digest(module) for module in modules}
    for path in sorted(root.rglob("*.py"))[::60]:
        whole = path.read_bytes()
        path.write_bytes(whole + b"# more\n")
        name = ".".join(("handouts", *path.relative_to(root).with_suffix("").parts)).removesuffix(".__init__")
        code = Code(root)
        code._read = {module: read for module, read in whole_code._read.items() if module != name}  # the other files are as they were
        assert {each for each in modules if code.digest(each) != before[each]} == {each for each in modules if name in code.closure(each)[0]}, name
        path.write_bytes(whole)
