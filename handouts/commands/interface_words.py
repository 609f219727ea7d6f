"""``handouts words interface``: the pages' own words of a language as a catalogue in the library."""

from __future__ import annotations

import sys
from collections.abc import Mapping

from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.model import Library
from handouts.problems import sort_problems
from handouts.publishing.author_files import HeldLibrary
from handouts.words import locales
from handouts.words.folder import WordsFolder
from handouts.words.own_interface import OwnInterface, own_path, read_own_interface
from handouts.words.phrase import Phrase
from handouts.words.phrases import PHRASES
from handouts.words.shipped import load_interface, update_interface


def write_interface(language: str, files: Mapping[str, bytes], library: Library, held: HeldLibrary) -> int:
    """Write the catalogue, or bring it up to date with the phrases of this version; nothing translated is lost."""
    if not locales.is_known(language) or language in locales.PSEUDO:
        print(f"handouts: '{language}' is not a language. Write a tag such as 'de' or 'pt-BR'.", file=sys.stderr)
        return CANNOT_RUN
    path, name = own_path(language), held.root.name
    data, problems = update_interface(files.get(path), path, language)
    if problems:
        print_problems(sort_problems(problems))
        return HAS_PROBLEMS
    held.replace({path: data}, files)
    words = sum(len((each.english if isinstance(each, Phrase) else f"{each.one} {each.other}").split()) for each in PHRASES.values())
    print(f"{held.root / path}: {len(PHRASES):,} phrases of {words:,} words, each with a note; {_say(read_own_interface(data, path, language))}.")
    if language not in (library.language, *library.clinic.languages.also):
        print(f"Add '{language}' to 'languages: also:' of {name}/clinic.yaml, then run 'handouts words collect --library {name}'.")
    return DONE


def say_interface(language: str, folder: WordsFolder) -> tuple[str, ...]:
    """How far the pages' own words are in a language; nothing where the program has them all."""
    own = folder.interfaces.get(language)
    if own is None and not load_interface(language).problems:
        return ()
    own = own or OwnInterface({}, load_interface(language).problems)
    mend = "" if language in folder.interfaces else f" (write it with 'handouts words interface {language}')"
    return (f"    the pages' own words, {own_path(language)}: {_say(own)}{mend}",)


def _say(own: OwnInterface) -> str:
    missing = sum(name not in own.forms for name in PHRASES)
    wrong = len({each.place for each in own.problems if each.rule != "interface-missing"}) if own.forms else 0
    return f"{missing} to translate" + (f", {wrong} of them wrong or changed" if wrong else "") if missing else "all translated"
