"""PDFs a second: ours, a plain warm loop of the same writer that shares nothing, and Chromium's print.

All three lay out the same final HTML with the same styles and fonts; ours also finds that HTML by its drafts.

    python -m tests.bench.papers FOLDER NAME...        prints files of a folder with Chromium, for one of its workers
"""

from __future__ import annotations

import re
import subprocess
import sys
import time
from collections.abc import Sequence
from functools import partial
from pathlib import Path

from handouts.build.pdfs import Sheets
from handouts.paper.articles import Document
from handouts.paper.assets import faces_for, load_paper_assets
from handouts.paper.contained_writer import PDF_VARIANT
from handouts.paper.document import sources_of
from handouts.paper.geometry import column_rules
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import Documents
from handouts.paper.settle import settle
from handouts.paper.writer.load import BASE_URL, WriterLog, load_writer
from handouts.store.memo import Memo
from handouts.store.reads import WatchedReads
from handouts.workers import Workers
from tests.bench.measure import Report
from tests.paper.making import OneCode, given

WORKERS = 2
_ADDRESS = re.compile(r"url\((['\"]?)")


def lay_out_plainly(html: str) -> bytes:
    """The same page as anybody would make it in a warm process: styles read and fonts made for each document."""
    writer, paper_assets = load_writer(), load_paper_assets()
    fonts, record = writer.fonts(), WriterLog()
    fetcher = writer.fetcher(paper_assets.fonts, record)
    rules = ("".join(paper_assets.font_rules[face] for face in faces_for(html)), paper_assets.style)
    sheets = [writer.css(string=text, base_url=BASE_URL, url_fetcher=fetcher, font_config=fonts) for text in rules]
    made = writer.html(string=html, base_url=BASE_URL, url_fetcher=fetcher)
    pdf: bytes = made.write_pdf(stylesheets=sheets, font_config=fonts, pdf_variant=PDF_VARIANT)
    return pdf


def plain_html(document: Document) -> str:
    """The whole document as one HTML whose articles are set as they were settled, head and foot on every page."""
    area, html = document.area, document.html
    below = area.paper_height - area.top - area.height
    rules = [
        f"@page {{ size: {area.paper_width}mm {area.paper_height}mm; margin: {area.top}mm {area.left}mm {below}mm; "
        "@top-left { content: element(head); width: 100%; vertical-align: bottom } @bottom-left { content: element(foot); width: 100% } }",
        ".running-head { position: running(head) } .running-foot { position: running(foot) }",
    ]
    for source in sources_of(document):
        settled = settle(source).settled
        html = html.replace(source.article.opening, settled.article.opening, 1)
        if settled.stacking:
            name, spacing = f"#{source.article.anchor}", settled.stacking.spacings[0]
            rules += [
                column_rules(name, area.width, settled.article.share),
                f"{name} .figure {{ height: {spacing.figure:.2f}px; }} {name} {{ --line: {spacing.line:.3f}; --gap: {spacing.gap:.2f}px; }}",
                f"{name} .columns {{ columns: 2; column-gap: 7mm; }} {name} .columns > * {{ width: auto; }}",
            ]
    return html.replace("</head>", f"<style>{' '.join(rules)}</style></head>", 1)


def measure_papers(report: Report, made: Sequence[Document], folder: Path) -> None:
    """Each document by both ways in turn, in one process; then with workers, and Chromium with as many."""
    ours, plain, finals = list[float](), list[float](), list[str]()
    lay_out_document(made[0])
    lay_out_plainly(plain_html(made[0]))
    for document in made[1:]:
        finals.append(plain_html(document))
        began = time.process_time()
        lay_out_document(document)
        between = time.process_time()
        lay_out_plainly(finals[-1])
        plain.append(time.process_time() - between)
        ours.append(between - began)
    report.add("PDF", "ours, one process, drafts and all, processor time", 1000 * sum(ours) / len(ours), "ms each")
    report.add("PDF", "plain warm loop, processor time", 1000 * sum(plain) / len(plain), "ms each")
    report.ratio("PDF", "plain by ours, one process", plain, ours)
    began = time.perf_counter()
    for html in finals:
        lay_out_plainly(html)
    loop = len(finals) / (time.perf_counter() - began)
    rate = _our_rate(made)
    report.add("PDF", "plain warm loop", loop, "a second")
    report.add("PDF", f"ours, {WORKERS} workers", rate, "a second")
    report.add("PDF", f"ours with {WORKERS} workers by the plain loop (aim 4)", rate / loop, "times")
    chromium = _chromium_rate(finals, folder)
    report.add("PDF", f"Chromium, {WORKERS} workers", chromium, "a second")
    report.add("PDF", "ours by Chromium (aim 1.3)", rate / chromium, "times")


def _sheets(made: Sequence[Document]) -> Sheets:
    """Documents as the PDFs of a build that knows nothing."""
    makers = {document.path: partial(given, document) for document in made}
    return Sheets(Documents(makers), WatchedReads(None, (), OneCode(Path())), Memo(), Workers(WORKERS).map)


def _our_rate(made: Sequence[Document]) -> float:
    """PDFs a second of warm workers: from the first that each gives to the last."""
    ends = [time.perf_counter() for _ in _sheets(made).lay_out()]
    return (len(ends) - WORKERS) / (ends[-1] - ends[WORKERS - 1])


def _chromium_rate(finals: Sequence[str], folder: Path) -> float:
    """PDFs a second of several browsers, each warm, one page after the other."""
    paper_assets = load_paper_assets()
    folder.mkdir(parents=True, exist_ok=True)
    for address, data in paper_assets.fonts.items():
        (folder / address).parent.mkdir(parents=True, exist_ok=True)
        (folder / address).write_bytes(data)
    names = []
    for number, html in enumerate(finals):
        style = "".join(paper_assets.font_rules[face] for face in faces_for(html)) + paper_assets.style
        names.append(f"{number}.html")
        (folder / names[-1]).write_text(html.replace("</head>", f"<style>{style}</style></head>", 1), "utf-8")
    words = [sys.executable, "-m", "tests.bench.papers", str(folder)]
    running = [subprocess.Popen([*words, *names[start::WORKERS]], stdout=subprocess.PIPE, text=True) for start in range(WORKERS)]
    return sum(float(process.communicate()[0]) for process in running)


def print_pages(folder: Path, names: Sequence[str]) -> float:
    """PDFs a second of one browser; the first page is printed once before, to warm it."""
    from tests.site.browser import a_browser  # only this process drives a browser

    with a_browser() as browser:
        page = browser.new_page()
        began = 0.0
        for number, name in enumerate([names[0], *names]):
            began = time.perf_counter() if number == 1 else began
            page.goto((folder / name).resolve().as_uri())
            page.pdf(prefer_css_page_size=True, print_background=True, tagged=True)
        return len(names) / (time.perf_counter() - began)


if __name__ == "__main__":
    print(print_pages(Path(sys.argv[1]), sys.argv[2:]))
