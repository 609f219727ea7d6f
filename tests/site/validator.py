"""The outside validator of HTML (Nu Html Checker) on a folder of pages."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

from tests.site.making import ROOT

NO_ORIGIN = "Resource violates Content Security Policy (meta tag): "
"""The validator thinks that 'self' never holds for a file; browsers differ, and test_browser.py asks one."""
_VALIDATOR = ROOT / "tests/node/node_modules/vnu-jar/build/dist/vnu.jar"
_SHORT_RUN = ("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xss4m")
"""A run of seconds does not earn what Java's second compiler costs: a third of the processor time."""


def ask_validator(folder: Path) -> list[dict[str, Any]]:
    """Every message about the pages of a folder, but for ``NO_ORIGIN``; run 'npm ci' in tests/node first."""
    java = shutil.which("java")
    assert java, "java is needed for the validator"
    assert _VALIDATOR.is_file(), "the validator is missing: run 'npm ci' in tests/node"
    command = [java, *_SHORT_RUN, "-jar", str(_VALIDATOR), "--format", "json", "--skip-non-html", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=300)
    return [each for each in json.loads(done.stderr)["messages"] if not each["message"].startswith(NO_ORIGIN)]
