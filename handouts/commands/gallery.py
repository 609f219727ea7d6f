"""``handouts gallery``: the gallery of movements as pages, to search in and to copy from; or its names."""

from __future__ import annotations

import argparse
from pathlib import Path

from handouts.build.settings import default_out
from handouts.commands.options import add_library, add_replace
from handouts.commands.output import Output
from handouts.commands.report import DONE
from handouts.gallery.files import file_names, gallery_file
from handouts.gallery.movements import read_movements
from handouts.tasks.progress import Progress

USUAL = "gallery"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("--to", type=Path, default=Path(USUAL), help=f"folder to write it into (default: {USUAL})")
    parser.add_argument("--names", action="store_true", help="print the name of each movement; nothing is written")
    add_library(parser, alone=False)
    add_replace(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the pages and a picture of each movement."""
    if arguments.names:
        for movement in read_movements():
            print(f"{movement.slug}: {'; '.join((movement.name, *movement.also_called))}")
        return DONE
    output = Output(arguments.library, default_out(arguments.library), arguments.replace)
    folder: Path = arguments.to
    names = file_names()
    with Progress(arguments.quiet).stage("drawing figures", len(names)) as stage:
        for name in names:
            output.write(folder / name, gallery_file(name) or b"")
            stage.done()
    print(folder / "index.html")
    return DONE
