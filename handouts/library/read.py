"""The files of a library as one typed value: bytes in, ``Library`` and problems out, nothing judged.

Takes a mapping from path (relative to the library, with ``/``) to bytes; never touches the disk.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import PurePosixPath
from typing import Any, TypeVar

from handouts.library.codes import by_file_names
from handouts.library.declare import FILES
from handouts.library.names import FOLDERS, OTHER_FILES, REQUIRED_FILES, SINGLE_FILES
from handouts.library.packed import pack, unpack
from handouts.library.prose import read_sections
from handouts.library.shapes import SLUG_PATTERN
from handouts.model import Bundle, ClassPlan, Clinic, Exercise, FunctionTest, Leaflet, Lesson, Library, Programme
from handouts.problems import Grade, Place, Problem, suggest
from handouts.source.nodes import compose, read_text
from handouts.tasks.calling import Caller, call_now

# Device names that one system reserves whatever the ending.
_RESERVED = re.compile("con|prn|aux|nul|com[0-9]|lpt[0-9]")

Value = TypeVar("Value")


def read_library(files: Mapping[str, bytes], name: str = "content", call: Caller = call_now) -> tuple[Library | None, list[Problem]]:
    """The library in the source language; None where any file could not be read.

    ``name`` is the folder's name, which stands before each path in a problem; ``call`` reads single files.
    """
    problems: list[Problem] = []
    missing = [path for path in REQUIRED_FILES if path not in files]
    problems += [
        Problem(
            Place(f"{name}/{path}"),
            "missing-file",
            f"the library has no {path}",
            f"Write {path}; 'handouts start' shows one.",
        )
        for path in missing
    ]
    problems += unknown_files(files, name)
    single = {
        kind: _read_item(call, files[path], f"{name}/{path}", kind, "", problems)
        for path, kind in SINGLE_FILES.items()
        if path in files
    }
    return put_together({} if missing else single, files, name, call, problems), problems


def put_together(
    single: Mapping[str, Any], files: Mapping[str, bytes], name: str, call: Caller, problems: list[Problem], base: Library | None = None
) -> Library | None:
    """The library of the values of its single files and of what stands in its folders, over that of its ``base``.

    A file of the same name as one of the base takes its place.  Problems are added.
    """
    exercises = _read_folder(files, name, "exercises", call, problems)
    programmes = _read_folder(files, name, "programmes", call, problems)
    bundles = _read_folder(files, name, "bundles", call, problems)
    tests = _read_folder(files, name, "tests", call, problems)
    leaflets = _read_folder(files, name, "leaflets", call, problems)
    lessons = _read_folder(files, name, "lessons", call, problems)
    classes = _read_folder(files, name, "classes", call, problems)
    clinic = single.get("clinic")
    if not isinstance(clinic, Clinic) or any(value is None for value in single.values()):
        return None
    unread = _unread(files, [*exercises, *programmes, *bundles, *tests, *leaflets, *lessons, *classes])
    library = Library(
        language=clinic.languages.source,
        clinic=clinic,
        tiers=single["tiers"],
        vocabulary=single["vocabulary"],
        cautions=single["cautions"],
        limits=single.get("limits") or (),
        conditions=single.get("conditions") or (),
        exercises=_over(base.exercises if base else (), _with_pictures(_only(Exercise, exercises), files, name, problems)),
        programmes=_over(base.programmes if base else (), _only(Programme, programmes)),
        bundles=_over(base.bundles if base else (), _only(Bundle, bundles)),
        tests=_over(base.tests if base else (), _only(FunctionTest, tests)),
        leaflets=_over(base.leaflets if base else (), _only(Leaflet, leaflets)),
        lessons=_over(base.lessons if base else (), _only(Lesson, lessons)),
        classes=_over(base.classes if base else (), _only(ClassPlan, classes)),
        unread=unread | base.unread if base else unread,
    )
    return by_file_names(library)


def _over(under: tuple[Value, ...], own: tuple[Value, ...]) -> tuple[Value, ...]:
    """Own things and those of the base, by file name; an own one takes the place of the base's of its name."""
    if not under:
        return own
    found = {slug_of(item): item for item in (*under, *own)}
    return tuple(found[slug] for slug in sorted(found))


def slug_of(item: Any) -> str:
    """The name of a thing."""
    return str(item.slug)


PICTURES = "pictures/"


def _with_pictures(exercises: tuple[Exercise, ...], files: Mapping[str, bytes], name: str, problems: list[Problem]) -> tuple[Exercise, ...]:
    """The exercises with the bytes of their own pictures; a problem for each that is not there, and a notice for each that nothing shows."""
    there = {path.removeprefix(PICTURES): data for path, data in files.items() if path.startswith(PICTURES)}
    found, shown = [], set()
    for exercise in exercises:
        picture = exercise.picture
        if picture is not None and picture.file_name in there:
            shown.add(picture.file_name)
            found.append(replace(exercise, picture=replace(picture, data=there[picture.file_name])))
            continue
        if picture is not None:
            what = f"there is no picture '{picture.file_name}' in the folder pictures"
            mend = suggest(picture.file_name, there) if there else f"Put the file into {PICTURES}, beside exercises/."
            problems.append(Problem(picture.at("file_name"), "no-picture", what, mend))
        found.append(exercise)
    for file in sorted(set(there) - shown):
        what, mend = f"no exercise shows the picture '{file}'", "Name it in the 'picture' of an exercise, or take it out."
        problems.append(Problem(Place(f"{name}/{PICTURES}{file}"), "unused-picture", what, mend, Grade.NOTICE))
    return tuple(found)


def _only(kind: type[Value], values: list[Any]) -> tuple[Value, ...]:
    return tuple(value for value in values if isinstance(value, kind))


def _unread(files: Mapping[str, bytes], read: list[Any]) -> frozenset[str]:
    """The files of the folders that gave nothing, as ``programmes/stand-up``."""
    there = {f"{path.parent}/{path.stem}" for path in map(PurePosixPath, files) if str(path.parent) in FOLDERS}
    folders = {
        Exercise: "exercises", Programme: "programmes", Bundle: "bundles",
        FunctionTest: "tests", Leaflet: "leaflets", Lesson: "lessons", ClassPlan: "classes",
    }  # fmt: skip
    return frozenset(there - {f"{folders[type(item)]}/{item.slug}" for item in read if item is not None})


def unknown_files(files: Mapping[str, bytes], name: str) -> list[Problem]:
    """A problem for each file that is no part of a library, or whose name cannot be used."""
    problems = []
    known = [*SINGLE_FILES, *FOLDERS, *OTHER_FILES]
    for path in sorted(files):
        first = path.split("/")[0]
        if first not in known:
            problems.append(
                Problem(
                    Place(f"{name}/{path}"), "unknown-file", f"'{path}' is not part of a library", suggest(first, known)
                )
            )
        elif first in FOLDERS:
            problem = _file_name_problem(path, FOLDERS[first][0], name)
            problems += [problem] if problem else []
    return problems


def _file_name_problem(path: str, ending: str, name: str) -> Problem | None:
    parts = PurePosixPath(path)
    stem = parts.name.removesuffix(ending)
    fits = (
        len(parts.parts) == 2 and parts.name.endswith(ending) and re.fullmatch(SLUG_PATTERN, stem) and len(stem) <= 64
    )
    if fits and not _RESERVED.fullmatch(stem):
        return None
    return Problem(
        Place(f"{name}/{path}"),
        "file-name",
        f"the file name '{parts.name}' cannot be used",
        f"Name it with small letters, digits and hyphens, ending in {ending}, directly in {parts.parts[0]}/.",
    )


def _read_folder(
    files: Mapping[str, bytes], name: str, folder: str, call: Caller, problems: list[Problem]
) -> list[Any]:
    ending, kind = FOLDERS[folder]
    found = []
    for path in sorted(files):
        if path.startswith(f"{folder}/") and _file_name_problem(path, ending, name) is None:
            slug = PurePosixPath(path).name.removesuffix(ending)
            found.append(_read_item(call, files[path], f"{name}/{path}", kind, slug, problems))
    return found


def _read_item(call: Caller, data: bytes, file: str, kind: str, slug: str, problems: list[Problem]) -> Any:
    """The value of one file; its problems are added."""
    known = None if call is call_now else unpack(call(pack_file, data, file, kind, slug))
    value, found = known if type(known) is tuple and len(known) == 2 else read_file(data, file, kind, slug)
    problems += found
    return value


def pack_file(data: bytes, file: str, kind: str, slug: str) -> bytes:
    """What ``read_file`` gives, as bytes."""
    return pack(read_file(data, file, kind, slug))


def read_file(data: bytes, file: str, kind: str, slug: str) -> tuple[Any, list[Problem]]:
    """The value that a file of a kind declares, None where it has none; ``slug`` is empty where its name says nothing."""
    problems: list[Problem] = []
    read = _read_markdown if file.endswith(".md") else _read_yaml
    return read(data, file, kind, problems, **({"slug": slug} if slug else {})), problems


def read_exercise(data: bytes, file: str, slug: str) -> tuple[Exercise | None, list[Problem]]:
    """One exercise by itself, as far as its own file tells."""
    problems: list[Problem] = []
    found = _read_markdown(data, file, "exercise", problems, slug=slug)
    return (found if isinstance(found, Exercise) else None), problems


def _read_yaml(data: bytes, file: str, kind: str, problems: list[Problem], **extra: Any) -> Any:
    text, wrong = read_text(data, file)
    if wrong:
        problems += wrong
        return None
    node, wrong = compose(text, file)
    problems += wrong
    return None if node is None else FILES[kind].read(node, problems, **extra)


def _read_markdown(data: bytes, file: str, kind: str, problems: list[Problem], **extra: Any) -> Any:
    text, wrong = read_text(data, file)
    if wrong:
        problems += wrong
        return None
    lines = text.split("\n")
    if lines[0].rstrip() != "---":
        problems.append(
            Problem(
                Place(file),
                "front-matter",
                "the file does not begin with a line '---'",
                "Put '---' above the keys and '---' below them.",
            )
        )
        return None
    end = next((number for number, line in enumerate(lines[1:], 1) if line.rstrip() == "---"), None)
    if end is None:
        problems.append(
            Problem(
                Place(file), "front-matter", "the keys are not closed by a line '---'", "Put '---' below the last key."
            )
        )
        return None
    node, wrong = compose("\n".join(lines[1:end]) + "\n", file, first_line=2)
    problems += wrong
    sections, wrong = read_sections("\n".join(lines[end + 1 :]), file, end + 2)
    problems += wrong
    return None if node is None else FILES[kind].read(node, problems, sections=sections, **extra)
