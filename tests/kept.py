"""What tests make once for all processes and all runs: results of pure tasks, and a store for builds that are no subject of their own.

Kept outside the checkout, by a digest of the arguments and of the code behind the task (``handouts.store.code_digest``): after a change
of code, of a package or of a template it is made anew.  What was not asked for in ``DAYS`` days is removed.  An empty folder costs
time and nothing else; ``HANDOUTS_TESTS_KEEP=no`` does without it.
"""

from __future__ import annotations

import fcntl
import os
import pickle
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from hashlib import sha256
from inspect import getsource
from pathlib import Path
from typing import Any, TypeVar
from unittest.mock import patch

from handouts.build.settings import Settings
from handouts.store.digest import digest, digest_places
from handouts.store.memo import Memo, own_code
from tests import FOLDER

WANTED = os.environ.get("HANDOUTS_TESTS_KEEP") != "no"
DAYS = 7
Result = TypeVar("Result")
_HERE: dict[str, Any] = {}


def kept(task: Callable[..., Result], *arguments: Any, follows: tuple[Any, ...] = (), room: str = "") -> Result:
    """The result of a pure function of a module of the package; its arguments are values that the store takes.

    Where it does not take them, ``follows`` is what they follow from by code of the task's room.  ``room`` is the module whose
    code counts for a function of a test, beside its own lines.
    """
    known = follows or arguments
    code = own_code().digest(room or (task.__module__.rpartition(".")[0] if follows else task.__module__))
    name = getsource(task) if room else task.__qualname__
    key = sha256(b"\0".join((code, name.encode(), digest(known), digest_places(known)))).hexdigest()
    if key not in _HERE:
        place = FOLDER / "values" / key
        found = _read(place)
        if found is None:
            with _alone(place.with_suffix(".lock")):
                found = _read(place)
                if found is None:
                    found = task(*arguments)
                    _write(place, found)
        _HERE[key] = found  # only now: a task that raised is asked again, and says again why
    return _HERE[key]  # type: ignore[no-any-return]


@contextmanager
def _alone(lock: Path) -> Iterator[None]:
    """Another process that asks for the same waits, and reads what this one made."""
    if not WANTED:
        yield
        return
    lock.parent.mkdir(parents=True, exist_ok=True)
    with lock.open("wb") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        try:
            yield
        finally:
            fcntl.flock(file, fcntl.LOCK_UN)  # for a process that was forked meanwhile too


def _read(path: Path) -> Any:
    if not WANTED:
        return None
    try:
        found = pickle.loads(path.read_bytes())
        os.utime(path)
    except Exception:  # not there, or cut: it is made again
        return None
    return found


def _write(path: Path, value: Any) -> None:
    if not WANTED:
        return
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as fresh:
            fresh.write(pickle.dumps(value))
        Path(fresh.name).replace(path)


STORES = ("demo", "small")
"""A store for builds of the demo, and one for all others: a small store is read at once."""


@contextmanager
def shared_results(store: str = "demo") -> Iterator[None]:
    """Within it, builds of this process ask one store of ``STORES``, which no build tidies."""
    if not WANTED:
        yield
        return
    with patch.object(Settings, "results", FOLDER / store), patch.object(Memo, "collect", lambda self, published=(): self.flush()):
        yield


def tidy() -> None:
    """Remove what was long not asked for, and what another state of the code gave to builds."""
    limit = time.time() - DAYS * 86400
    for path in (FOLDER / "values").glob("*"):
        with suppress(OSError):
            if path.stat().st_mtime < limit:
                path.unlink()
    for store in STORES:
        Memo(FOLDER / store).collect()
    shutil.rmtree(FOLDER / "bytecode" / Path(tempfile.gettempdir()).relative_to("/"), ignore_errors=True)  # of copies of the program
