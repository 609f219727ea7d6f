"""Makes the font files of this folder from published fonts: smaller, one file for each face.

    python templates/fonts/make.py [--atkinson FOLDER] [--noto FOLDER] [--arabic FOLDER] [--cjk FOLDER] [--system FOLDER]

FOLDER for Atkinson is the ``files`` folder of the npm package @fontsource/atkinson-hyperlegible-next
(5.3.0), for Noto the folder of Debian's fonts-noto-core (20201225), for Arabic the ``files`` folder of the npm package
@fontsource-variable/noto-sans-arabic (5.3.0), for CJK that of fonts-noto-cjk (1:20220127), for the fonts of readers'
systems one with Debian's fonts-dejavu-core.  The files of a source that is not given stay as they are.  Needs fontTools and
brotli.
The same sources give the same bytes.  Nothing at build time of a library runs this; it never fetches anything.

``print/`` holds what sheets embed, one file for each family and weight, never two files under one
family name: the PDF writer would mix up their glyphs.  ``web/`` holds the same letters as WOFF2,
cut by script so that a reader loads only what a page needs.  Chinese comes twice: the letters that the
demo library and the pages' own words use, and all the others, loaded only where a page has one of them.
The family Noto Sans Names holds what pages of any language show of other scripts: the languages' own
names, and the mark of an invented library.  Arabic comes for pages in Arabic as one variable font for both weights,
smaller than two, in two parts: its own letters, and those that only other languages have.  ``web.css`` and ``print.css``
declare them.
"""

from __future__ import annotations

import argparse
import io
import re
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from fontTools import merge, subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
WEIGHTS = {400: "Regular", 700: "Bold"}
VARIABLE = 0
"""In place of a weight: one file for all of them from regular to bold."""


def span(text: str) -> frozenset[int]:
    """Code points of a list such as ``20-7e, 2013``, in hexadecimal."""
    ranges = [part.strip().split("-") for part in text.split(",")]
    return frozenset(point for ends in ranges for point in range(int(ends[0], 16), int(ends[-1], 16) + 1))


PUNCTUATION = span("20-7e, a0-bf, d7, f7, 2010-2015, 2018-201e, 2020-2022, 2026, 2030, 2032-2033, 2039-203a, 20ac, 2212, 2264-2265")
LATIN = PUNCTUATION | span("c0-24f, 259, 2b9-2bc, 2c6-2c7, 2d8-2dd, 300-304, 306-30c, 323-328, 1e00-1e9f, 1eb8-1ecd, 1ee4-1ee5")
WESTERN = PUNCTUATION | span("c0-ff, 152-153, 178")
"""What a reader's own font stands in for."""
FIRST_MARKS = span("20-7e, a0, aa-ab, b0-b3, b7, ba-bf, d7, 2010-2011, 2013-2014, 2018-2019, 201c-201d, 2026, 2032-2033, 2212, 2264-2265")
FIRST = FIRST_MARKS | frozenset(map(ord, "áéíóúñüÁÉÍÓÚÑÜ" "àâçèêëîïôùûœÀÂÇÈÊËÎÏÔÙÛŒ"))
"""What pages in Spanish and French need of Latin letters; a page with others loads a second file."""
PLAIN = span("20-7e, a0, b0, b7, bd, d7, 2010-2011, 2013-2014, 2018-2019, 201c-201d, 2026, 2032-2033, 2212, 2264-2265")
"""What pages in English need.  Theirs are this file and one with the rest of what Spanish and French need; pages in other languages have both
in one file (``handouts/site/assets.py``).  No two files that a page names reach the same letter: browsers that are asked for a font would load both."""
VIETNAMESE = LATIN | span("300-303, 309, 323, 1ea0-1ef9, 20ab")
CYRILLIC = span("300-304, 306, 308, 400-45f, 48a-52f, 2116")
ARABIC = span("20-22, 28-29, 2d-2f, 3a, ab, bb, 600-6ff, 750-77f, 200c-200f, 2010-2011, 2026")
ARABIC_FIRST = span("20, 60c, 61b, 61f, 621-652, 670, 200c-200e, 2010-2011")
"""What pages in Arabic need: its letters, its vowel signs and its marks; a page with a letter of Persian or Urdu loads a second file."""
ARABIC_REST = span("600-6ff, 750-77f") - ARABIC_FIRST
CHINESE = span("20-7e, a0, b7, d7, 2013-2014, 2018-2019, 201c-201d, 2026, 3000-3002, 3008-3011, 3014-3015, ff01-ff1f, ff5e") | {
    ord(bytes((row, cell)).decode("gb2312")) for row in range(0xB0, 0xD8) for cell in range(0xA1, 0xFF) if (row, cell) < (0xD7, 0xFA)
}
CHINESE |= {ord(letter) for letter in "踵髋髌踝胫腓腘骶骺肱桡臼胛腱跖臀胯腋膈髂腰脊椎颈咽喉韧"}
CHINESE |= {ord(letter) for letter in "痉挛痹瘫瘀痿酸胀麻拄拐杖蹬踮屈伸蜷趴仰俯跪蹲踩倚膝肘腕趾跟臂掌拳浏"}
"""Marks, the 3,755 common characters of the first level of GB 2312, and words of the body and of pages that it lacks."""


def letters_of(*paths: str) -> frozenset[int]:
    """The code points of files of this project."""
    return frozenset(ord(letter) for path in paths for letter in (ROOT / path).read_text(encoding="utf-8"))


CHINESE_SIGNS = span("3000-3002, ff01, ff08-ff09, ff0c, ff1a-ff1b, ff1f")
CHINESE_USED = CHINESE & (
    letters_of("content/words/zh-Hans.po", "handouts/words/interface/zh-Hans.po") | CHINESE_SIGNS | frozenset(map(ord, "简体中文"))
)
CHINESE_FIRST = frozenset(letter for letter in CHINESE_USED if letter >= 0x3000)
"""What is loaded first."""


def mark_of(language: str) -> frozenset[int]:
    """The letters of the mark of an invented library in a language."""
    text = (ROOT / f"handouts/words/interface/{language}.po").read_text(encoding="utf-8")
    found = re.search(r'msgctxt "site.mark_invented"\nmsgid .*\nmsgstr "(.*)"', text)
    if not found:
        raise SystemExit(f"the interface in {language} has no mark of an invented library")
    return frozenset(map(ord, found[1]))


NAMES_ARABIC = (frozenset(map(ord, "العربية فارسی اردو")) | mark_of("ar")) & ARABIC - PUNCTUATION
NAMES_WIDE = frozenset(letter for letter in frozenset(map(ord, "Tiếng Việt Русский Українська Български Српски")) | mark_of("vi") if letter >= 0x250)
NAMES_CHINESE = frozenset(map(ord, "简体中文"))
MARK_CHINESE = frozenset(letter for letter in mark_of("zh-Hans") | frozenset(map(ord, "繁體")) if letter >= 0x3000) - NAMES_CHINESE


@dataclass(frozen=True, slots=True)
class Cut:
    """One WOFF2 for the web: the letters of a face that travel together."""

    name: str
    letters: frozenset[int]
    reach: frozenset[int] | None = None
    """What ``unicode-range`` promises, where naming every letter would take too long."""
    usual: bool = False
    """Whether it has only the layout features that are on without being asked for: how letters join, marks, kerning."""


@dataclass(frozen=True, slots=True)
class Face:
    """One family, its file name, the cuts for the web; ``own_print`` where print has its own file."""

    family: str
    name: str
    cuts: tuple[Cut, ...]
    print_kind: str = "truetype"
    """How sheets embed it: ``truetype``, ``woff2`` where it unpacks quickly and is large, or not at all."""
    weights: tuple[int, ...] = (400, 700)
    source: str = "noto"
    """Which of the folders it comes from."""
    lean: bool = False
    """Whether a few letters that join nothing come without layout features and shared outlines, as small as can be."""

    @property
    def letters(self) -> frozenset[int]:
        return frozenset().union(*(cut.letters for cut in self.cuts))


ATKINSON = Face("Atkinson Hyperlegible Next", "atkinson", (Cut("atkinson-more", LATIN - FIRST), Cut("atkinson", FIRST), Cut("atkinson-rest", FIRST - PLAIN), Cut("atkinson-plain", PLAIN)), source="atkinson")
NOTO = Face("Noto Sans", "noto-sans", (Cut("noto-sans-latin", VIETNAMESE), Cut("noto-sans-cyrillic", CYRILLIC)))
NOTO_ARABIC = Face("Noto Sans Arabic", "noto-sans-arabic", (Cut("noto-sans-arabic", ARABIC),))
NOTO_ARABIC_PAGES = Face(
    "Noto Sans Arabic", "noto-sans-arabic-first",
    (Cut("noto-sans-arabic-rest", ARABIC_REST, usual=True), Cut("noto-sans-arabic-first", ARABIC_FIRST, usual=True)),
    "", (VARIABLE,), "arabic",
)
"""Never beside the files of one weight: a browser takes the letters of a family from rules that name the same weights."""
NOTO_SC = Face(
    "Noto Sans SC", "noto-sans-sc",
    (
        Cut("noto-sans-sc", CHINESE, span("3000-303f, 4e00-9fff, ff00-ffef")),
        Cut("noto-sans-sc-first", CHINESE_USED, CHINESE_FIRST),
    ),
    print_kind="woff2", source="cjk",
)
"""Where two rules reach a letter, the later one is used: first what is seldom needed, then what every page needs."""
NAMES = "Noto Sans Names"
NOTO_NAMES = (
    Face(NAMES, "noto-names-wide", (Cut("noto-names-wide", NAMES_WIDE),), "", (400,)),
    Face(NAMES, "noto-names-arabic", (Cut("noto-names-arabic", NAMES_ARABIC),), "", (400,)),
    Face(NAMES, "noto-names-sc", (Cut("noto-mark-sc", MARK_CHINESE), Cut("noto-names-sc", NAMES_CHINESE)), "", (400,), "cjk", lean=True),
)
FACES = (ATKINSON, NOTO, NOTO_ARABIC, NOTO_ARABIC_PAGES, NOTO_SC, *NOTO_NAMES)


STAND_IN = "DejaVu"
"""A font of readers' systems that stands in for ours until ours has arrived: that of many Linux systems, a sixth wider.
Roboto and Arial are as wide as Atkinson by themselves (regular within 1 %, bold 0.3 and 5.7 %), and each font that a
system lacks costs a slow phone's processor 30 to 60 ms before the first text."""
STAND_IN_FILES = {400: ("DejaVuSans.ttf", "DejaVu Sans"), 700: ("DejaVuSans-Bold.ttf", "DejaVu Sans Bold")}
"""For each weight the file that is measured, and what systems call it."""
SAMPLE = "content/exercises"
"""Where the texts stand whose width is measured."""


def cut_font(
    font: TTFont, letters: Iterable[int], target: Path, flavor: str | None = None, lean: bool = False, usual: bool = False
) -> frozenset[int]:
    """Writes a font with these letters only, without hints; the letters it holds.

    It has all its layout features unless it is to be lean or to have the usual ones.
    """
    options = subset.Options()
    if not usual:
        options.layout_features = [] if lean else ["*"]
    options.hinting = False
    options.desubroutinize = lean
    options.notdef_outline = not (lean or usual)
    options.name_IDs = [0, 1, 2, 14] if lean or usual else [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.recalc_timestamp = False
    options.flavor = flavor
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=sorted(letters))
    cutter.subset(font)
    target.parent.mkdir(exist_ok=True)
    subset.save_font(font, str(target), options)
    return frozenset(TTFont(target).getBestCmap())


def join_atkinson(folder: Path, weight: int) -> TTFont:
    """The two parts of Atkinson Hyperlegible Next, Latin and extended Latin, as one font."""
    with tempfile.TemporaryDirectory() as place:
        parts = []
        for part in ("latin", "latin-ext"):
            font = TTFont(folder / f"atkinson-hyperlegible-next-{part}-{weight}-normal.woff2", recalcTimestamp=False)
            for table in ("prep", "gasp", "STAT"):
                if table in font:
                    del font[table]
            font.flavor = None
            parts.append(str(Path(place, f"{part}.ttf")))
            font.save(parts[-1])
        created, modified = font["head"].created, font["head"].modified
        joined = merge.Merger().merge(parts)
        joined["head"].created, joined["head"].modified = created, modified
        joined.recalcTimestamp = False
        whole = Path(place, "whole.ttf")
        joined.save(whole)
        return TTFont(whole, recalcTimestamp=False, lazy=False)


def open_face(face: Face, weight: int, folder: Path) -> TTFont:
    """The whole published font of a face."""
    if weight == VARIABLE:
        font = TTFont(folder / "noto-sans-arabic-arabic-wght-normal.woff2", recalcTimestamp=False)
        limited = io.BytesIO()
        instancer.instantiateVariableFont(font, {"wght": (min(WEIGHTS), max(WEIGHTS))}).save(limited)
        return TTFont(limited, recalcTimestamp=False)
    style = WEIGHTS[weight]
    if face.source == "atkinson":
        return join_atkinson(folder, weight)
    if face.source == "cjk":
        collection = folder / f"NotoSansCJK-{style}.ttc"
        for number in range(20):
            font = TTFont(collection, fontNumber=number, recalcTimestamp=False)
            if font["name"].getDebugName(1) == "Noto Sans CJK SC" or font["name"].getDebugName(16) == "Noto Sans CJK SC":
                return font
        raise SystemExit(f"{collection} holds no Noto Sans CJK SC")
    name = {"noto-names-wide": "NotoSans", "noto-names-arabic": "NotoSansArabic"}.get(face.name, face.family.replace(" ", ""))
    return TTFont(folder / f"{name}-{style}.ttf", recalcTimestamp=False)


def show_ranges(letters: Iterable[int]) -> str:
    """Letters as a CSS ``unicode-range``."""
    points = sorted(letters)
    runs: list[list[int]] = []
    for point in points:
        if runs and point == runs[-1][1] + 1:
            runs[-1][1] = point
        else:
            runs.append([point, point])
    return ", ".join(f"U+{first:x}" if first == last else f"U+{first:x}-{last:x}" for first, last in runs)


def declare(family: str, weight: int | str, file: str, kind: str, letters: Iterable[int] | None = None) -> str:
    """One ``@font-face``."""
    reach = f"\n  unicode-range: {show_ranges(letters)};" if letters else ""
    swap = "\n  font-display: swap;" if letters else ""
    return (f'@font-face {{\n  font-family: "{family}";\n  font-weight: {weight};\n  font-style: normal;\n'
            f'  src: url("{file}") format("{kind}");{swap}{reach}\n}}\n')


def width_of(font: TTFont, letters: str) -> float:
    """The width of a text by its font size, without kerning."""
    map_, widths = font.getBestCmap(), font["hmtx"]
    return sum(widths[map_[ord(letter)]][0] for letter in letters) / float(font["head"].unitsPerEm)


def stand_in(face: Face, folder: Path) -> str:
    """The rules of the font that stands in for a face: as wide on the whole, as high above and below the line."""
    texts = "".join(path.read_text(encoding="utf-8") for path in sorted((ROOT / SAMPLE).glob("*.md")))
    letters = "".join(letter for letter in texts if ord(letter) in PUNCTUATION and letter.isprintable())
    rules = []
    for weight, (file, local) in STAND_IN_FILES.items():
        ours = TTFont(HERE / "print" / f"{face.name}-{weight}.ttf")
        share = width_of(ours, letters) / width_of(TTFont(next(folder.rglob(file))), letters)
        line = ours["hhea"]
        em = ours["head"].unitsPerEm * share
        rules.append(
            f'@font-face {{\n  font-family: "{face.family} as {STAND_IN}";\n  font-weight: {weight};\n  src: local("{local}");\n'
            f"  size-adjust: {share:.2%};\n  ascent-override: {line.ascent / em:.2%};\n  descent-override: {-line.descent / em:.2%};\n"
            f"  line-gap-override: {line.lineGap / em:.2%};\n  unicode-range: {show_ranges(WESTERN)};\n}}\n"
        )
    return "\n".join(rules)


def make_file(face: Face, weight: int, cut: Cut, target: Path, folder: Path | None) -> None:
    """Writes one file of a face where its source is given."""
    if folder is not None:
        held = cut_font(open_face(face, weight, folder), cut.letters, target, "woff2" if target.suffix == ".woff2" else None, face.lean, cut.usual)
        print(f"{target.name}: {len(held)} letters, {target.stat().st_size:,} bytes")


def main() -> None:
    """Reads the sources, writes ``print/``, ``web/`` and their two style sheets."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    for source in ("atkinson", "noto", "arabic", "cjk", "system"):
        parser.add_argument(f"--{source}", type=Path)
    folders = vars(parser.parse_args())
    web, print_ = [], []
    for face in FACES:
        for weight in face.weights:
            for cut in face.cuts:
                small = HERE / "web" / f"{cut.name}-{weight or 'variable'}.woff2"
                make_file(face, weight, cut, small, folders[face.source])
                web.append(declare(face.family, weight or "400 700", f"web/{small.name}", "woff2", cut.reach or cut.letters))
            if face.print_kind == "truetype":
                target = HERE / "print" / f"{face.name}-{weight}.ttf"
                make_file(face, weight, Cut(face.name, face.letters), target, folders[face.source])
                print_.append(declare(face.family, weight, f"print/{target.name}", "truetype"))
            elif face.print_kind:
                whole = max(face.cuts, key=lambda cut: len(cut.letters))
                print_.append(declare(face.family, weight, f"web/{whole.name}-{weight}.woff2", "woff2"))
    header = "/* Written by make.py of this folder. */\n\n"
    (HERE / "web.css").write_text(header + "\n".join(web), encoding="utf-8")
    (HERE / "print.css").write_text(header + "\n".join(print_), encoding="utf-8")
    if folders["system"]:
        (HERE / "stand-in.css").write_text(header + "\n".join(stand_in(face, folders["system"]) for face in (ATKINSON, NOTO)), encoding="utf-8")


if __name__ == "__main__":
    main()
