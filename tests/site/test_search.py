"""Searching: the index that the build makes, searched by the script that the page runs."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from handouts.model import Library
from handouts.site.search_index import build_search_index
from tests.builders import a_library, an_exercise, words
from tests.site.making import ROOT
from tests.site.test_folding import in_node

SEARCH_JS = (ROOT / "templates/scripts/src/search.js").as_uri()


def found(library: Library, *queries: str, source: Library | None = None) -> list[list[str] | None]:
    """The slugs that each query finds, best first; None where a query has no word."""
    script = build_search_index(library, library.exercises, source or library).as_script()
    program = f"""import {{searchExercises}} from {SEARCH_JS!r};
    (0, eval)(given.script);
    const index = globalThis.handoutsIndex;
    console.log(JSON.stringify(given.queries.map(q => searchExercises(index, q)?.map(at => index.slugs[at]) ?? null)));"""
    return in_node(program, {"script": script, "queries": queries})


def test_steps_finds_the_step_up_first() -> None:
    """A plural finds the singular; titles come before other places."""
    assert found(a_library(), "steps")[0] == ["step-up", "step-down"]


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ("STEP up", ["step-up"]),
        ("up step", ["step-up"]),
        ("ste do", ["step-down"]),
        ("hip lift", ["bridge"]),
        ("ankles", ["heel-raise"]),
        ("mat", ["bridge"]),
        ("step nothing-like-it", []),
        ("  - ", None),
        ("constructor", []),
        ("__proto__", []),
        ("x" * 5_000, []),
    ],
)
def test_queries(query: str, expected: list[str] | None) -> None:
    """Every word must begin a word of the exercise, in any order."""
    assert found(a_library(), query)[0] == expected


def test_title_counts_more_than_another_name() -> None:
    """The same word ranks by where it stands."""
    library = a_library(an_exercise("first", also_called=("squat",)), an_exercise("second", title="Squat"),
                        an_exercise("third", why="A squat in daily life."))
    assert found(library, "squat")[0] == ["second", "first", "third"]


def test_other_language_also_finds_the_source_title() -> None:
    """A clinician finds the Spanish sheet by its English name, and by Spanish words without accents."""
    source = a_library(an_exercise("step-up"))
    spanish = a_library(replace(source.exercises[0], title=words("Subir un escalón")), language="es")
    assert found(spanish, "escalon", "steps", "SUBIR", "knees subir", source=source) == [["step-up"]] * 4


def test_script_holds_no_closing_tag_and_no_line_separator() -> None:
    """Texts that would end a script or a line in old readers are written as escapes, and come back whole."""
    library = a_library(an_exercise("odd", title="Odd\u2028one"))
    script = build_search_index(library, library.exercises, library).as_script()
    assert "<" not in script and "\u2028" not in script
    assert json.loads(script.removeprefix("globalThis.handoutsIndex = ").rstrip(";\n"))["slugs"] == ["odd"]
