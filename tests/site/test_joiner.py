"""Joining modules into one classic script."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from handouts.site.joiner import JoinError, join_scripts

MODULES = {
    "a.js": '/** Doc. */\nexport const ONE = 1;\nexport function twice(x) {\n  return 2 * x;\n}\n',
    "deep/b.js": 'import { ONE, twice } from "../a.js";\n\nexport const THREE = ONE + twice(ONE);\n',
    "main.js": 'import { THREE } from "./deep/b.js";\nimport { twice } from "./a.js";\nconsole.log(twice(THREE), "import export");\n',
}


def test_joined_script_runs_as_the_modules_do() -> None:
    """Each module stands once, before what imports it, and the result runs as a classic script."""
    script = join_scripts(MODULES, "main.js")
    assert script.count("const ONE") == 1
    node = shutil.which("node")
    assert node
    done = subprocess.run([node, "--input-type=commonjs", "-e", script], capture_output=True, text=True, check=True)
    assert done.stdout == "6 import export\n"


@pytest.mark.parametrize(
    ("source", "message"),
    [
        ("export default 1;\n", "cannot join 'export default 1;'"),
        ('import x from "./a.js";\n', "cannot join 'import x from \"./a.js\";'"),
        ('import { ONE as one } from "./a.js";\n', "does not export|cannot join"),
        ('import { NOTHING } from "./a.js";\n', "'a.js' does not export 'NOTHING'"),
        ('import { x } from "./missing.js";\n', "there is no script 'missing.js'"),
        ('import("./a.js");\n', "cannot join 'import"),
        ("const u = import.meta.url;\n", "cannot join 'import.meta'"),
        ('export { y } from "./a.js";\n', "cannot join 'export"),
        ('import { ONE } from "./a.js";\nconst twice = ONE;\n', "'twice' is also declared in a.js"),
        ('import { z } from "./main.js";\nexport const z = 1;\n', "imports itself"),
    ],
)
def test_refusals(source: str, message: str) -> None:
    """Whatever the joiner does not understand is refused by name."""
    with pytest.raises(JoinError, match=message):
        join_scripts({**MODULES, "main.js": source}, "main.js")
