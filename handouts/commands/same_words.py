"""``handouts words same``: the translations of a changed text that means what it meant before stand."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping, Sequence
from fnmatch import fnmatchcase

from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS
from handouts.problems import suggest
from handouts.publishing.author_files import HeldLibrary
from handouts.words.catalogue import write_catalogue
from handouts.words.folder import WordsFolder, own_messages
from handouts.words.messages import Message
from handouts.words.reviews import write_reviews
from handouts.words.same_meaning import find_changed, has_other_numbers, is_changed, is_named, keep_translations


def keep_same(
    arguments: argparse.Namespace,
    folder: WordsFolder,
    messages: Sequence[Message],
    files: Mapping[str, bytes],
    held: HeldLibrary,
) -> int:
    """Keeps the translations of changed texts that mean the same; without a text named, lists what changed."""
    languages = tuple(arguments.languages or folder.catalogues)
    unknown = [each for each in languages if each not in folder.catalogues]
    if unknown:
        hint = suggest(unknown[0], folder.catalogues)
        print(f"handouts: '{unknown[0]}' is not a language of clinic.yaml. {hint}", file=sys.stderr)
        return CANNOT_RUN
    names = {name for message in messages for name in (message.context, message.context.rpartition("/")[0])}
    for text in arguments.texts:
        if not any(fnmatchcase(name, text) for name in names):
            print(f"handouts: '{text}' names no text of the library. {suggest(text, names)}", file=sys.stderr)
            return CANNOT_RUN
    own = folder.written
    texts = {each: own_messages(folder, each, messages) for each in languages}
    waiting = {each: find_changed(own.catalogues[each], texts[each]) for each in languages}
    changed = {entry.key: entry for each in waiting.values() for entry in each.entries if is_changed(entry)}
    named = {key: entry for key, entry in changed.items() if not arguments.texts or is_named(entry, arguments.texts)}
    for entry in named.values():
        print(f"{entry.context}\n    before: {entry.previous}\n    now:    {entry.source}")
    if not arguments.texts or not named:
        print(f"{len(named)} changed {'text' if len(named) == 1 else 'texts'} wait for a translation.")
        return HAS_PROBLEMS if arguments.texts else DONE
    other = [entry.context for entry in named.values() if has_other_numbers(entry)]
    if other:
        print(f"handouts: a number has changed in {', '.join(other)}, so the meaning is not the same.", file=sys.stderr)
        print("Nothing was written.", file=sys.stderr)
        return HAS_PROBLEMS
    made: dict[str, bytes] = {}
    for language, catalogue in waiting.items():
        reviews = own.reviews.get(language, {})
        kept = keep_translations(catalogue, reviews, texts[language], arguments.texts)
        made[f"words/{language}.po"] = write_catalogue(kept.catalogue)
        if kept.reviews != reviews:
            made[f"words/{language}.reviews.yaml"] = write_reviews(kept.reviews)
    held.replace(made, files)
    print(f"{len(named)} {'text' if len(named) == 1 else 'texts'}: the translations stand in {', '.join(languages)}.")
    return DONE
