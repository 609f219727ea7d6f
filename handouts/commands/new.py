"""``handouts new``: an exercise file to fill in, with the figure of a movement of the gallery."""

from __future__ import annotations

import argparse
import re
import sys
from pathlib import Path

from handouts.bases.read import read_standing
from handouts.build.settings import SIGN
from handouts.commands.import_files import known_of
from handouts.commands.options import add_library
from handouts.commands.report import CANNOT_RUN, DONE, print_problems
from handouts.gallery.draft import gaps_of, write_draft
from handouts.gallery.movements import find_movement, nearest_movements
from handouts.importers.table import new_code, slug_of
from handouts.problems import sort_problems
from handouts.publishing.author_files import HeldLibrary, hold_library
from handouts.source.bases import read_with_base


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("exercise", metavar="NAME", help="name of the new file, in small letters with hyphens, as heel-slide")
    says = "the movement of the gallery to begin from ('handouts gallery --names' lists all)"
    parser.add_argument("--like", metavar="MOVEMENT", required=True, help=says)
    add_library(parser, alone=False)


def run(arguments: argparse.Namespace) -> int:
    """Write the file; never over another."""
    slug = arguments.exercise.removesuffix(".md")
    if slug != slug_of(slug) or not slug:
        return _refuse(f"'{arguments.exercise}' names no exercise file. Write small letters, digits and hyphens{_as(slug)}.")
    movement = find_movement(arguments.like)
    if movement is None:
        return _refuse("\n".join([
            f"the gallery has no movement '{arguments.like}'. The nearest are:",
            *(f"  {one.slug}: {one.name}" for one in nearest_movements(arguments.like)),
            "'handouts gallery --names' lists all.",
        ]))  # fmt: skip
    library: Path = arguments.library
    if not (library / SIGN).is_file():
        return _refuse(f"'{library}' is no library. Make one with 'handouts start {library}', or name one with --library.")
    with hold_library(library, "new") as held:
        return _write(held, library, slug, movement.slug)


def _write(held: HeldLibrary, folder: Path, slug: str, like: str) -> int:
    """The code is chosen beside those that the library has, so it stays held."""
    movement = find_movement(like)
    assert movement is not None
    known = known_of(folder)
    if slug in known.slugs:
        return _refuse(f"there is an exercise '{slug}' already. Choose another name.")
    files, problems = read_with_base(folder, folder.name)
    # An exercise that is not filled in yet must not keep the next one from being begun.
    unfinished = [path for path in files if re.match("(exercises|programmes|bundles|tests|leaflets|lessons|classes)/", path)]
    for path in unfinished:
        del files[path]
    library, found = read_standing(files, folder.name)
    if library is None:
        print_problems(sort_problems([*problems, *found]))
        return CANNOT_RUN
    path = f"exercises/{slug}.md"
    text = write_draft(movement, new_code(slug, known.codes, (), known.first), library, "schema/exercise.schema.json" in files)
    held.add([(path, text.encode())])
    print(f"{folder / path}: '{movement.name}' from the gallery. Fill in: {', '.join(gaps_of(text))}.")
    print(f"Look at it: handouts figure {slug} --library {folder} --to {slug}.png. Then: handouts check {folder}")
    return DONE


def _as(slug: str) -> str:
    meant = slug_of(slug)
    return f", as {meant}" if meant else ""


def _refuse(says: str) -> int:
    print(f"handouts: {says}", file=sys.stderr)
    return CANNOT_RUN
