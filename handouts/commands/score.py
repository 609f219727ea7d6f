"""``handouts score``: the instruments for patient material on every exercise, in every language, the worst first."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Any

from handouts.build.loading import load
from handouts.build.pipeline import draw, edition_of
from handouts.build.settings import Settings
from handouts.commands.options import add_day, add_jobs, add_library_word, add_out, add_replace
from handouts.commands.output import Output
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_json, print_problems, refuse
from handouts.ledger.stamp import stamps_of
from handouts.library.texts import ROLE_MEND, looks_like_a_name
from handouts.model import Exercise, Library
from handouts.paper.context import PaperSetting, make_setting
from handouts.paper.plan import sheet_document
from handouts.problems import Place, has_errors, suggest
from handouts.publishing.author_files import ChangedError, hold_library
from handouts.score.answers import FILE, PersonAnswer, read_answers, with_answers, write_answers
from handouts.score.form import FormItem, read_form, write_form
from handouts.score.items import ITEMS, PASS_PERCENT, Answer, Decision, Total, add_up, answer_dependents, costs_a_point
from handouts.score.judge import judge
from handouts.score.material import Material
from handouts.score.sheet import read_sheet
from handouts.source.files import read_folder
from handouts.text.markup import plain_text
from handouts.words.wording import Wording

MOST_ROLE = 80
"""Longest role of a person, in characters."""
SAY_WHO = "say who answers, as a role: --by 'health literacy reviewer'."


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    add_library_word(parser)
    add_out(parser, "where drawings are kept")
    add_jobs(parser, "processes that draw figures")
    parser.add_argument("--language", default="", help="one language only")
    parser.add_argument("--all", action="store_true", help="every item with its evidence, not only what is no or waits")
    parser.add_argument("--json", action="store_true", help="print it as JSON, for tools")
    parser.add_argument("--form", type=Path, metavar="FILE.csv", help="write what waits for a person as a form to fill")
    parser.add_argument("--filled", type=Path, metavar="FILE.csv", help="keep the answers of a filled form; needs --by")
    parser.add_argument("--answer", metavar="ITEM=ANSWER", help="keep a person's answer, as P2=yes (yes, no, n/a)")
    parser.add_argument("--code", nargs="+", default=(), help="with --answer: codes of exercises, * for many")
    parser.add_argument("--by", default="", help="with an answer: the role of the person, never a name")
    add_day(parser, "with an answer: the day")
    add_replace(parser)


@dataclass(frozen=True, slots=True)
class Scored:
    """One exercise in one language."""

    exercise: Exercise
    language: str
    version: str
    decisions: tuple[Decision, ...]

    @property
    def totals(self) -> tuple[Total, ...]:
        """Points by part."""
        return add_up(self.decisions)

    @property
    def worst(self) -> float:
        """The lowest percentage of any part."""
        return min((total.percent for total in self.totals if total.percent is not None), default=100.0)


def run(arguments: argparse.Namespace) -> int:
    """Score a library, or keep an answer."""
    settings = Settings.of(arguments)
    loaded = load(settings)
    files, _ = read_folder(settings.library, settings.library.name)
    answers, problems = read_answers(files[FILE], f"{settings.library.name}/{FILE}") if FILE in files else ((), [])
    if loaded.library is None or has_errors((*loaded.problems, *problems)):
        status = HAS_PROBLEMS if settings.library.is_dir() else CANNOT_RUN
        return refuse("score", (*loaded.problems, *problems), arguments.json, status)
    libraries = [item.library for item in loaded.translations if item.library]
    languages = [library.language for library in libraries]
    if arguments.language and arguments.language not in languages:
        print(
            f"handouts: nothing is published in '{arguments.language}'. {suggest(arguments.language, languages)}",
            file=sys.stderr,
        )
        return CANNOT_RUN
    chosen = [library for library in libraries if arguments.language in ("", library.language)]
    if arguments.answer:
        return _keep(arguments, chosen, settings)
    if arguments.filled:
        return _keep_form(arguments.filled, arguments.by, settings)
    figure_source, _ = draw(loaded, settings)
    figures = {language: figure_source.descriptions(language) for language in languages}
    edition, drawn = edition_of(loaded, False), figure_source.for_paper()
    rows: list[Scored] = []
    with settings.progress.stage("scoring", sum(len(library.exercises) for library in chosen)) as stage:
        for library in chosen:
            setting = make_setting(library, Wording.of(library), drawn, edition)
            for row in _score(library, figures[library.language], answers, setting):
                rows.append(row)
                stage.done()
    rows.sort(key=lambda row: (row.worst, row.language, row.exercise.title.text))
    if arguments.form:
        return _write_form(arguments.form, rows, Output.of(settings, arguments.replace))
    if arguments.json:
        print_json("score", {"scores": [_record(row) for row in rows]})
    else:
        _print(rows, arguments.all)
    return DONE


def _score(
    library: Library, figures: dict[str, str], answers: Sequence[PersonAnswer], setting: PaperSetting
) -> Iterator[Scored]:
    stamps = stamps_of(library)
    for exercise in library.exercises:
        version = stamps[f"exercises/{exercise.slug}"]
        given = {each.item: each for each in answers if (each.language, each.code) == (library.language, exercise.code)}
        sheet = read_sheet(sheet_document(setting, exercise).html, plain_text(exercise.why.text))
        decisions = judge(Material(exercise, library, figures.get(exercise.slug, ""), sheet))
        yield Scored(exercise, library.language, version, answer_dependents(with_answers(decisions, given, version)))


def _record(row: Scored) -> dict[str, Any]:
    return {
        "code": row.exercise.code,
        "slug": row.exercise.slug,
        "language": row.language,
        "version": row.version,
        "parts": {
            total.part: {
                "points": total.points,
                "of": total.applicable,
                "percent": total.percent,
                "bounds": total.bounds,
                "waiting": total.waiting,
            }
            for total in row.totals
        },
        "items": [
            {"item": each.item, "answer": each.answer.value, "evidence": each.evidence, "by": each.by or "program"}
            for each in row.decisions
        ],
    }


def _print(rows: Sequence[Scored], everything: bool) -> None:
    for row in rows:
        print(
            f"{row.exercise.code} {row.language}  {plain_text(row.exercise.title.text)}: {'; '.join(map(_say_total, row.totals))}"
        )
        for each in row.decisions:
            if everything or costs_a_point(each):
                who = f" [{each.by}]" if each.by else ""
                print(f"    {each.item:<4}{each.answer.value:<17}{ITEMS[each.item].asks}: {each.evidence}{who}")
        waiting = [each.item for each in row.decisions if each.answer is Answer.WAITS]
        if waiting and not everything:
            print(f"    a person decides: {', '.join(waiting)}")


def _write_form(file: Path, rows: Sequence[Scored], output: Output) -> int:
    """Write what waits for a person, exercise by exercise in the order of the scores."""
    questions = [
        FormItem(row.language, row.exercise.code, plain_text(row.exercise.title.text), each.item, each.evidence, row.version)
        for row in rows
        for each in row.decisions
        if each.answer is Answer.WAITS
    ]
    output.write(file, write_form(questions))
    print(f"{file}: {len(questions)} questions on {len(rows)} exercises. Answer yes, no or n/a, then:")
    print(f"handouts score --filled {file} --by ROLE")
    return DONE


def _keep_form(file: Path, by: str, settings: Settings) -> int:
    """Keep the answers of a filled form, all of them or none."""
    role = " ".join(by.split())
    if looks_like_a_name(role):
        print(f"handouts: '{role}' reads like the name of a person. {ROLE_MEND}", file=sys.stderr)
        return CANNOT_RUN
    if not 0 < len(role) <= MOST_ROLE:
        print(f"handouts: {SAY_WHO}", file=sys.stderr)
        return CANNOT_RUN
    try:
        data = file.read_bytes()
    except OSError as error:
        print(f"handouts: '{file}' cannot be read: {error.strerror}.", file=sys.stderr)
        return CANNOT_RUN
    found, problems = read_form(data, file.name, role, settings.today)
    if problems:
        print_problems(problems)
        return HAS_PROBLEMS
    _add(settings, found)
    print(f"{settings.library / FILE}: {len(found)} answers by {role}")
    return DONE


def _add(settings: Settings, answers: Sequence[PersonAnswer]) -> None:
    """Answers to those that the file has now; others may have been added since it was read."""

    def change(found: bytes | None) -> bytes:
        kept, problems = read_answers(found, f"{settings.library.name}/{FILE}") if found is not None else ((), [])
        if problems:
            raise ChangedError(problems[0])
        return write_answers((*kept, *answers))

    with hold_library(settings.library, "score", progress=settings.progress) as held:
        held.revise(FILE, change)


def _say_total(total: Total) -> str:
    low, high = total.bounds or (0.0, 0.0)
    percent = f"{low:.1f}" if low == high else f"{low:.1f} to {high:.1f}"
    wait = f", {total.waiting} wait for a person" if total.waiting else ""
    bound = PASS_PERCENT.get(total.part)
    aim = f", aim {bound:g}" if bound else ""
    return f"{total.part} {percent} ({total.points} points of {total.applicable} answered{wait}{aim})"


def _keep(arguments: argparse.Namespace, libraries: Sequence[Library], settings: Settings) -> int:
    """Add a person's answer for the exercises that were named, in the languages chosen."""
    item, _, word = arguments.answer.partition("=")
    role = " ".join(arguments.by.split())
    complaint = ""
    if item not in ITEMS:
        complaint = f"there is no item '{item}'. {suggest(item, ITEMS)}"
    elif word not in ("yes", "no", "n/a"):
        complaint = f"'{word}' is no answer. {suggest(word, ('yes', 'no', 'n/a'))}"
    elif looks_like_a_name(role):
        complaint = f"'{role}' reads like the name of a person. {ROLE_MEND}"
    elif not 0 < len(role) <= MOST_ROLE:
        complaint = SAY_WHO
    elif not arguments.language:
        complaint = "say which language was read: --language en."
    found = [
        PersonAnswer(
            place=Place(FILE), item=item, code=exercise.code, language=library.language, answer=Answer(word), by=role,
            on=settings.today, version=stamps[f"exercises/{exercise.slug}"],
        )
        for library in libraries
        for stamps in (stamps_of(library),)
        for exercise in library.exercises
        if not complaint and any(fnmatchcase(exercise.code, pattern) for pattern in arguments.code)
    ]  # fmt: skip
    if complaint or not found:
        print(
            f"handouts: {complaint or 'name exercises that are published by their codes: --code H7K2.'}",
            file=sys.stderr,
        )
        return CANNOT_RUN
    _add(settings, found)
    print(f"{settings.library / FILE}: {item} {word} for {len(found)} by {role}")
    return DONE
