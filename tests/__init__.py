"""Tests of the package.  What is compiled and kept for them stands in a folder of their own, outside the checkout."""

from __future__ import annotations

import os
import sys
from pathlib import Path

FOLDER = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "handouts-tests"
"""What tests keep between runs."""

if sys.dont_write_bytecode and "PYTHONDONTWRITEBYTECODE" in os.environ:
    # A machine that wants none beside the sources gets it elsewhere: hundreds of processes would compile the program again.
    sys.dont_write_bytecode, sys.pycache_prefix = False, str(FOLDER / "bytecode")
    os.environ["PYTHONPYCACHEPREFIX"] = sys.pycache_prefix
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
