"""``handouts words``: gather new texts into the catalogues, tell their state, exchange them with a translation office."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_json, print_problems
from handouts.files import read_folder
from handouts.library.read import read_library
from handouts.markup import plain_text
from handouts.model import Library
from handouts.problems import has_errors, sort_problems, suggest
from handouts.publish import replace_files
from handouts.reading import score
from handouts.words.folder import WordsFolder, collect, read_words
from handouts.words.messages import Message, collect_messages
from handouts.words.speech import Speech
from handouts.words.state import LanguageState, OwnerState, TextState, find_state
from handouts.words.xliff import read_xliff, write_xliff

WORK = (TextState.MISSING, TextState.STALE, TextState.FUZZY, TextState.FAULTY)
"""States that ask for work, in the order of the table."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    for name, says in (
        ("collect", "gather new and changed texts into words/LANG.po; no translation is lost"),
        ("state", "what is missing, stale, not finished, faulty, not reviewed, and how hard it reads"),
        ("export", "write a catalogue as XLIFF 2.0 for a translation office"),
        ("import", "take the translations of an XLIFF 2.0 file into the catalogue"),
    ):
        action = actions.add_parser(name, help=says, description=says)
        action.add_argument(
            "--library", type=Path, default=Path("content"), help="folder of the library (default: content)"
        )
        if name == "state":
            action.add_argument("--json", action="store_true", help="print it as JSON, for tools")
            action.add_argument("--all", action="store_true", help="also what is whole and reviewed")
        if name in ("export", "import"):
            action.add_argument("language", help="a language of clinic.yaml, such as es")
            action.add_argument("file", type=Path, help="the XLIFF file")


def run(arguments: argparse.Namespace) -> int:
    """One action on the catalogues of a library."""
    name = arguments.library.name
    files, problems = read_folder(arguments.library, name)
    library, found = read_library(files, name)
    problems += found
    if library is None:
        print_problems(sort_problems(problems))
        return CANNOT_RUN
    folder, found = read_words(files, library.clinic.languages, name)
    if arguments.action != "collect" and has_errors(found):
        print_problems(sort_problems(found))
        return HAS_PROBLEMS
    language: str = getattr(arguments, "language", "")
    if language and language not in library.clinic.languages.also:
        hint = suggest(language, library.clinic.languages.also)
        print(f"handouts: '{language}' is not a language of clinic.yaml. {hint}", file=sys.stderr)
        return CANNOT_RUN
    messages = collect_messages(library)
    if arguments.action == "collect":
        return _collect(arguments.library, folder, messages, library, name)
    if arguments.action == "state":
        return _state(arguments, folder, messages, library)
    if arguments.action == "export":
        arguments.file.write_bytes(write_xliff(folder.catalogues[language], library.language))
        print(arguments.file)
        return DONE
    catalogue, found = read_xliff(arguments.file.read_bytes(), str(arguments.file), folder.catalogues[language])
    print_problems(sort_problems(found))
    if has_errors(found):
        return HAS_PROBLEMS
    merged = WordsFolder({**folder.catalogues, language: catalogue}, folder.reviews, folder.glossary)
    return _collect(arguments.library, merged, messages, library, name)


def _collect(root: Path, folder: WordsFolder, messages: tuple[Message, ...], library: Library, name: str) -> int:
    made = collect(folder, messages, library.clinic.languages.also, name)
    replace_files(root, made)
    for path in made:
        print(root / path)
    return DONE


def _state(arguments: argparse.Namespace, folder: WordsFolder, messages: tuple[Message, ...], library: Library) -> int:
    states = [
        find_state(messages, folder.catalogues[language], folder.reviews.get(language), folder.glossary)
        for language in library.clinic.languages.also
    ]
    if arguments.json:
        print_json(
            {state.language: [_record(owner, state.language) for owner in state.owners.values()] for state in states}
        )
        return DONE
    for state in states:
        _print_language(state, library, arguments.all)
    return DONE


def _record(owner: OwnerState, language: str) -> dict[str, Any]:
    level = _level(owner, language)
    return {
        "owner": owner.owner,
        "texts": len(owner.texts),
        **{state.value: [_text_record(text.message) for text in owner.having(state)] for state in WORK},
        "reviewed": owner.reviewed,
        "review reopened": owner.reopened,
        "reading level": level,
    }


def _text_record(message: Message) -> dict[str, Any]:
    place = message.place
    return {"context": message.context, "text": message.text, "file": place.file, "line": place.line}


def _level(owner: OwnerState, language: str) -> dict[str, Any] | None:
    texts = [plain_text(text.entry.text) for text in owner.texts if text.entry and text.state is TextState.USABLE]
    level = score(language, texts)
    if level is None:
        return None
    return {
        "formula": level.formula,
        "value": round(level.value, 1),
        "school grade": level.grade_equivalent,
        "band": level.band,
    }


def _print_language(state: LanguageState, library: Library, everything: bool) -> None:
    totals = {kind: sum(len(owner.having(kind)) for owner in state.owners.values()) for kind in WORK}
    texts = sum(len(owner.texts) for owner in state.owners.values())
    unreviewed = sum(not owner.reviewed for owner in state.owners.values())
    rest = ", ".join(f"{count} {kind.value}" for kind, count in totals.items() if count) or "all translated"
    print(
        f"{state.language}  {Speech('en').name_of(state.language)}: {texts} texts, {rest}; {unreviewed} of {len(state.owners)} parts not reviewed"
    )
    names = {f"exercise/{item.code}": item.title.text for item in library.exercises}
    names |= {f"programme/{item.code}": item.title.text for item in library.programmes}
    for owner in state.owners.values():
        if everything or any(owner.having(kind) for kind in WORK) or owner.reopened:
            print(_owner_line(owner, names, state.language))


def _owner_line(owner: OwnerState, names: Mapping[str, str], language: str) -> str:
    counts = [f"{len(owner.having(kind))} {kind.value}" for kind in WORK if owner.having(kind)]
    counts += ["review reopened"] if owner.reopened else [] if owner.reviewed else ["not reviewed"]
    level = _level(owner, language)
    shown = f"{level['formula']} {level['value']}" if level else "not scored"
    return f"    {owner.owner:<28} {names.get(owner.owner, '')[:34]:<34} {', '.join(counts) or 'reviewed':<40} {shown}"
