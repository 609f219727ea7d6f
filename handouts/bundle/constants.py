"""Numbers and names of bundle codes, each once for Python and the page scripts: ``code.json`` beside this file.

What each means stands where it is used; the specification is ``CODE.md``.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

CONSTANTS: Mapping[str, Any] = json.loads(Path(__file__).with_name("code.json").read_text(encoding="utf-8"))
