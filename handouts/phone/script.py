"""Leaves out of a joined script what nothing in it uses: the page shares modules that do more than it needs.

Works on our own sources only: a top-level function or constant begins at the margin and ends with a closing
bracket at the margin.  Never changes what it keeps, but for types in comments.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from functools import partial

_TOP = re.compile(
    r"^(?:async )?function (?P<function>[\w$]+)\(.*?^\}\n|^const (?P<constant>[\w$]+) = "
    r"(?:[^\n]*;\n|[^\n]*[\[{(]\n.*?^[\]})]+;\n)",
    re.MULTILINE | re.DOTALL,
)
_PURE = re.compile(r"^const [\w$]+ = (?:[\d_.]+|\"[^\"]*\"|\[[^()]*\]|\{[^()]*\}|/.*/\w*);\n$", re.DOTALL)
"""Constants whose making has no effect."""
_TYPES = re.compile(r"/\*\* (?:@\w+ )?[^*\n]*\*/ ?")
"""Types beside the code; comments that fill lines are gone already."""
_WORD = re.compile(r"[\w$]+")


def drop_unused(script: str) -> str:
    """The script without types in comments, and without functions and plain constants that are named nowhere else in it."""
    script = _TYPES.sub("", script)
    while True:
        counts = Counter(_WORD.findall(script))
        kept = _TOP.sub(partial(_keep, counts), script)
        if kept == script:
            return script
        script = kept


def _keep(counts: Mapping[str, int], match: re.Match[str]) -> str:
    return "" if _is_unused(match, counts) else match[0]


def _is_unused(match: re.Match[str], counts: Mapping[str, int]) -> bool:
    name = match["function"] or match["constant"]
    own = len(re.findall(rf"(?<![\w$]){re.escape(name)}(?![\w$])", match[0]))
    alone = counts[name] == own
    return alone and (match["function"] is not None or _PURE.match(match[0]) is not None)
