"""``handouts check``: everything that ``build`` would refuse or point out, writing only the schemas for editors."""

from __future__ import annotations

import argparse

from handouts.build.pipeline import check_all
from handouts.build.settings import Settings
from handouts.commands.editor_schemas import renew_schemas
from handouts.commands.left_out import print_left_out
from handouts.commands.options import add_cache, add_day, add_fail_on, add_library_word
from handouts.commands.report import (
    CANNOT_RUN,
    HAS_PROBLEMS,
    count_problems,
    print_json,
    print_problems,
    problem_record,
    refuse,
    status_of,
)
from handouts.problems import has_errors


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    add_library_word(parser)
    add_cache(parser)
    parser.add_argument("--json", action="store_true", help="print problems as JSON, for tools")
    add_fail_on(parser)
    add_day(parser, "ask as if it were this day")


def run(arguments: argparse.Namespace) -> int:
    """Check a library."""
    settings = Settings.of(arguments)
    if not settings.library.is_dir():
        return refuse("check", check_all(settings).problems, arguments.json, CANNOT_RUN)
    checked = check_all(settings)
    renew_schemas(settings.library)
    if arguments.json:
        print_json(
            "check",
            {
                "problems": [problem_record(problem) for problem in checked.problems],
                "limits": checked.limits_record,
                **checked.left_out,
            },
        )
    else:
        print_problems(checked.problems)
        print_left_out(checked.left_out)
        if not checked.problems:
            print(f"{checked.summary}: {count_problems(())}")
    return HAS_PROBLEMS if has_errors(checked.problems) else status_of(checked.problems, arguments.fail_on)
