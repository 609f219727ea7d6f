"""Codes of a library that stands on another: an own thing has one that the base will never give, a file of the base's name the base's."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.model import Library
from handouts.problems import Grade, Problem
from handouts.rules.standing import find_added


def check_codes(library: Library) -> Iterator[Problem]:
    """Every problem of the codes of what a clinic adds to its base, or puts in place of it."""
    assert library.base is not None
    base = library.base.library
    for item in find_added(library):
        other = base.exercise.get(item.slug) or base.programme.get(item.slug)
        if other is not None and type(other) is type(item):
            kind = type(item).__name__.lower()
            what = f"this file has the name of the base's {kind} {other.code}, and the code {item.code} ({other.at('code')})"
            mend = "Write the base's code to take its place, or give the file another name."
            yield Problem(item.at("code"), "other-code", what, mend)
        elif not base.clinic.codes_kept_free:
            what = f"the base keeps no codes free, so something that it adds later may take the code '{item.code}'"
            yield Problem(item.at("code"), "code-not-free", what, "Write 'codes kept free: [X]' into the base's clinic.yaml.", Grade.NOTICE)
        elif item.code[0] not in base.clinic.codes_kept_free:
            what = f"the base may give the code '{item.code}' to something that it adds later"
            kept = ", ".join(base.clinic.codes_kept_free)
            yield Problem(item.at("code"), "code-not-free", what, f"Give it a code that begins with a letter that the base keeps free: {kept}.")
