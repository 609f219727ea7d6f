"""``handouts guide``: the papers that come with the program: hosting, running it for years, what ``--json`` prints."""

from __future__ import annotations

import argparse
import sys

from handouts.commands.report import DONE
from handouts.templating.assets import read_paper

PAPERS = {"hosting": "HOSTING.md", "operations": "OPERATIONS.md", "json": "outputs.schema.json"}
"""Each topic with its file."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("topic", choices=tuple(PAPERS), help="hosting, operations, or json: the schema of what --json prints")


def run(arguments: argparse.Namespace) -> int:
    """Print a paper."""
    sys.stdout.write(read_paper(PAPERS[arguments.topic]))
    return DONE
