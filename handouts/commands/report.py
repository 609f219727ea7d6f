"""What every command prints: problems for people or as JSON."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TextIO

from handouts.problems import Grade, Place, Problem, show_problem, show_text

DONE, HAS_PROBLEMS, CANNOT_RUN = 0, 1, 2
"""Exit status: done; the library has problems; the command could not run."""
DONE_WITH_NOTICE = 3
"""Exit status: done, and a notice was given that one asked to be told of (``--fail-on``)."""


def status_of(problems: Iterable[Problem], fail_on: Sequence[str]) -> int:
    """The exit status of a command that did its work."""
    told = any(each.rule in fail_on or "notice" in fail_on for each in problems)
    return DONE_WITH_NOTICE if told else DONE


def problem_record(problem: Problem) -> dict[str, Any]:
    """A problem for tools."""
    return {
        "file": show_text(problem.place.file),
        "line": problem.place.line,
        "column": problem.place.column,
        "grade": problem.grade.value,
        "rule": problem.rule,
        "what": show_text(problem.what),
        "mend": show_text(problem.mend),
    }


def recorded_problems(records: Iterable[Mapping[str, Any]]) -> tuple[Problem, ...]:
    """The problems of a report, as they were when it was written."""
    return tuple(
        Problem(
            Place(each["file"], each["line"], each["column"]), each["rule"], each["what"], each["mend"],
            Grade(each["grade"]),
        )
        for each in records
    )  # fmt: skip


def print_problems(problems: Sequence[Problem], stream: TextIO | None = None) -> None:
    """Every problem on a line, then how many there are."""
    out = stream or sys.stderr
    for problem in problems:
        print(show_problem(problem), file=out)
    if problems:
        print(count_problems(problems), file=out)


def count_problems(problems: Iterable[Problem]) -> str:
    """``2 errors, 1 notice``."""
    grades = [problem.grade for problem in problems]
    errors, notices = grades.count(Grade.ERROR), grades.count(Grade.NOTICE)
    parts = [
        f"{count} {noun}{'' if count == 1 else 's'}"
        for count, noun in ((errors, "error"), (notices, "notice"))
        if count
    ]
    return ", ".join(parts) or "no problems"


JSON_FORMAT = 1
"""Number of the form of all that ``--json`` prints; another one where a name goes or means something else."""


def print_json(kind: str, value: Mapping[str, Any]) -> None:
    """What a command found, on standard output, for tools; ``kind`` names its schema (``templates/schemas``)."""
    json.dump({"kind": kind, "format": JSON_FORMAT, **value}, sys.stdout, ensure_ascii=False, indent=2)
    print()


def refuse(kind: str, problems: Sequence[Problem], as_json: bool, status: int) -> int:
    """Says why a command goes no further, for tools or for people; gives the exit status."""
    if as_json:
        print_json(kind, {"problems": [problem_record(problem) for problem in problems]})
    else:
        print_problems(problems)
    return status
