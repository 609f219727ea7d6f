"""The manifest: a folder is exactly what it says, or the first difference is named."""

from __future__ import annotations

import errno
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from handouts.publishing import manifest
from handouts.publishing.manifest import (
    MANIFEST,
    digest_of,
    find_damage,
    flush_folder,
    look_at,
    manifest_of,
    read_manifest,
    site_digest,
)

FILES = {"index.html": b"one", "en/a/index.html": b"two", "empty": b""}


def put(site: Path) -> Path:
    """A whole site."""
    for path, data in FILES.items():
        (site / path).parent.mkdir(parents=True, exist_ok=True)
        (site / path).write_bytes(data)
    (site / MANIFEST).write_bytes(manifest_of({path: (len(data), digest_of(data)) for path, data in FILES.items()}))
    return site


def test_whole(tmp_path: Path) -> None:
    """What was written is what is read; the digest stands for it."""
    site = put(tmp_path / "site")
    assert read_manifest(site) == {path: (len(data), digest_of(data)) for path, data in FILES.items()}
    assert find_damage(site) is None
    assert look_at(site, read_manifest(site) or {}, flush=("en/a", "en", "")) is None
    assert site_digest(site) == digest_of((site / MANIFEST).read_bytes())


def test_digest_is_sha_256() -> None:
    """The digest of 'abc', from FIPS 180-2, appendix B.1."""
    assert digest_of(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


DAMAGES: dict[str, tuple[Callable[[Path], object], str]] = {
    "cut": (lambda site: (site / "index.html").write_bytes(b"on"), "'index.html' has other bytes than were written"),
    "changed": (lambda site: (site / "index.html").write_bytes(b"onE"), "'index.html' has other bytes than were written"),
    "gone": (lambda site: (site / "en/a/index.html").unlink(), "'en/a/index.html' is missing"),
    "more": (lambda site: (site / "en/b").write_bytes(b""), "'en/b' is not in its manifest"),
    "no manifest": (lambda site: (site / MANIFEST).unlink(), "'manifest.json' is missing or damaged"),
    "no rows": (lambda site: (site / MANIFEST).write_bytes(b"[]"), "'manifest.json' is missing or damaged"),
    "odd row": (lambda site: (site / MANIFEST).write_bytes(b'{"a": {"bytes": 1}}'), "'manifest.json' is missing or damaged"),
    "no JSON": (lambda site: (site / MANIFEST).write_bytes(b"\xff"), "'manifest.json' is missing or damaged"),
    "link to a file": (
        lambda site: ((site / "empty").unlink(), (site / "empty").symlink_to("/dev/null")),
        "'empty' has other bytes than were written",
    ),
    "link to a folder": (lambda site: (site / "more").symlink_to(site / "en"), "'more' is not in its manifest"),
    "pipe": (lambda site: ((site / "empty").unlink(), os.mkfifo(site / "empty")), "'empty' has other bytes than were written"),
}


@pytest.mark.parametrize("name", DAMAGES)
def test_damage(tmp_path: Path, name: str) -> None:
    """Each way in which a site is not what it should be."""
    site = put(tmp_path / "site")
    damage, said = DAMAGES[name]
    damage(site)
    assert find_damage(site) == said
    assert (find_damage(site, may_hold_more=True) is None) == (said.endswith("not in its manifest"))


def test_manifest_is_plain_json() -> None:
    """One row a line, as ``json`` writes it, whatever stands in a path."""
    for written in ({}, {"b": (1, "x"), 'a "\\\u00e9\u2028/c': (20, "y")}):
        rows = {path: {"bytes": size, "sha256": digest} for path, (size, digest) in sorted(written.items())}
        assert json.loads(manifest_of(written)) == rows
        assert not rows or manifest_of(written).decode() == json.dumps(rows, indent=0, ensure_ascii=False) + "\n"


def test_no_site(tmp_path: Path) -> None:
    """Where there is no folder there is no manifest."""
    assert find_damage(tmp_path / "site") == "'manifest.json' is missing or damaged"
    assert site_digest(tmp_path / "site") == ""
    with pytest.raises(FileNotFoundError):
        find_damage(tmp_path / "site", {})


def test_what_cannot_be_flushed_is_a_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error of the disk is raised while flushing; only reading tells it as damage."""
    site = put(tmp_path / "site")
    (site / "empty").unlink()
    (site / "empty").symlink_to("index.html")
    assert find_damage(site) == "'empty' has other bytes than were written"
    with pytest.raises(OSError) as caught:
        look_at(site, read_manifest(site) or {}, flush=())
    assert caught.value.errno == errno.ELOOP


@pytest.mark.parametrize(("number", "raised"), [(errno.EINVAL, False), (errno.EIO, True)])
def test_folders_that_know_no_flushing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, raised: bool) -> None:
    """EINVAL says that there is nothing to flush; any other error is one."""

    def fail(_: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(manifest.os, "fsync", fail)
    if raised:
        with pytest.raises(OSError):
            flush_folder(tmp_path)
    else:
        flush_folder(tmp_path)
