"""Every page of a site is valid HTML by an outside validator (the Nu Html Checker)."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

from tests.site.making import ROOT, make_site, two_languages, write_site

NO_ORIGIN = "Resource violates Content Security Policy (meta tag): "
"""The validator thinks that 'self' never holds for a file; browsers differ, and test_browser.py asks one."""
NO_SCRIPT, DATA = "Inline script violates Content Security Policy", '<script type="application/ld+json">'
"""It takes data for a script; a data block is never run (HTML, 4.12.1), and test_structured.py asks a browser."""
VALIDATOR = ROOT / "tests/node/node_modules/vnu-jar/build/dist/vnu.jar"


def test_every_page_is_valid(tmp_path: Path) -> None:
    """No error and no warning in the whole folder; run 'npm ci' in tests/node first."""
    assert VALIDATOR.is_file(), "the validator is missing: run 'npm ci' in tests/node"
    java = shutil.which("java")
    assert java, "java is needed for the validator"
    write_site({path: data for path, data in make_site(two_languages()).items() if path.endswith(".html")}, tmp_path)
    done = subprocess.run(
        [java, "-jar", str(VALIDATOR), "--format", "json", "--skip-non-html", str(tmp_path)],
        capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    messages = [
        each
        for each in json.loads(done.stderr)["messages"]
        if not each["message"].startswith(NO_ORIGIN)
        and not (each["message"].startswith(NO_SCRIPT) and DATA in each.get("extract", ""))
    ]
    assert [(each["url"].removeprefix(f"file:{tmp_path}/"), each["message"], each.get("extract")) for each in messages] == []
