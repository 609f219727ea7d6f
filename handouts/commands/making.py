"""How ``handouts build`` makes a site: pages, pictures and sheets into the staging folder, then one swap."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from handouts.bases.own_changes import OWN_CHANGE
from handouts.build.explain import explain_large, say_why
from handouts.build.inputs import fingerprint, read_inputs
from handouts.build.lost_addresses import find_lost, lost_problems
from handouts.build.pdfs import FinishedPdf, Sheets
from handouts.build.pipeline import Made, make_site, report_of
from handouts.build.published import INPUTS, SITE_DIGEST
from handouts.build.settings import Settings
from handouts.commands.left_out import print_left_out
from handouts.commands.report import (
    CANNOT_RUN,
    HAS_PROBLEMS,
    print_json,
    print_problems,
    problem_record,
    refuse,
    status_of,
)
from handouts.ledger.check import NOT_APPROVED
from handouts.paper.previews import draw_previews
from handouts.problems import Grade, Place, Problem, has_errors, sort_problems
from handouts.publishing.manifest import digest_of
from handouts.publishing.publish import hold_lock, published_objects, stage, swap_in
from handouts.publishing.staging import Staging
from handouts.store.digest import digest
from handouts.store.memo import Memo, using
from handouts.store.objects import Objects

FOR_SHEETS = ("handouts.paper.laying", "handouts.paper.writer.ready")
"""Modules that lay out sheets."""
WAIT_SECONDS = 5.0
"""After so long it is said that the pages can be looked at."""


def run(settings: Settings, arguments: argparse.Namespace, inputs: Mapping[str, str]) -> int:
    """Build a library of which something has changed; ``inputs`` are what it was before anything of it was read."""
    if not settings.library.is_dir():
        return refuse("build", make_site(settings).problems, arguments.json, CANNOT_RUN)
    work = Work(settings, time.perf_counter(), inputs, Memo(settings.results), arguments.explain)
    if settings.paper:
        settings.workers.prepare(*FOR_SHEETS)
    with hold_lock(settings.out), using(work.memo, settings.results), settings.workers:
        made = make_site(settings, work.memo)
        unsigned = [replace(each, grade=Grade.ERROR) for each in made.problems if each.rule in (NOT_APPROVED, OWN_CHANGE)]
        if not made.pages or unsigned:
            others = [each for each in made.problems if each.rule not in (NOT_APPROVED, OWN_CHANGE)]
            return _refuse(sort_problems([*others, *unsigned]), arguments.json)
        problems, record = _publish(made, work)
    if has_errors(problems):
        return _refuse(problems, arguments.json)
    if arguments.explain:
        print(work.told, file=sys.stderr if arguments.json else sys.stdout)
    if arguments.json:
        print_json("build", {**record, "problems": [problem_record(problem) for problem in problems]})
        return status_of(problems, arguments.fail_on)
    print_problems(problems)
    print_left_out(record)
    print(
        f"{record['pages']} pages and {record['sheets']} PDFs ({record['pages made']} pages made, "
        f"{record['sheets made']} laid out, {record['pdf pages']} sheets of paper) in {record['seconds']['all']:.0f} s"
    )
    print(f"Open {(settings.out / 'site' / 'index.html').resolve().as_uri()}")
    return status_of(problems, arguments.fail_on)


@dataclass(slots=True)
class Work:
    """One build: what it was asked, and what its inputs are."""

    settings: Settings
    start: float
    inputs: Mapping[str, str]
    memo: Memo
    explained: str | None = None
    """Path of a page or a PDF, or the name of a figure, of which it is told why it was made."""
    told: str = ""


def _publish(made: Made, work: Work) -> tuple[tuple[Problem, ...], dict[str, Any]]:
    """Lay out the sheets, write everything to the staging folder, and swap it in where there is no error."""
    settings = work.settings
    problems, made_sheets, paper = list(made.problems), 0, 0
    each = partial(work.memo.spread, settings.workers.map)
    began = time.perf_counter()
    with stage(settings.out, Objects(settings.results)) as staging:
        with settings.progress.stage("making pages", len(made.pages)) as stage_of:
            made_pages, work.told = write_pages(made, staging, work.explained, stage_of.done)
            for path, data in made.finish(staging.files).items():
                staging.write(path, data)
        lost = _find_lost(made, staging, settings)
        problems += lost
        if has_errors(lost):
            return sort_problems(problems), dict(made.record)
        pages_done = time.perf_counter()
        for preview in draw_previews(made.previews, each):
            problems += preview.problems
            staging.write(preview.path, preview.png)
        sheets = Sheets(made.documents, made.sheet_reads, work.memo, settings.workers.map)
        for sheet in _tell_of_preview(sheets.lay_out(staging.take_over), len(made.documents), settings):
            problems += sheet.problems
            made_sheets += sheet.made
            paper += sheet.pages
            if sheet.pdf:
                staging.write(sheet.path, sheet.pdf)
        seconds = {
            **made.record["seconds"],
            "pages": round(pages_done - began, 3),
            "sheets": round(time.perf_counter() - pages_done, 3),
            "all": round(time.perf_counter() - work.start, 3),
        }
        record = {
            **made.record,
            "pages made": made_pages,
            "sheets made": made_sheets,
            "pdf pages": paper,
            "seconds": seconds,
        }
        found = sort_problems(problems)
        if not has_errors(found):
            # A library that was changed on the way is not what the site was made from.
            same = fingerprint(work.inputs) if read_inputs(settings) == work.inputs else ""
            record |= {SITE_DIGEST: staging.digest, INPUTS: same}
            report = report_of({**record, "problems": [problem_record(item) for item in found]})
            with settings.progress.stage("publishing"):
                swap_in(settings.out, staging, report)
            if work.explained:
                work.told = explain_large(work.explained, work.memo, sheets, made.library) or work.told
            if not settings.shared:
                work.memo.collect([*published_objects(settings.out), *sheets.kept(), *made.reads.names()])
            made.reads.write()
            if settings.paper:
                made.sheet_reads.write()
    return found, record


def write_pages(made: Made, staging: Staging, explained: str | None = None, done: Callable[[], None] = lambda: None) -> tuple[int, str]:
    """Every file of a site into the staging folder; how many pages were made, and why the one that is to be ``explained`` was.

    A page that would be the same is taken over where it is published or kept; ``done`` is called after each file.
    """
    pages, reads, count = made.pages, made.reads, 0
    told = f"There is no page '{explained}' in this site."
    for path in pages:
        done()
        task = pages.tasks.get(path)
        if task is None:
            staging.write(path, pages[path])
            continue
        key = digest(path)
        kept = reads.find(key, task.func, *task.args)
        is_new = kept is None or not staging.take_over(path, kept.decode())
        if explained == path:
            told = say_why(path, reads.why(key, task.func, *task.args), is_new)
        if is_new:
            count += 1
            staging.write(path, reads.make(key, task.func, *task.args, keep=_sha256))
    return count, told


def _sha256(page: bytes) -> bytes:
    return digest_of(page).encode()


def _find_lost(made: Made, staging: Staging, settings: Settings) -> list[Problem]:
    """What the published site has, and readers would look for in vain."""
    taken_off = made.library.clinic.taken_off if made.library else ()
    place, standing = Place(f"{settings.library.name}/clinic.yaml"), staging.standing.manifest
    found = lost_problems(find_lost(standing, staging.files, taken_off), place)
    sheets = sum(path.endswith(".pdf") for path in standing)
    if sheets and not settings.paper:
        what = f"the {sheets} PDFs of the published site are not in this one: it was built with --no-paper"
        found.append(Problem(place, "sheets-left-out", what, "Build with sheets before you copy it, or build drafts elsewhere (--to).", Grade.NOTICE))
    return found


def _tell_of_preview(sheets: Iterator[FinishedPdf], count: int, settings: Settings) -> Iterator[FinishedPdf]:
    """The sheets as they are done; where that takes long, says once how to look at the pages meanwhile.

    A site is published whole, so until then its pages are shown by the preview, which lays a sheet out when it is asked for.
    """
    began, told = time.perf_counter(), False
    for number, sheet in enumerate(sheets, 1):
        if not told and number < count and time.perf_counter() - began > WAIT_SECONDS:
            told = True
            settings.progress.tell(f"The pages are made. To look at them meanwhile: handouts preview {settings.library}")
        yield sheet


def _refuse(problems: tuple[Problem, ...], as_json: bool) -> int:
    refuse("build", problems, as_json, HAS_PROBLEMS)
    if not as_json:
        print("Nothing was published; the last good site stays.")
    return HAS_PROBLEMS
