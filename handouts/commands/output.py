"""What a command writes for a person: never over a file of someone, and into a library only where builds lie.

What this program wrote is known by its bytes and its place, which are kept beside drawings; what someone changed
since is theirs.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from handouts.build.settings import Settings
from handouts.library.names import PARTS
from handouts.problems import Place, Problem
from handouts.publishing.author_files import as_file_problem, put_new, read_regular, replace_if
from handouts.publishing.disk import PublishError
from handouts.publishing.manifest import digest_of
from handouts.publishing.publish import may_be_ours
from handouts.source.files import OUTPUT_MARK
from handouts.store.objects import Objects


@dataclass(frozen=True, slots=True)
class Output:
    """Where one command may write, and whether it may replace what is not its own."""

    library: Path
    folder: Path
    """Of the build, where it is kept what was written."""
    replace: bool = False

    @classmethod
    def of(cls, settings: Settings, replace: bool) -> Output:
        """Of a run."""
        return cls(settings.library, settings.out, replace)

    def write(self, target: Path, data: bytes) -> None:
        """One file, whole or not at all; raises ``PublishError`` where it may not stand there."""
        with as_file_problem(target):
            self._make_room(target.parent, target)
            found = read_regular(target)
            if found is None:
                put_new(target, data)
            elif found != data:
                if not (self.replace or self._knows(target, found)):
                    what = "there is a file of this name, which handouts did not write or which was changed since"
                    mend = "Choose another name, or add --replace."
                    raise PublishError(Problem(Place(str(target)), "not-replaced", what, mend))
                replace_if(target, found, data)
        with suppress(OSError):
            self._kept.put(_note(target, data))

    @property
    def _kept(self) -> Objects:
        return Objects(self.folder / ".cache" / "written")

    def _knows(self, target: Path, data: bytes) -> bool:
        """Whether a command wrote these bytes there."""
        note = _note(target, data)
        return self._kept.get(digest_of(note)) == note

    def _make_room(self, folder: Path, target: Path) -> None:
        """The folder of a file, made where it is missing; in a library, or in place of a build, it is marked as an output."""
        ours = find_top(self.library, folder, target)
        if ours is None and folder.resolve() == self.folder.resolve() and may_be_ours(folder):
            ours = folder
        folder.mkdir(parents=True, exist_ok=True)
        if ours is not None:
            (ours / OUTPUT_MARK).touch()


def find_top(library: Path, folder: Path, target: Path) -> Path | None:
    """The folder of the library in which an output lies, None where it lies elsewhere.

    Raises ``PublishError`` for ``target`` where that folder is not for output.
    """
    root, place = library.resolve(), folder.resolve()
    if root != place and root not in place.parents:
        return None
    first = root.joinpath(*place.relative_to(root).parts[:1])
    if first == root or first.name in PARTS or not may_be_ours(first):
        what = "it would lie in the library, which holds only its own files"
        mend = "Name a place beside it, or a folder for output in it, such as build."
        raise PublishError(Problem(Place(str(target)), "in-library", what, mend))
    return first


def _note(target: Path, data: bytes) -> bytes:
    return f"{target.parent.resolve() / target.name}\n{digest_of(data)}\n".encode("utf-8", "surrogateescape")
