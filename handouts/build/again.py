"""A site's pages in the staging folder: what has not changed is taken over from the published site, the rest is made.

What is taken over is held to the manifest (``handouts.publishing.staging``), so a page that was damaged on the disk is made again.
The record of what each page depended on is kept with the cache and holds only for the site it was written with.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

from handouts.publishing.disk import PublishError, replace_files
from handouts.publishing.manifest import site_digest
from handouts.publishing.publish import SITE
from handouts.publishing.staging import Staging
from handouts.tasks.work import Pages, Parts, WorkRecord, is_same

RECORD = "plan.json"


def read_record(out: Path, cache: Path) -> WorkRecord:
    """The record of the published site; an empty one where there is none that fits it."""
    try:
        value = json.loads((cache / RECORD).read_bytes())
        record = WorkRecord(value["site"], value["inputs"], value["pages"])
    except (OSError, ValueError, TypeError, KeyError):
        return WorkRecord()
    return record if record.site and record.site == site_digest(out / SITE) else WorkRecord()


def write_record(cache: Path, record: WorkRecord) -> None:
    """Keep a record for the next build; where it cannot be kept the next build makes every page."""
    value = {"site": record.site, "inputs": record.inputs, "pages": record.pages}
    with suppress(PublishError):
        replace_files(cache, {RECORD: json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()})


def write_pages(
    pages: Mapping[str, bytes], staging: Staging, before: WorkRecord, done: Callable[[], None] = lambda: None
) -> tuple[dict[str, Parts], int]:
    """Every file of a site into the staging folder, one after the other; the parts of each page, and how many were made.

    ``done`` is called after each.
    """
    tasks = pages.tasks if isinstance(pages, Pages) else {}
    parts: dict[str, Parts] = {}
    made = 0
    for path in pages:
        done()
        if path not in tasks:
            staging.write(path, pages[path])
            continue
        parts[path] = tasks[path].parts()
        if not (is_same(before.pages.get(path), parts[path]) and staging.take_over(path)):
            made += 1
            staging.write(path, tasks[path].make())
    return parts, made
