"""A digest of the code that makes a value: whatever its module imports, transitively, and the templates that those name.

Of our own modules the sources count, and data files in the folders of their rooms; of others the name and the version
of the package, and of what it requires; of WeasyPrint also those of Pango and HarfBuzz; Python and the machine's kind always.
So a key that holds this digest cannot be forgotten when code changes.
"""

from __future__ import annotations

import ctypes
import platform
import re
import sys
from ast import literal_eval
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from functools import cache, cached_property
from hashlib import sha256
from importlib import metadata
from pathlib import Path
from typing import Any

import msgspec

from handouts.store.whole_file import write_whole
from handouts.templating.assets import read_templates

_IMPORT = re.compile(r"^[ \t]*(?:from[ \t]+([\w.]+)[ \t]+import[ \t]+(?:\(([^)]*)\)|([^\n]*))|import[ \t]+([^\n]*))", re.MULTILINE)
_LATER = re.compile(r"\bLater\(\s*\"([\w.]+)\",\s*\"(\w+)\"")
_NAME = re.compile(r"([\w.]+)(?:\s+as\s+\w+)?\s*(?:,|$)")
_COMMENT = re.compile(r"#[^\n]*")
_TEMPLATES = re.compile(r"^TEMPLATES(?:: [^=\n]+)? = (\([^)]*\))", re.MULTILINE)
_REQUIRED = re.compile(r"[\w.-]+")
_LIBRARIES = (("libpango-1.0.so.0", "pango_version_string"), ("libharfbuzz.so.0", "hb_version_string"))
"""Libraries of the system below WeasyPrint, and what tells their version."""


class Code:
    """The sources of a package, read when they are asked for."""

    def __init__(self, root: Path, templates: Callable[[], Mapping[str, bytes]] = read_templates) -> None:
        self.root = root
        self._templates = templates
        self._read: dict[str, tuple[bytes, frozenset[str], frozenset[str]]] = {}
        self._digests: dict[str, bytes] = {}
        self._written = 0

    @cached_property
    def _state(self) -> str:
        """A digest of all that any digest here may follow from."""
        whole = sha256(whole_digest(self.root).encode())
        for template, data in sorted(self._templates().items()):
            _add(whole, template, data)
        for library, ask in _LIBRARIES:
            _add(whole, library, _library_version(library, ask).encode())
        return whole.hexdigest()

    def recall(self, file: Path) -> None:
        """Take digests from a file, where they were made of the program as it is now."""
        with suppress(OSError, msgspec.MsgspecError):
            data = file.read_bytes()
            if data[:32] == sha256(data[32:]).digest():
                state, digests = msgspec.msgpack.decode(data[32:], type=tuple[str, dict[str, bytes]])
                if state == self._state:
                    self._digests = {**digests, **self._digests}
                    self._written = len(self._digests)

    def write(self, file: Path) -> None:
        """Keep digests in a file, where there are others than it had.  Raises ``OSError``."""
        if len(self._digests) != self._written:
            body = msgspec.msgpack.encode((self._state, self._digests))
            write_whole(file.parent, file, sha256(body).digest() + body)
            self._written = len(self._digests)

    def digest(self, module: str) -> bytes:
        """The digest of the code behind a module."""
        found = self._digests.get(module)
        if found is None:
            found = self._digests[module] = self._digest(module)
        return found

    def closure(self, module: str) -> tuple[frozenset[str], frozenset[str]]:
        """The modules of the package that a module needs, itself among them, and the other packages' modules."""
        own, others, waiting = set[str](), set[str](), [module]
        while waiting:
            name = waiting.pop()
            if name in own:
                continue
            own.add(name)
            _, inside, outside = self._module(name)
            waiting += inside
            others |= outside
        return frozenset(own), frozenset(others)

    def _digest(self, module: str) -> bytes:
        own, others = self.closure(module)
        whole, templates = sha256(_MACHINE), set[str]()
        for name in sorted(own):
            data = self._module(name)[0]
            _add(whole, name, data)
            for found in _TEMPLATES.findall(data.decode()):
                templates.update(literal_eval(found))
        for path in self._data_files(own):
            _add(whole, path.relative_to(self.root).as_posix(), path.read_bytes())
        for template, data in sorted(self._templates().items()) if templates else ():
            if template.startswith(tuple(templates)):
                _add(whole, template, data)
        for line in versions_of(others):
            _add(whole, line, b"")
        return whole.digest()

    def _module(self, name: str) -> tuple[bytes, frozenset[str], frozenset[str]]:
        """The source of a module, and what it imports of the package and of others."""
        found = self._read.get(name)
        if found is None:
            data = self._sources[name].read_bytes()
            inside, outside = set[str](), set[str]()
            for imported in imports_of(data.decode()):
                if imported.partition(".")[0] != self.root.name:
                    outside.add(imported.partition(".")[0])
                else:
                    inside.update(each for each in _prefixes(imported) if each in self._sources)
            inside.update(each for each in _prefixes(name) if each in self._sources)
            found = self._read[name] = data, frozenset(inside), frozenset(outside - sys.stdlib_module_names)
        return found

    @cached_property
    def _sources(self) -> dict[str, Path]:
        """The file of each module; a folder is known by its ``__init__``."""
        found = {}
        for path in self.root.rglob("*.py"):
            parts = path.relative_to(self.root.parent).with_suffix("").parts
            found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
        return found

    def _data_files(self, modules: frozenset[str]) -> Iterator[Path]:
        """Files that are no modules, in the folders of modules and in those below that are no rooms themselves."""
        for folder in sorted({self._sources[name].parent for name in modules} - {self.root}):
            for path in sorted(folder.rglob("*")):
                room = path.parent == folder or not (path.parent / "__init__.py").exists()
                if room and path.is_file() and path.suffix not in (".py", ".pyc"):
                    yield path


@cache
def whole_digest(root: Path = Path(__file__).parents[1]) -> str:
    """The digest of everything that a package holds, of Python, the machine's kind, and every installed package by its version."""
    whole = sha256(_MACHINE)
    for path in sorted(root.rglob("*")):
        if path.is_file() and path.suffix != ".pyc" and "_templates" not in path.parts:
            _add(whole, path.relative_to(root).as_posix(), path.read_bytes())
    folders = (Path(entry) for entry in sys.path if Path(entry).is_dir())
    for name in sorted({item.name for folder in folders for item in folder.iterdir() if item.suffix in (".dist-info", ".egg-info")}):
        _add(whole, name, b"")
    return whole.hexdigest()


_MACHINE = f"{sys.version}\n{sys.platform}\n{platform.machine()}\n".encode()


def _add(whole: Any, name: str, data: bytes) -> None:
    whole.update(f"{name}\0{len(data)}\0".encode())
    whole.update(data)


def imports_of(source: str) -> Iterator[str]:
    """Every module or name that a source imports, wherever it stands, now or later; what only looks so may be among them."""
    for module, many, few, plain in _IMPORT.findall(source):
        names = [name for name in _NAME.findall(_COMMENT.sub("", many or few or plain)) if name]
        yield from (f"{module}.{name}" for name in names) if module else names
    yield from map(".".join, _LATER.findall(source))  # a task whose module is imported only to make something


def _prefixes(name: str) -> Iterator[str]:
    parts = name.split(".")
    return (".".join(parts[:count]) for count in range(1, len(parts) + 1))


def versions_of(modules: frozenset[str]) -> list[str]:
    """Name and version of the packages that modules come from, of what those require, and of the system's below them."""
    waiting = [name for module in modules for name in _distributions().get(module, ())]
    found: dict[str, str] = {}
    while waiting:
        name = re.sub(r"[-_.]+", "-", waiting.pop()).lower()
        if name in found:
            continue
        try:
            distribution = metadata.distribution(name)
        except metadata.PackageNotFoundError:
            continue  # one for another system, or of an extra
        found[name] = distribution.version
        waiting += [match[0] for line in distribution.requires or () if "extra ==" not in line and (match := _REQUIRED.match(line))]
    system = [f"{library} {_library_version(library, ask)}" for library, ask in _LIBRARIES] if "weasyprint" in found else []
    return [*(f"{name} {version}" for name, version in sorted(found.items())), *system]


@cache
def _distributions() -> Mapping[str, list[str]]:
    return metadata.packages_distributions()


@cache
def _library_version(library: str, ask: str) -> str:
    try:
        function = getattr(ctypes.CDLL(library), ask)
    except (OSError, AttributeError):
        return "unknown"
    function.restype = ctypes.c_char_p
    return bytes(function()).decode()
