"""The scripts keep to their types."""

from __future__ import annotations

import subprocess

from tests.site.making import ROOT


def test_types_of_the_scripts() -> None:
    """The TypeScript compiler finds no fault in the JSDoc types, strict; run 'npm ci' in tests/node first."""
    compiler = ROOT / "tests/node/node_modules/.bin/tsc"
    assert compiler.exists(), "the compiler is missing: run 'npm ci' in tests/node"
    done = subprocess.run([compiler, "-p", ROOT / "templates/scripts/jsconfig.json"], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, "")
