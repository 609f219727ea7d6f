"""The schemas for editors in a library: as this version of the program and the library's own names have them now."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from handouts.bases.read import read_standing
from handouts.figure import figure_schemas
from handouts.library.schema import schema_files
from handouts.publishing.author_files import ChangedError, hold_library
from handouts.publishing.disk import PublishError
from handouts.source.bases import read_with_base

FOLDER = "schema"


def renew_schemas(root: Path) -> None:
    """Bring the schemas of a library up to date where it has them; one that may not be written stays as it is."""
    if not (root / FOLDER).is_dir():
        return
    files, _ = read_with_base(root, root.name)
    library, _ = read_standing(files, root.name)
    if library is None:
        return
    made = schema_files(figure_schemas(), library)
    changed = {path: data for path, data in made.items() if files.get(path) != data}
    if changed:
        with suppress(PublishError, ChangedError, OSError), hold_library(root, "check") as held:
            held.replace(changed, files)
