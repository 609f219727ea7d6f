"""Each gate in a whole build: the page is missing, and the report names what is not published and why."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.words.catalogue import Catalogue, write_catalogue
from handouts.words.reviews import Reviews, write_reviews
from tests.small_library import small_library, texts_with
from tests.words.sample import change_one, reviewed, translated

ALSO = ("languages: {source: en}", "languages: {source: en, also: [es]}")
SHOW = ("grace days: 90}", "grace days: 90, unreviewed translations: show}")
REAL = ("invented: yes\n", "")
PAGES = {
    "exercises/foot-lift": "fOOT LIFT",
    "exercises/leg-lift": "lEG LIFT",
    "programmes/stand-up": "sTAND UP WELL",
    "bundles/first-days": "fIRST DAYS",
}
"""Every page, and its title in the made-up translation."""


@dataclass(frozen=True, slots=True)
class Gate:
    """What is wrong, which pages are then missing, and what the report says of the first of them."""

    edits: tuple[tuple[str, str], ...] = (SHOW,)
    context: str = ""
    text: str = ""
    changes: tuple[tuple[str, object], ...] = ()
    unreviewed: tuple[str, ...] | None = None
    """Owners without a review; None where nothing is reviewed."""
    missing: frozenset[str] = frozenset({"exercises/foot-lift"})
    because: str = ""


EVERYTHING = frozenset(PAGES)
GATES = {
    "missing": Gate(context="exercise/A222/feel", because="exercise/A222: 1 missing"),
    "not finished": Gate(context="exercise/A222/feel", text="Siente el muslo.", changes=(("fuzzy", True),), because="exercise/A222: 1 fuzzy"),
    "stale": Gate(context="exercise/A222/feel", text="Siente el muslo.", changes=(("fuzzy", True), ("previous", "You feel it.")), because="exercise/A222: 1 stale"),
    "wrong number": Gate(context="exercise/A222/ready-when", text="Puede hacer 3 series de 15.", because="exercise/A222: 1 faulty"),
    "stop rule": Gate(context="caution/stop-pain/do", missing=EVERYTHING, because="caution/stop-pain: 1 missing"),
    "word of a list": Gate(context="positions/sitting/name", missing=EVERYTHING, because="positions/sitting: 1 missing"),
    "programme": Gate(context="programme/P222/goal", missing=frozenset({"programmes/stand-up"}), because="programme/P222: 1 missing"),
    "bundle": Gate(context="bundle/first-days/for", missing=frozenset({"bundles/first-days"}), because="bundle/first-days: 1 missing"),
    "held back": Gate(edits=(), unreviewed=("exercise/A222",), because="exercise/A222: not reviewed"),
    "unreviewed stop rule": Gate(edits=(SHOW, REAL), unreviewed=("caution/stop-pain",), missing=EVERYTHING, because="caution/stop-pain: not reviewed"),
    "clinic's own texts": Gate(context="clinic/emergency", missing=EVERYTHING, because="clinic: 1 missing"),
}


def write_library(folder: Path, gate: Gate) -> Path:
    """The small library in Spanish, with one thing wrong."""
    texts = texts_with("clinic.yaml", ALSO, *gate.edits)
    library = small_library(texts)
    catalogue: Catalogue = translated(library)
    reviews: Reviews = {}
    if gate.unreviewed is not None:
        reviews = {owner: item for owner, item in reviewed(library, catalogue).items() if owner not in gate.unreviewed}
    if gate.context:
        catalogue = change_one(catalogue, gate.context, gate.text, **dict(gate.changes))
    files = {path: text.encode() for path, text in texts.items()}
    files |= {"words/es.po": write_catalogue(catalogue), "words/es.reviews.yaml": write_reviews(reviews)}
    for path, data in files.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
    return folder


def shows(page: Path, title: str) -> bool:
    """Whether a page is there and shows what it is named for; in its place a line may stand that it is not translated."""
    return page.is_file() and f"<h1>{title}</h1>" in page.read_text(encoding="utf-8")


def build(folder: Path, gate: Gate) -> tuple[set[str], dict[str, list[str]]]:
    """The Spanish pages that there are, and what the report says is not published, by kind and slug."""
    library, out = write_library(folder / "lib", gate), folder / "out"
    status = main(["build", str(library), "--to", str(out), "--no-paper", "--quiet", "--jobs", "1", "--today", "2026-11-25"])
    if gate.text.endswith("3 series de 15."):
        # a fault is an error of its own: nothing is published at all, the last good site stays
        assert status == 1
        return set(), {}
    assert status == 0
    report = json.loads((out / "report.json").read_text(encoding="utf-8"))
    assert all(gap["language"] == "es" for gap in report["not published"])
    told = {f"{gap['kind']}s/{gap['slug']}": gap["because"] for gap in report["not published"]}
    made = {page for page, title in PAGES.items() if shows(out / "site/es" / page / "index.html", title)}
    assert all((out / "site/en" / page / "index.html").is_file() for page in PAGES)
    return made, told


@pytest.mark.parametrize("name", GATES)
def test_gate(tmp_path: Path, name: str) -> None:
    """The page is not there in Spanish, it is there in English, and the report says why."""
    gate = GATES[name]
    made, told = build(tmp_path, gate)
    if name == "wrong number":
        assert made == set()
        return
    assert PAGES.keys() - made == gate.missing
    if gate.context.startswith("clinic/"):
        assert told == {"languages/es": [gate.because]}
        return
    for page in gate.missing:
        assert page in told
    assert gate.because in {reason for reasons in told.values() for reason in reasons}


def test_nothing_is_wrong(tmp_path: Path) -> None:
    """Without a fault every page is there, so the tests above can fail."""
    made, told = build(tmp_path, Gate())
    assert (made, told) == (PAGES.keys(), {})
