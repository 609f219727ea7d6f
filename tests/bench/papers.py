"""PDFs a second: ours, a plain warm loop of the same writer that shares nothing, and Chromium's print.

All three lay out the same final HTML with the same styles and fonts; ours also finds that HTML by its drafts.

    python -m tests.bench.papers FOLDER NAME...        prints files of a folder with Chromium, for one of its workers
    python -m tests.bench.papers --lay-out FILE        lays out a pickled document, for its memory
"""

from __future__ import annotations

import pickle
import re
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from handouts.build.pdfs import Sheets
from handouts.paper.articles import FRONT, ROW, ArticleStanding, Document
from handouts.paper.assets import faces_for, load_paper_assets
from handouts.paper.contained_writer import PDF_VARIANT
from handouts.paper.document import cut_out, sources_of
from handouts.paper.geometry import column_rules
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import Documents
from handouts.paper.settle import settle
from handouts.paper.writer.load import BASE_URL, WriterLog, load_writer
from handouts.store.memo import Memo
from handouts.store.reads import WatchedReads
from handouts.workers import Workers
from tests.bench.measure import Report, run
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
    made = writer.read(html, None, fetcher)
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
        if source.article.kind in (FRONT, ROW):
            continue
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
    ours, plain, finals, waited = list[float](), list[float](), list[str](), 0.0
    lay_out_document(made[0])
    lay_out_plainly(plain_html(made[0]))
    for document in made[1:]:
        finals.append(plain_html(document))
        began = time.process_time()
        lay_out_document(document)
        between, clock = time.process_time(), time.perf_counter()
        lay_out_plainly(finals[-1])
        plain.append(time.process_time() - between)
        waited += time.perf_counter() - clock
        ours.append(between - began)
    report.add("PDF", "ours, one process, drafts and all, processor time", 1000 * sum(ours) / len(ours), "ms each")
    report.add("PDF", "plain warm loop, processor time", 1000 * sum(plain) / len(plain), "ms each")
    report.ratio("PDF", "plain by ours, one process", plain, ours)
    loop = len(finals) / waited
    rate = _our_rate(made)
    report.add("PDF", "plain warm loop", loop, "a second")
    report.add("PDF", f"ours, {WORKERS} workers", rate, "a second")
    report.add("PDF", f"ours with {WORKERS} workers by the plain loop (aim 8)", rate / loop, "times")
    chromium = _chromium_rate(finals, folder)
    report.add("PDF", f"Chromium, {WORKERS} workers", chromium, "a second")
    report.add("PDF", "ours by Chromium (aim 2)", rate / chromium, "times")


MEMORY = {"quick": (6, 24), "full": (60, 600)}
"""Pages of the documents whose memory is compared."""


def long_document(document: Document, pages: int) -> Document:
    """A booklet with so many exercises, no two of which say the same, from those of a booklet."""
    exercises = [each for each in document.articles if each.kind == "exercise"]
    kept = [each for each in document.articles if each.kind == "cover"]
    start, stop = document.html.index("<article"), document.html.rindex("</article>") + len("</article>")
    texts, articles = [re.sub(r' href="#[^"]*"', "", cut_out(each, document.html)) for each in kept], list(kept)
    for number in range(pages):
        one = exercises[number % len(exercises)]
        own = replace(one, anchor=f"{one.anchor}-{number}", shares=False)
        text = cut_out(one, document.html).replace(one.opening, own.opening, 1).replace(f'"{one.anchor}--end"', f'"{own.anchor}--end"')
        texts.append(re.sub(r"(<h1[^>]*>)", rf"\g<1>{number} ", text, count=1))
        articles.append(own)
    html = document.html[:start] + "\n".join(texts) + document.html[stop:]
    standing = (*(ArticleStanding(pen=True) for _ in kept), *(ArticleStanding(1) for _ in range(pages)))
    return replace(document, html=html, articles=tuple(articles), standing=standing)


def measure_memory(report: Report, document: Document, folder: Path, sizes: tuple[int, int]) -> None:
    """Peak memory of a process that lays out a document, by how many pages it has."""
    folder.mkdir(parents=True, exist_ok=True)
    found = list[float]()
    for pages in (1, *sizes):
        file = folder / f"{pages}.pickle"
        file.write_bytes(pickle.dumps(long_document(document, pages)))
        done = run([sys.executable, "-m", "tests.bench.papers", "--lay-out", file])
        found.append(done.megabytes)
        report.add("PDF", f"a document of {pages} pages, {done.processor:.1f} s of processor, memory at most", done.megabytes, "MB")
    report.add("PDF", f"memory at {sizes[1]} pages by that at {sizes[0]} (aim 1.3)", found[2] / found[1], "times")


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


if __name__ == "__main__" and sys.argv[1] == "--lay-out":
    lay_out_document(pickle.loads(Path(sys.argv[2]).read_bytes()))
elif __name__ == "__main__":
    print(print_pages(Path(sys.argv[1]), sys.argv[2:]))
