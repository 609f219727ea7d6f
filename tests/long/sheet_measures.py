"""What each sheet of the demo's exercises gives its figure and its words: ``python tests/long/sheet_measures.py [--json FILE] [PART OF A PATH …]``.

For every exercise in English, Spanish, Arabic and one further language in turn, in both type sizes, on A4 and Letter: pages, width and height of the
figure in millimetres, its width in hundredths of the live area, cues, faults and boxes to tick that are shown, other texts that are left out.
Prints a table by language and size, and ends with 1 where a figure is smaller in large type than in standard, or a last page has a line or two
alone; ``--json`` writes each sheet.
Nothing is published; it takes four minutes.
"""

from __future__ import annotations

import json
import sys
from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from statistics import mean
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.build.pipeline import make_site
from handouts.build.settings import Settings
from handouts.paper.articles import Document
from handouts.paper.document import ArticleSource, sources_of
from handouts.paper.geometry import LARGE, PX_IN_MM
from handouts.paper.settle import LaidArticle, settle
from handouts.tasks.progress import Progress
from tests.paper.test_cut_blocks import LEAST_FILLED, filled

ROOT = Path(__file__).parents[2]
TODAY = date(2026, 11, 25)
LANGUAGES, IN_TURN = ("en", "es", "ar"), ("fr", "vi", "zh-Hans")
"""Languages of which every sheet is measured, and those of which each exercise has one, where it is published there."""
WIDE = 55
"""Hundredths of the width that a figure should have."""


def documents(parts: list[str]) -> Iterator[Document]:
    """The sheets to be measured."""
    settings = Settings(ROOT / "content", Path("/nowhere"), TODAY, 1, progress=Progress())
    with settings.workers:
        makers = make_site(settings).documents.makers
    slugs = sorted({path.split("/")[2] for path in makers if path.startswith("en/exercises/")})
    further = {slug: IN_TURN[number % len(IN_TURN)] for number, slug in enumerate(slugs)}
    for path in sorted(makers):
        language, kind, slug, _ = path.split("/")
        if kind == "exercises" and (language in LANGUAGES or further[slug] == language) and "-with-" not in path and all(part in path for part in parts):
            yield makers[path]()


def measure(document: Document, source: ArticleSource, part: LaidArticle) -> dict[str, Any]:
    """What a sheet shows."""
    settled, layouts = part.settled, part.layouts
    stacking = settled.stacking
    left_out = stacking.given_up if stacking else ()
    article = settled.article
    high = stacking.spacings[0].figure / PX_IN_MM if stacking else 0.0
    wide = high * article.shape
    said = {name: source.html.partition(f'<section class="{name}')[2].partition("</section>")[0].count("<li>") for name in ("cues", "mistakes")}
    shown = {name: count - sum(each.startswith(f"{name} ") for each in left_out) for name, count in said.items()}
    return {
        "path": document.path,
        "pages": part.layout.pages,
        "figure": [round(wide, 1), round(high, 1)],
        "share": round(100 * wide / source.width, 1),
        "shape": round(article.shape, 2),
        "cues": [shown["cues"], said["cues"]],
        "faults": [shown["mistakes"], said["mistakes"]],
        "ticks": article.free > 0 and document.stands(0).strip.count('class="box"'),
        "left out": [name for name in left_out if not name.startswith(("cues ", "mistakes "))],
        "line": round(stacking.spacings[0].line, 2) if stacking else 0,
        "layouts": layouts,
        "last": round(filled(part.layout.made.pages[-1]), 2) if part.layout.pages > 1 else 1.0,
    }


def main(arguments: list[str]) -> int:
    """Every sheet, or those whose path has all parts."""
    target = Path(arguments.pop(arguments.index("--json") + 1)) if "--json" in arguments else None
    parts = [each for each in arguments if each != "--json"]
    known: dict[ArticleSource, dict[str, Any]] = {}
    found = []
    for document in documents(parts):
        (source,) = sources_of(document)
        if source not in known:
            known[source] = measure(document, source, settle(source))
        found.append({**known[source], "path": document.path})
    groups = defaultdict(list)
    for each in found:
        groups[each["path"].partition("/")[0], LARGE if each["path"].endswith("large.pdf") else "standard", "a4" if "-a4-" in each["path"] else "letter"].append(each)
    print(f"{'language, size, paper':28} sheets pages>usual  width % (mean, least) >= {WIDE} %  height (mean, least)  cues  <2 cues  faults  no ticks  layouts")
    for (language, size, paper), sheets in sorted(groups.items()):
        usual, shares, heights = 2 if size == LARGE else 1, [each["share"] for each in sheets], [each["figure"][1] for each in sheets]
        cues, faults = ([sum(each[name][at] for each in sheets) for at in (0, 1)] for name in ("cues", "faults"))
        print(
            f"{language + ' ' + size + ' ' + paper:28} {len(sheets):6} {sum(each['pages'] > usual for each in sheets):11}"
            f"  {mean(shares):8.1f} {min(shares):8.1f} {sum(share >= WIDE for share in shares):13}  {mean(heights):9.1f} {min(heights):9.1f}"
            f"  {cues[0]}/{cues[1]} {sum(each['cues'][0] < min(2, each['cues'][1]) for each in sheets):6} {faults[0]}/{faults[1]}"
            f" {sum(not each['ticks'] for each in sheets):8} {mean(each['layouts'] for each in sheets):8.2f}"
        )
    shares = {(each["path"].partition("/")[0], each["path"].split("/")[2], each["path"].rpartition("-")[2]): each["share"] for each in found}
    smaller = sorted({key[:2] for key, share in shares.items() if key[2] == "large.pdf" and share < shares.get((*key[:2], "standard.pdf"), 0) - 0.05})
    print(f"{len(smaller)} whose figure is smaller in large type: {', '.join('/'.join(each) for each in smaller)}")
    empty = [each["path"] for each in found if each["last"] < LEAST_FILLED]
    print(f"{len(empty)} whose last page is nearly empty: {', '.join(empty)}")
    if target:
        target.write_text(json.dumps(found, indent=1) + "\n")
    return bool(smaller or empty) or not found


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
