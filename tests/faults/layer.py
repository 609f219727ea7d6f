"""A layer under Python's file functions: it numbers every step that changes a folder on the disk, and asks what to do.

The watcher may kill the process before a step, raise an ``OSError`` in its stead, or write it down.  A step
is one system call: a large write counts as two, so that a kill also falls in the middle of a file.  The
product knows nothing of this; the functions are replaced in the process of a test and put back after it.
"""

# ruff: noqa: PTH115, PTH117, PTH118, PTH119, PTH120
from __future__ import annotations

import builtins
import ctypes
import io
import os
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple


class Step(NamedTuple):
    """One change: what is done, to which path below the folder, and with what (data, or the other path)."""

    kind: str
    """mkdir, create, write, truncate, close, fsync, link, rename, exchange, unlink, rmdir, chmod."""
    path: str
    more: Any = None


Watch = Callable[[int, Step], None]
TAKES_ROOM = {"mkdir", "create", "write", "close", "fsync", "link"}
"""Steps in which a full disk shows itself."""


class Layer:
    """The replaced functions over one folder; ``steps`` counts what was tried below it, ``log`` takes what succeeded."""

    def __init__(self, root: Path, watch: Watch, *, can_exchange: bool = True, log: list[Step] | None = None) -> None:
        self.log = log
        self.can_exchange = can_exchange
        self.root = os.path.realpath(root)
        self.watch = watch
        self.steps = 0
        self._lock = threading.RLock()
        self._real = {name: getattr(os, name) for name in ("open", "mkdir", "link", "rename", "replace", "unlink", "remove", "rmdir", "fsync", "ftruncate", "write", "chmod")}
        self._io_open, self._cdll = io.open, ctypes.CDLL

    def path_of(self, path: Any, dir_fd: int | None = None) -> str | None:
        """A path below the folder, or None where it is elsewhere."""
        if isinstance(path, int):
            path = os.readlink(f"/proc/self/fd/{path}")
        text = os.fsdecode(path)
        if dir_fd is not None and not os.path.isabs(text):
            text = os.path.join(os.readlink(f"/proc/self/fd/{dir_fd}"), text)
        text = os.path.normpath(os.path.join(os.path.realpath(os.path.dirname(text) or "."), os.path.basename(text)))
        if text == self.root:
            return ""
        return text.removeprefix(f"{self.root}/") if text.startswith(f"{self.root}/") else None

    def do(self, step: Step, action: Callable[[], Any]) -> Any:
        """One step: the watcher first, then the real thing; one at a time, as a log must tell their order."""
        with self._lock:
            self.steps += 1
            self.watch(self.steps - 1, step)
            result = action()
            if self.log is not None:
                self.log.append(step)
            return result

    def _named(self, kind: str) -> Callable[..., Any]:
        real = self._real["remove" if kind == "unlink" else kind]

        def act(path: Any, *args: Any, dir_fd: int | None = None, **more: Any) -> Any:
            where = self.path_of(path, dir_fd)
            given = more if dir_fd is None else {**more, "dir_fd": dir_fd}
            if where is None:
                return real(path, *args, **given)
            return self.do(Step(kind, where, args), lambda: real(path, *args, **given))

        return act

    def _rename(self, old: Any, new: Any, **more: Any) -> None:
        where, to = self.path_of(old), self.path_of(new)
        if where is None or to is None:
            self._real["rename"](old, new, **more)
        else:
            self.do(Step("rename", where, to), lambda: self._real["rename"](old, new, **more))

    def _link(self, old: Any, new: Any, **more: Any) -> None:
        where, to = self.path_of(old), self.path_of(new)
        if where is None or to is None:
            self._real["link"](old, new, **more)
        else:
            self.do(Step("link", where, to), lambda: self._real["link"](old, new, **more))

    def _open(self, path: Any, flags: int, mode: int = 0o777, *, dir_fd: int | None = None) -> int:
        where = self.path_of(path, dir_fd)
        if where is None or not flags & os.O_CREAT:
            return self._real["open"](path, flags, mode, dir_fd=dir_fd)
        return self.do(Step("create", where, bool(flags & os.O_TRUNC)), lambda: self._real["open"](path, flags, mode, dir_fd=dir_fd))

    def _handled(self, kind: str) -> Callable[..., Any]:
        real = self._real[kind]

        def act(handle: int, *args: Any) -> Any:
            where = self.path_of(handle)
            if where is None:
                return real(handle, *args)
            return self.do(Step("truncate" if kind == "ftruncate" else kind, where, *args), lambda: real(handle, *args))

        return act

    def _open_file(self, file: Any, mode: str = "r", buffering: int = -1, *args: Any, **more: Any) -> Any:
        where = None if isinstance(file, int) else self.path_of(file)
        if where is None or not set(mode) & set("wxa"):
            return self._io_open(file, mode, buffering, *args, **more)
        raw = self.do(Step("create", where, "w" in mode), lambda: _Counted(self, where, file, mode.replace("b", "").replace("t", "")))
        stream = io.BufferedWriter(raw)
        return stream if "b" in mode else io.TextIOWrapper(stream, *args, **more)

    def _library(self, name: Any, *args: Any, **more: Any) -> Any:
        library = self._cdll(name, *args, **more)
        real = getattr(library, "renameat2", None)

        def renameat2(base: int, old: bytes, base_2: int, new: bytes, flags: int) -> int:
            where, to = self.path_of(old), self.path_of(new)
            assert where is not None and to is not None and flags == 2
            try:
                return int(self.do(Step("exchange", where, to), lambda: real(base, old, base_2, new, flags)))
            except OSError as error:
                ctypes.set_errno(error.errno or 0)
                return -1

        class Library:
            pass

        found = Library()
        if self.can_exchange:
            found.renameat2 = renameat2  # type: ignore[attr-defined]
        return found

    @contextmanager
    def over(self) -> Iterator[Layer]:
        """The layer in place."""
        new: dict[str, Any] = {kind: self._named(kind) for kind in ("mkdir", "unlink", "rmdir", "chmod")}
        new |= {kind: self._handled(kind) for kind in ("fsync", "ftruncate", "write")}
        new |= {"remove": new["unlink"], "link": self._link, "rename": self._rename, "replace": self._rename, "open": self._open}
        try:
            for name, function in new.items():
                setattr(os, name, function)
            io.open = builtins.open = self._open_file  # type: ignore[assignment]
            ctypes.CDLL = self._library  # type: ignore[assignment, misc]
            yield self
        finally:
            for name, function in self._real.items():
                setattr(os, name, function)
            io.open = builtins.open = self._io_open
            ctypes.CDLL = self._cdll  # type: ignore[misc]


class _Counted(io.FileIO):
    """A file whose writes and close are steps; what is longer than a few bytes is written in two halves."""

    def __init__(self, layer: Layer, where: str, file: Any, mode: str) -> None:
        self._layer, self._where, self._told = layer, where, False
        super().__init__(file, mode)

    def write(self, data: Any) -> int:
        """One step; gives how much was taken, as a real file may."""
        part = bytes(data)
        part = part[: max(1, len(part) // 2)] if len(part) > 8 else part
        return int(self._layer.do(Step("write", self._where, part), lambda: io.FileIO.write(self, part)))

    def close(self) -> None:
        """A full disk may show itself here only."""
        if self.closed or self._told:
            super().close()
            return
        self._told = True
        try:
            self._layer.do(Step("close", self._where), lambda: None)
        finally:
            super().close()
