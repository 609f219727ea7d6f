"""``handouts build``: the whole site with its sheets, published only when all of it succeeded.

Where nothing has changed since the last build, that is said and no more is done: what makes a site
(``handouts.commands.making``) is imported only when something is to be made.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping

from handouts.build.caches import tidy
from handouts.build.inputs import fingerprint, read_inputs
from handouts.build.published import read_report, stands_whole
from handouts.build.settings import Settings
from handouts.commands.left_out import print_left_out
from handouts.commands.options import add_cache, add_day, add_fail_on, add_jobs, add_library_word, add_out
from handouts.commands.output import find_top
from handouts.commands.report import CANNOT_RUN, DONE, print_json, print_problems, recorded_problems, status_of
from handouts.problems import Problem
from handouts.publishing.publish import go_back, hold_lock


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    add_library_word(parser)
    add_cache(parser)
    add_out(parser, "folder to build into")
    add_jobs(parser, "processes that lay out sheets")
    parser.add_argument("--on", metavar="ADDRESS", help="dask scheduler whose workers do it: tcp://host:8786")
    parser.add_argument("--no-paper", action="store_true", help="build the pages only, without sheets")
    parser.add_argument("--review", action="store_true", help="add LANG/review/, pages for translators and reviewers")
    says = "a trial that goes to nobody: 'ledger update' refuses to take it as published"
    parser.add_argument("--draft", action="store_true", help=says)
    parser.add_argument("--back", action="store_true", help="publish the previous site again, build nothing")
    parser.add_argument(
        "--verify", action="store_true", help="build twice in different ways and compare, publish nothing"
    )
    parser.add_argument(
        "--explain", metavar="PAGE", type=_page, help="say why a page, a PDF or a figure was made again or not: en/exercises/step-up, figures/step-up"
    )
    parser.add_argument("--json", action="store_true", help="print the report as JSON, for tools")
    add_fail_on(parser)
    add_day(parser, "build as if it were this day")


def run(arguments: argparse.Namespace) -> int:
    """Build a library."""
    settings = Settings.of(arguments)
    if arguments.back:
        return _back(settings)
    if arguments.verify:
        from handouts.commands import verifying  # named in tests/test_layers.py

        return verifying.run(settings, arguments)
    inputs: Mapping[str, str] = {}
    if settings.library.is_dir():
        find_top(settings.library, settings.out, settings.out)
        with hold_lock(settings.out):
            tidy(settings.out, settings.cache)
            inputs = read_inputs(settings)
            problems = _find_unchanged(settings, arguments, inputs)
            if problems is not None:
                if arguments.explain:
                    why = f"{arguments.explain} was not made again: nothing has changed."
                    print(why, file=sys.stderr if arguments.json else sys.stdout)
                return status_of(problems, arguments.fail_on)
    from handouts.commands import making  # named in tests/test_layers.py

    return making.run(settings, arguments, inputs)


def _page(word: str) -> str:
    """The path of a page or a PDF as it is named in a browser or on the disk; the name of a figure."""
    path = word.strip("/")
    return path if path.endswith((".html", ".pdf")) or path.startswith("figures/") else f"{path}/index.html".lstrip("/")


def _find_unchanged(settings: Settings, arguments: argparse.Namespace, inputs: Mapping[str, str]) -> tuple[Problem, ...] | None:
    """Where the published site is what a build would make, its report is shown again, unless one asked for quiet; gives its problems."""
    report = read_report(settings.out, fingerprint(inputs))
    if report is None or not stands_whole(settings.out):
        return None
    problems = recorded_problems(report["problems"])
    if arguments.json:
        print_json("build", {**report, "unchanged": True})
        return problems
    if arguments.quiet:
        return problems
    print_problems(problems)
    print_left_out(report)
    print(f"Nothing has changed: the {report['pages']} pages and {report['sheets']} PDFs stay as they are.")
    print(f"Open {(settings.out / 'site' / 'index.html').resolve().as_uri()}")
    return problems


def _back(settings: Settings) -> int:
    with hold_lock(settings.out):
        if not go_back(settings.out):
            print(f"There is no previous site in {settings.out}.")
            return CANNOT_RUN
    print(f"The previous site is published again in {settings.out / 'site'}; --back once more undoes this.")
    return DONE
