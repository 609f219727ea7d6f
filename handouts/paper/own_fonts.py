"""Fonts that a library brings for languages in whose letters no font of the program writes: which files serve which language.  Bytes in."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping

from handouts.model import Clinic, OwnFace
from handouts.problems import Grade, Place, Problem, suggest
from handouts.source.bases import LibraryFiles
from handouts.tasks.calling import Caller, Later, call_now

FOLDER = "fonts/"
_CUT: Later[tuple[OwnFace | None, tuple[str, ...]]] = Later("handouts.paper.own_faces", "cut_face", tuple[OwnFace | None, tuple[str, ...]])
_STYLE = re.compile(r'<style class="own-fonts">(.*?)</style>\n?', re.DOTALL)
"""The style element of a face (``handouts.paper.own_faces``)."""
LEAST_LICENCE = 200
"""Least characters of the text of a licence: the shortest in use, a notice of a few lines, has more."""


def take_own_fonts(html: str) -> tuple[str, str]:
    """A document without the fonts that it brings, and the rules of these: one text for all documents that bring the same."""
    return _STYLE.sub("", html), sys.intern("".join(dict.fromkeys(_STYLE.findall(html))))


def read_own_fonts(
    files: Mapping[str, bytes], clinic: Clinic, name: str, call: Caller = call_now
) -> tuple[dict[str, OwnFace], list[Problem]]:
    """The library's own faces by language; a problem for each file that is not there, is no such font, or has no licence beside it."""
    there: dict[str, bytes] = {}
    for layer in [*files.layers()][::-1] if isinstance(files, LibraryFiles) else [files]:
        there |= {path.removeprefix(FOLDER): data for path, data in layer.items() if path.startswith(FOLDER)}
    faces: dict[str, OwnFace] = {}
    problems: list[Problem] = []
    for font in clinic.fonts:
        files_of = {"regular": font.regular, "bold": font.bold, "licence_file": font.licence_file}
        missing = [attribute for attribute, file in files_of.items() if file not in there]
        for attribute in missing:
            mend = suggest(files_of[attribute], there) if there else f"Put the file into {FOLDER}, beside exercises/."
            what = f"there is no file '{files_of[attribute]}' in the folder fonts"
            problems.append(Problem(font.at(attribute), "no-font", what, mend))
        if missing:
            continue
        if len(there[font.licence_file].decode("utf-8", "replace").strip()) < LEAST_LICENCE:
            what = f"'{font.licence_file}' does not hold the text of a licence"
            problems.append(Problem(font.at("licence_file"), "font-licence", what, "Put the whole text there that came with the font."))
            continue
        for language in font.languages:
            face, faults = call(_CUT, there[font.regular], there[font.bold], language)
            problems += [_fault(font.at(fault.partition(":")[0]), files_of, fault) for fault in faults]
            if face is not None:
                faces[language] = face
    problems += _unused(files, clinic, name)
    return faces, problems


def _fault(place: Place, files: Mapping[str, str], fault: str) -> Problem:
    attribute, _, why = fault.partition(": ")
    mend = "Take a font for the script of this language, as a file for each weight, whose licence allows to embed it."
    return Problem(place, "font-unfit", f"the font '{files[attribute]}' {why}", mend)


def _unused(files: Mapping[str, bytes], clinic: Clinic, name: str) -> Iterator[Problem]:
    named = {file for font in clinic.fonts for file in (font.regular, font.bold, font.licence_file)}
    for path in sorted(files):
        if path.startswith(FOLDER) and path.removeprefix(FOLDER) not in named:
            what, mend = f"nothing names the file '{path}'", "Name it under 'fonts' in clinic.yaml, or take it out."
            yield Problem(Place(f"{name}/{path}"), "unused-font", what, mend, Grade.NOTICE)
