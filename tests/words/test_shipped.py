"""The catalogues that ship with the project: the interface, and the demo library."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts.library.read import read_library
from handouts.problems import show_problem
from handouts.source.files import read_folder
from handouts.words import locales
from handouts.words.catalogue import read_catalogue, write_catalogue
from handouts.words.folder import read_words
from handouts.words.messages import collect_messages
from handouts.words.phrases import PHRASES
from handouts.words.shipped import read_interface
from handouts.words.state import TextState, find_state
from handouts.words.translate import translate_library
from handouts.words.wording import Wording

ROOT = Path(__file__).parents[2]
INTERFACE = sorted((ROOT / "handouts/words/interface").glob("*.po"))
DEMO = sorted((ROOT / "content/words").glob("*.po"))
WHOLE = ("ar", "es")
"""Languages in which every exercise of the demo library is published."""
ONE_PROGRAMME = "steady-on-stairs"
"""The programme that is published in every other language of the demo library."""


def demo_files() -> dict[str, bytes]:
    """The files of the demo library."""
    return read_folder(ROOT / "content", "content")[0]


@pytest.mark.parametrize("file", INTERFACE, ids=lambda file: file.stem)
def test_interface_is_whole(file: Path) -> None:
    """Every phrase of the interface can be said in every language that ships, with all its placeholders."""
    found = read_interface(file.read_bytes(), file.name, file.stem, PHRASES)
    assert [show_problem(problem) for problem in found.problems] == []
    assert set(found.forms) == set(PHRASES)


@pytest.mark.parametrize("file", [*INTERFACE, *DEMO], ids=lambda file: f"{file.parts[-3]}-{file.stem}")
def test_files_are_in_their_written_form(file: Path) -> None:
    """Each catalogue is exactly what the project writes: collecting changes no line that did not change."""
    catalogue, problems = read_catalogue(file.read_bytes(), file.name, file.stem)
    assert problems == []
    assert catalogue is not None
    assert write_catalogue(catalogue) == file.read_bytes()


@pytest.mark.parametrize("file", DEMO, ids=lambda file: file.stem)
def test_demo_translations(file: Path) -> None:
    """No translation of the demo library is faulty or stale, and what should be published is."""
    files = demo_files()
    library, _ = read_library(files)
    assert library is not None
    folder, _ = read_words(files, library.clinic.languages)
    state = find_state(collect_messages(library), folder.catalogues[file.stem], None, folder.glossary)
    assert [show_problem(problem) for problem in state.problems] == []
    assert [text.message.context for text in state.by_key.values() if text.state in (TextState.STALE, TextState.FUZZY)] == []
    made = translate_library(library, folder.catalogues[file.stem], None, folder.glossary).library
    assert made is not None
    programmes = {item.slug: item.exercise_slugs for item in made.programmes}
    wanted = {item.slug: item.exercise_slugs for item in library.programmes}
    assert programmes[ONE_PROGRAMME] == wanted[ONE_PROGRAMME]
    if file.stem in WHOLE:
        assert list(made.exercise) == list(library.exercise)
        assert programmes == wanted


def test_demo_has_its_languages() -> None:
    """Spanish and Arabic are there, and every catalogue is of a language that CLDR knows."""
    assert {file.stem for file in DEMO} >= set(WHOLE)
    assert all(locales.is_known(file.stem) for file in [*INTERFACE, *DEMO])


@pytest.mark.parametrize("file", INTERFACE, ids=lambda file: file.stem)
def test_no_raw_unit_ids(file: Path) -> None:
    """No phrase with a count prints a placeholder or the raw id of a unit, whatever the number."""
    wording = Wording(file.stem)
    for name in ("dose.sets", "dose.seconds", "dose.minutes", "dose.meters", "dose.days", "site.weeks"):
        for number in (0, 1, 2, 3, 5, 11, 21, 100, 1.5):
            said = wording.count(name, number)
            assert said
            assert not any(raw in said for raw in ("{", "}", "duration-", "length-"))
