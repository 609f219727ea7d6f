"""``handouts words``: gather new texts into the catalogues, tell their state, record reviews, exchange with an office."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase
from functools import partial
from pathlib import Path
from typing import Any

from handouts.bases.own_changes import find_own_changes, review_own_changes
from handouts.bases.read import read_standing
from handouts.build.loading import Loaded
from handouts.build.pipeline import draw
from handouts.build.settings import Settings, today
from handouts.commands.interface_words import say_interface, write_interface
from handouts.commands.options import add_day, add_jobs, add_library, add_out, add_replace
from handouts.commands.output import Output
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_json, print_problems, refuse
from handouts.commands.roles import read_role
from handouts.commands.same_words import keep_same
from handouts.model import Library
from handouts.problems import Place, Problem, has_errors, sort_problems, suggest
from handouts.publishing.author_files import ChangedError, HeldLibrary, hold_library
from handouts.readability import score
from handouts.source.bases import read_with_base
from handouts.source.files import read_file
from handouts.tasks.progress import Progress
from handouts.text.markup import plain_text
from handouts.words.catalogue import Catalogue
from handouts.words.folder import WordsFolder, collect, read_words
from handouts.words.messages import Message, collect_messages, standalone_owner
from handouts.words.reviews import add_review, read_reviews, write_reviews
from handouts.words.state import LanguageState, OwnerState, TextState, find_state
from handouts.words.wording import Wording
from handouts.words.xliff import ImportCounts, read_xliff, write_xliff
from handouts.workers import Bounds, LostTask, call_bounded

WORK = (TextState.MISSING, TextState.STALE, TextState.FUZZY, TextState.FAULTY)
"""States that ask for work, in the order of the table."""
WRITES = ("collect", "import", "same", "interface")
"""Actions that write catalogues from those that they read."""
BOUNDS = Bounds(processor_seconds=60, wall_seconds=300.0, memory_bytes=2 * 1024**3)
"""What reading a file of a translation office may take; one of 1,000 exercises takes about 3 s."""
ACTIONS = {
    "collect": "gather new and changed texts into words/LANG.po; no translation is lost",
    "interface": "write words/interface/LANG.po into the library: the pages' own words, to be translated for a new language",
    "state": "what is missing, stale, not finished, faulty, not reviewed, and how hard it reads",
    "review": "record that a qualified person has read translations through, as they stand now",
    "same": "say that a changed text means what it meant before: its translations and their reviews stand",
    "export": "write a catalogue as XLIFF 2.0 for a translation office",
    "import": "take the translations of an XLIFF 2.0 file into the catalogue",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    actions = parser.add_subparsers(dest="action", metavar="ACTION", required=True)
    for name, says in ACTIONS.items():
        action = actions.add_parser(name, help=says, description=says)
        add_library(action, alone=name in ("collect", "state"))
        if name in WRITES and name != "interface":
            add_out(action, "where drawings are kept")
            add_jobs(action, "processes that draw figures")
        if name == "state":
            action.add_argument("--json", action="store_true", help="print it as JSON, for tools")
            action.add_argument("--all", action="store_true", help="also what is whole and reviewed")
        if name == "interface":
            action.add_argument("language", help="a language that CLDR knows, such as de")
        if name in ("review", "export", "import"):
            action.add_argument("language", help="a language of clinic.yaml, such as es")
        if name == "review":
            action.add_argument(
                "owners", nargs="+", metavar="OWNER", help="what was read, as 'words state' names it; caution/* for many"
            )
            action.add_argument("--by", required=True, type=read_role, metavar="ROLE", help="the reviewer's role; never a name")
            add_day(action, "the day", "--on")
        if name == "same":
            action.add_argument(
                "texts", nargs="*", metavar="TEXT", help="an owner or a text, as exercise/H7K2 or exercise/H7K2/step; none: list what changed"
            )
            action.add_argument("--language", action="append", dest="languages", help="a language in which it holds (default: all)")
        if name in ("export", "import"):
            action.add_argument("file", type=Path, help="the XLIFF file")
        if name == "export":
            add_replace(action)


@dataclass(frozen=True, slots=True)
class _Desk:
    """A library with its catalogues, as an action finds them."""

    root: Path
    library: Library
    folder: WordsFolder
    messages: tuple[Message, ...]
    files: Mapping[str, bytes]
    """Every file of the library as it was read."""

    def state(self, language: str) -> LanguageState:
        """How far a language is."""
        folder = self.folder
        return find_state(self.messages, folder.catalogues[language], folder.reviews.get(language), folder.glossary, source=self.library.language)


def run(arguments: argparse.Namespace) -> int:
    """One action on the catalogues of a library."""
    if arguments.action not in WRITES or not arguments.library.is_dir():
        return _act(arguments, None)
    progress = Settings.of(arguments).progress
    with hold_library(arguments.library, f"words {arguments.action}", progress=progress) as held:
        return _act(arguments, held)


def _act(arguments: argparse.Namespace, held: HeldLibrary | None) -> int:
    """The action; ``held``: the library where it is written into from what is read now."""
    name, progress = arguments.library.name, Settings.of(arguments).progress
    with progress.stage("reading the library"):
        files, problems = read_with_base(arguments.library, name)
        library, found = read_standing(files, name)
    problems += found
    if library is not None:
        library, _ = review_own_changes(library, files, find_own_changes(library, files))  # what waits for a review may be translated
    if library is None:
        return refuse(f"words {arguments.action}", sort_problems(problems), getattr(arguments, "json", False), CANNOT_RUN)
    writes = arguments.action in WRITES
    if writes and has_errors(problems):
        print_problems(sort_problems(problems))
        print("Nothing was written: texts that cannot be read would be lost from the catalogues.")
        return HAS_PROBLEMS
    if has_errors(problems):
        print_problems(sort_problems(problems))
    with progress.stage("reading translations"):
        folder, found = read_words(files, library.clinic.languages, name)
    if has_errors(found):
        print_problems(sort_problems(found))
        return HAS_PROBLEMS
    language: str = getattr(arguments, "language", "")
    if arguments.action == "interface" and held:
        return write_interface(language, files, library, held)
    if language and language not in library.clinic.languages.also:
        hint = suggest(language, library.clinic.languages.also)
        print(f"handouts: '{language}' is not a language of clinic.yaml. {hint}", file=sys.stderr)
        return CANNOT_RUN
    figures = _describe_figures(library, arguments) if writes else {}
    desk = _Desk(arguments.library, library, folder, collect_messages(library, figures), files)
    if held and arguments.action == "collect":
        return _collect(desk, held, progress)
    if held:
        if arguments.action == "same":
            return keep_same(arguments, folder, desk.messages, files, held)
        return _import(arguments, desk, held)
    if arguments.action == "state":
        return _state(arguments, desk)
    if arguments.action == "review":
        return _review(arguments, desk)
    return _export(arguments, desk)


def _describe_figures(library: Library, arguments: argparse.Namespace) -> dict[str, str]:
    """What each figure shows, in the source language, for the translators' notes."""
    figure_source, _ = draw(Loaded(library, (), ()), Settings.of(arguments))
    return figure_source.descriptions(library.language)


def _export(arguments: argparse.Namespace, desk: _Desk) -> int:
    """A catalogue to a translation office."""
    data = write_xliff(desk.folder.written.catalogues[arguments.language], desk.library.language)
    Output.of(Settings.of(arguments), arguments.replace).write(arguments.file, data)
    print(arguments.file)
    return DONE


def _import(arguments: argparse.Namespace, desk: _Desk, held: HeldLibrary) -> int:
    """A catalogue from a translation office."""
    language, folder = arguments.language, desk.folder
    data, found = read_file(arguments.file)
    catalogue, counts = folder.written.catalogues[language], None
    if not found:
        task = partial(_read_answer, file=str(arguments.file), catalogue=catalogue)
        back = call_bounded(task, data, BOUNDS)
        if isinstance(back, LostTask):
            found = [Problem(Place(str(arguments.file)), "too-long", f"reading it was given up: {back.why}", "Send a language in parts.")]
        else:
            catalogue, found, counts = back
    print_problems(sort_problems(found))
    if counts is None:
        return HAS_PROBLEMS
    desk = replace(desk, folder=folder.with_catalogue(catalogue))
    _collect(desk, held, Settings.of(arguments).progress)
    print(
        f"{counts.taken} taken, {counts.same} as they were, {counts.empty} empty and left alone, "
        f"{counts.changed} of texts that have changed since, {counts.refused} refused."
    )
    return HAS_PROBLEMS if has_errors(found) else DONE


def _read_answer(data: bytes, file: str, catalogue: Catalogue) -> tuple[Catalogue, list[Problem], ImportCounts | None]:
    """In a process of its own: the file comes from elsewhere."""
    return read_xliff(data, file, catalogue)


def _collect(desk: _Desk, held: HeldLibrary, progress: Progress) -> int:
    with progress.stage("writing catalogues"):
        made = collect(desk.folder, desk.messages, desk.library.clinic.languages.also, desk.root.name)
        held.replace(made, desk.files)
    for path in made:
        print(desk.root / path)
    return DONE


def _review(arguments: argparse.Namespace, desk: _Desk) -> int:
    """Records a reading of the owners named, all or none: only texts that may be shown can have been reviewed."""
    language, state = arguments.language, desk.state(arguments.language)
    chosen, refused = _choose_owners(arguments.owners, state)
    refused += [
        f"{owner.owner}: {', '.join(f'{len(texts)} {kind.value}' for kind in WORK if (texts := owner.having(kind)))}"
        for owner in chosen
        if not owner.usable
    ]
    if refused:
        print("\n".join(f"handouts: {line}" for line in refused), file=sys.stderr)
        print("Nothing was recorded: a review is of texts that are whole.", file=sys.stderr)
        return HAS_PROBLEMS
    versions = {owner.owner: owner.version for owner in chosen}
    path = f"words/{language}.reviews.yaml"

    def change(found: bytes | None) -> bytes:
        """A record more than the file has now; others may have been added since it was read."""
        kept, problems = read_reviews(found, f"{desk.root.name}/{path}") if found is not None else ({}, [])
        if problems:
            raise ChangedError(problems[0])
        return write_reviews(add_review(kept, versions, arguments.by, arguments.on or today()))

    with hold_library(desk.root, "words review", progress=Settings.of(arguments).progress) as held:
        held.revise(path, change)
    print(f"{desk.root / path}: {len(versions)} reviewed by {arguments.by}")
    return DONE


def _choose_owners(patterns: Iterable[str], state: LanguageState) -> tuple[list[OwnerState], list[str]]:
    """The owners that were named, and what named none."""
    chosen: dict[str, OwnerState] = {}
    unknown = []
    for pattern in patterns:
        found = {name: owner for name, owner in state.owners.items() if fnmatchcase(name, pattern)}
        chosen |= found
        if not found:
            unknown.append(f"there is no '{pattern}'. {suggest(pattern, state.owners)}")
    return list(chosen.values()), unknown


def _state(arguments: argparse.Namespace, desk: _Desk) -> int:
    languages, states = desk.library.clinic.languages.also, list[LanguageState]()
    with Settings.of(arguments).progress.stage("comparing texts", len(languages)) as stage:
        for language in languages:
            states.append(desk.state(language))
            stage.done()
    if arguments.json:
        found = {state.language: [_record(owner, state.language) for owner in state.owners.values()] for state in states}
        print_json("words state", {"languages": found})
        return DONE
    for state in states:
        _print_language(state, desk.library, arguments.all)
        for line in say_interface(state.language, desk.folder):
            print(line)
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
        f"{state.language}  {Wording('en').name_of(state.language)}: {texts} texts, {rest}; {unreviewed} of {len(state.owners)} parts not reviewed"
    )
    names = {f"exercise/{item.code}": item.title.text for item in library.exercises}
    names |= {f"programme/{item.code}": item.title.text for item in library.programmes}
    names |= {standalone_owner(item): item.title.text for item in library.all_standalones}
    for owner in state.owners.values():
        if everything or any(owner.having(kind) for kind in WORK) or owner.reopened:
            print(_owner_line(owner, names, state.language))


def _owner_line(owner: OwnerState, names: Mapping[str, str], language: str) -> str:
    counts = [f"{len(owner.having(kind))} {kind.value}" for kind in WORK if owner.having(kind)]
    counts += ["review reopened"] if owner.reopened else [] if owner.reviewed else ["not reviewed"]
    level = _level(owner, language)
    shown = f"{level['formula']} {level['value']}" if level else "not scored"
    return f"    {owner.owner:<28} {names.get(owner.owner, '')[:34]:<34} {', '.join(counts) or 'reviewed':<40} {shown}"
