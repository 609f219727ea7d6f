"""The writing edge: a whole site is made in a staging folder beside the target and swapped in with one rename.

Until the swap the published site is untouched; after it the former site stays as ``.previous``, and the one before as
``.spare``, from which the next is made (``handouts.publishing.staging``).  What a killed build left behind is taken up or removed
by the next one.  A lock (``flock``) keeps two builds apart; it goes with its process, so a dead one never blocks.
"""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from handouts.problems import Place, Problem
from handouts.publishing.disk import ASIDE, PublishError, as_problem, exchange, fresh_of, prepare, replace
from handouts.publishing.locks import LOCK, hold_at_once
from handouts.publishing.manifest import FOLDER_MODE, find_damage, flush_folder, read_manifest, site_digest
from handouts.publishing.staging import Staging, Standing
from handouts.source.files import OUTPUT_MARK
from handouts.store.objects import NOTHING_KEPT, Objects

MARK = OUTPUT_MARK
"""File that marks a folder as ours; a folder with files and without it is never touched.

Holds the digest of the site, and was written just before all of that site was verified.
"""
NOT_VERIFIED = " to be read"
"""What follows the digest where the site was not verified since."""
OWN = (".gitignore", ".cache", ".lock")
"""What may stand in an output folder before the first build: checking keeps drawings there."""
SITE, STAGING, PREVIOUS, SPARE = "site", ".staging", ".previous", ".spare"
REPORT = "report.json"


@contextmanager
def hold_lock(out: Path) -> Iterator[None]:
    """Keep other builds out of a folder and tidy it; raises ``PublishError`` where another is at work there."""
    with as_problem(out):
        _make_ours(out)
        handle = hold_at_once(out / LOCK, f"process {os.getpid()}")
    try:
        with as_problem(out):
            recover(out)
        yield
    finally:
        os.close(handle)


def _make_ours(out: Path) -> None:
    """The output folder, made where it is missing; refused where it holds files that no build wrote."""
    if out.exists() and not out.is_dir():
        raise _refusal(out, "there is a file of this name")
    if not out.exists():
        out.mkdir(parents=True, exist_ok=True)
        out.chmod(FOLDER_MODE)
    if not may_be_ours(out):
        strangers = [item.name for item in out.iterdir() if item.name not in OWN]
        raise _refusal(out, f"the folder holds files that no build wrote, such as '{sorted(strangers)[0]}'")
    for name in (SITE, PREVIOUS, STAGING, SPARE, ASIDE):
        if (out / name).is_symlink() or ((out / name).exists() and not (out / name).is_dir()):
            raise _refusal(out, f"'{name}' in it is a link or a file, and no build made it")
    if not (out / MARK).exists():
        (out / MARK).touch()
        flush_folder(out)  # or a power cut might keep our files without the mark


def may_be_ours(out: Path) -> bool:
    """Whether builds may write into a folder: it is marked as ours, is missing, or holds nothing yet but what is kept."""
    if not out.is_dir():
        return not out.exists()
    return (out / MARK).exists() or all(item.name in OWN for item in out.iterdir())


def _published(out: Path) -> str:
    """The digest of the site that was published last, as the mark tells it; empty where there was none."""
    try:
        return (out / MARK).read_text(encoding="ascii", errors="replace").removesuffix("\n").removesuffix(NOT_VERIFIED)
    except FileNotFoundError:
        return ""


def _read_standing(out: Path) -> Standing:
    """What stands published.  A file that nobody changed since the mark was written is as it was verified."""
    site = out / SITE
    try:
        known = (out / MARK).read_bytes() == f"{site_digest(site)}\n".encode()
        return Standing(site, read_manifest(site) or {}, (out / MARK).stat().st_mtime_ns if known else 0)
    except OSError:
        return Standing(site)


def _refusal(out: Path, what: str) -> PublishError:
    return PublishError(Problem(Place(str(out)), "not-ours", what, "Choose an empty folder with --to."))


@contextmanager
def stage(out: Path, kept: Objects = NOTHING_KEPT) -> Iterator[Staging]:
    """A staging folder for one site; removed where the block raises, swapped in by ``swap_in``.

    ``kept`` keeps its files too; where it can be, both are one file on the disk.
    """
    staging = Staging(out / STAGING, _read_standing(out), kept)
    try:
        with as_problem(out, 0):
            staging.adopt(out / SPARE)
        yield staging
    finally:
        if not _is_former(out):
            _clear(out)


def recover(out: Path) -> None:
    """Take up what a killed build left: finish a swap that had begun, remove what was never published."""
    site, previous, staging = (out / name for name in (SITE, PREVIOUS, STAGING))
    _end_exchange(out)
    if not site.exists() and previous.exists():
        previous.rename(site)
    if staging.exists() and site.exists() and _is_former(out) and find_damage(staging) is None:
        _put_behind(out)
    shutil.rmtree(out / ASIDE, ignore_errors=True)
    _clear(out)
    if _published(out) != site_digest(site):
        replace(out / MARK, f"{site_digest(site)}{NOT_VERIFIED}\n".encode())


def _end_exchange(out: Path) -> None:
    """Where a swap in three renames was cut off, the folder that waits aside goes to the place that is empty."""
    if (out / ASIDE).exists():
        empty = next((name for name in (SITE, PREVIOUS, STAGING) if not (out / name).exists()), None)
        if empty is not None:
            (out / ASIDE).rename(out / empty)


def _clear(out: Path) -> None:
    """Remove what was made and not published."""
    shutil.rmtree(out / STAGING, ignore_errors=True)
    for name in (REPORT, MARK):
        with suppress(OSError):
            fresh_of(out / name).unlink()


def _is_former(out: Path) -> bool:
    """Whether the staging folder holds the site that was published: the kill came after the swap."""
    return site_digest(out / SITE) != site_digest(out / STAGING) == _published(out)


def swap_in(out: Path, staging: Staging, report: bytes) -> bool:
    """Verify the staged site against what was written, flush it, then make it the published one in one rename.

    Where the published site is whole and has the same bytes it stays, and so does the previous one; tells
    whether the site was swapped.  All that takes room on the disk is done before the swap.
    """
    site = out / SITE
    with as_problem(out, staging.size):
        staging.tidy()
        prepare(out / REPORT, report)
        prepare(out / MARK, f"{staging.digest}\n".encode())  # before all is verified: what is changed after it is read by the next build
        other = staging.digest != site_digest(site)
        changed = other or staging.find_damage_standing() is not None or not staging.is_standing_public()
        if changed:
            damage = staging.verify()
            if damage is not None:
                raise OSError(errno.EIO, damage)
            _swap(staging.root, site)
    with as_problem(out, after="the new site is published"):
        _end_exchange(out)
        flush_folder(out)
        if other and staging.root.exists():  # the former site stands there
            _put_behind(out)
        elif not changed:
            _put_aside(out)
        for name in (MARK, REPORT):
            fresh_of(out / name).replace(out / name)
        flush_folder(out)
    return changed


def published_objects(out: Path) -> Iterator[str]:
    """The SHA-256 of every file of the published site and of the previous one."""
    for site in (SITE, PREVIOUS):
        yield from (digest for _, digest in (read_manifest(out / site) or {}).values())


def _swap(staging: Path, site: Path) -> None:
    if site.exists():
        exchange(staging, site)
    else:
        staging.rename(site)


def _put_behind(out: Path) -> None:
    """The former site, in the staging folder, becomes the previous one; the one before goes."""
    staging, previous = out / STAGING, out / PREVIOUS
    if previous.exists():
        exchange(staging, previous)
        flush_folder(out)
        _put_aside(out)
    else:
        staging.rename(previous)
        flush_folder(out)


def _put_aside(out: Path) -> None:
    """What stands in the staging folder and is not needed becomes the spare, from which the next site is made."""
    shutil.rmtree(out / SPARE, ignore_errors=True)
    (out / STAGING).rename(out / SPARE)


def go_back(out: Path) -> bool:
    """Make the previous site the published one again; the present one becomes the previous.  False where there is none.

    Raises ``PublishError`` where the previous site is not whole.
    """
    site, previous = out / SITE, out / PREVIOUS
    with as_problem(out):
        if not previous.exists():
            return False
        fault = find_damage(previous, may_hold_more=True)
        if fault is not None:
            what = f"the previous site is not whole: {fault}"
            raise PublishError(Problem(Place(str(out)), "damaged", what, "Build the site again instead."))
        exchange(previous, site)
    with as_problem(out, after="the previous site is published again"):
        flush_folder(out)
        replace(out / MARK, f"{site_digest(site)}\n".encode())
    return True
