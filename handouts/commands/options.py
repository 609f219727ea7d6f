"""Options that several commands have, each read in one way."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

LIBRARY = "folder of the library (default: content)"


def add_library(parser: argparse.ArgumentParser, *, alone: bool = True) -> None:
    """The library: ``--library FOLDER``, and where it is the only thing to name also just ``FOLDER``."""
    parser.add_argument("--library", type=Path, default=Path("content"), help=LIBRARY)
    if alone:
        parser.add_argument("library", nargs="?", action=_Folder, default=argparse.SUPPRESS, help="the same")


class _Folder(argparse.Action):
    """Takes a folder where one is named; a ``type`` would also be asked for the default that leaves the option alone."""

    def __call__(self, _parser: Any, namespace: argparse.Namespace, values: Any, _option: str | None = None) -> None:
        setattr(namespace, self.dest, Path(values))
