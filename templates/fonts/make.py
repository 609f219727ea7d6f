"""Makes the font files of this folder from published fonts: smaller, one file for each face.

    python templates/fonts/make.py --atkinson FOLDER --noto FOLDER [--cjk FOLDER]

FOLDER for Atkinson is the ``files`` folder of the npm package @fontsource/atkinson-hyperlegible-next
(5.3.0), for Noto the folder of Debian's fonts-noto-core (20201225), for CJK that of fonts-noto-cjk
(1:20220127).  Needs fontTools and brotli.  The same sources give the same bytes.  Nothing at build
time of a library runs this; it never fetches anything.

``print/`` holds what sheets embed, one file for each family and weight, never two files under one
family name: the PDF writer would mix up their glyphs.  ``web/`` holds the same letters as WOFF2,
cut by script so that a reader loads only what a page needs.  ``web.css`` and ``print.css`` declare them.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from fontTools import merge, subset
from fontTools.ttLib import TTFont

HERE = Path(__file__).parent
WEIGHTS = {400: "Regular", 700: "Bold"}


def span(text: str) -> frozenset[int]:
    """Code points of a list such as ``20-7e, 2013``, in hexadecimal."""
    ranges = [part.strip().split("-") for part in text.split(",")]
    return frozenset(point for ends in ranges for point in range(int(ends[0], 16), int(ends[-1], 16) + 1))


PUNCTUATION = span("20-7e, a0-bf, d7, f7, 2010-2015, 2018-201e, 2020-2022, 2026, 2030, 2032-2033, 2039-203a, 20ac, 2212, 2264-2265")
LATIN = PUNCTUATION | span("c0-24f, 259, 2b9-2bc, 2c6-2c7, 2d8-2dd, 300-304, 306-30c, 323-328, 1e00-1e9f, 1eb8-1ecd, 1ee4-1ee5")
VIETNAMESE = LATIN | span("300-303, 309, 323, 1ea0-1ef9, 20ab")
CYRILLIC = span("300-304, 306, 308, 400-45f, 48a-52f, 2116")
ARABIC = span("20-22, 28-29, 2d-2f, 3a, ab, bb, 600-6ff, 750-77f, 200c-200f, 2010-2011, 2026")
CHINESE = span("20-7e, a0, b7, d7, 2013-2014, 2018-2019, 201c-201d, 2026, 3000-3002, 3008-3011, 3014-3015, ff01-ff1f, ff5e") | {
    ord(bytes((row, cell)).decode("gb2312")) for row in range(0xB0, 0xD8) for cell in range(0xA1, 0xFF) if (row, cell) < (0xD7, 0xFA)
}
CHINESE |= {ord(letter) for letter in "踵髋髌踝胫腓腘骶骺肱桡臼胛腱跖臀胯腋膈髂腰脊椎颈咽喉韧痉挛痹瘫瘀痿酸胀麻拄拐杖蹬踮屈伸蜷趴仰俯跪蹲踩倚膝肘腕趾跟臂掌拳"}
"""Marks, the 3,755 common characters of the first level of GB 2312, and words of the body that it lacks."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One WOFF2 for the web: the letters of a face that travel together."""

    name: str
    letters: frozenset[int]
    reach: frozenset[int] | None = None
    """What ``unicode-range`` promises, where naming every letter would take too long."""


@dataclass(frozen=True, slots=True)
class Face:
    """One family, its file name, the cuts for the web; ``own_print`` where print has its own file."""

    family: str
    name: str
    cuts: tuple[Cut, ...]
    own_print: bool = True

    @property
    def letters(self) -> frozenset[int]:
        return frozenset().union(*(cut.letters for cut in self.cuts))


ATKINSON = Face("Atkinson Hyperlegible Next", "atkinson", (Cut("atkinson", LATIN),))
NOTO = Face("Noto Sans", "noto-sans", (Cut("noto-sans-latin", VIETNAMESE), Cut("noto-sans-cyrillic", CYRILLIC)))
NOTO_ARABIC = Face("Noto Sans Arabic", "noto-sans-arabic", (Cut("noto-sans-arabic", ARABIC),))
NOTO_SC = Face("Noto Sans SC", "noto-sans-sc", (Cut("noto-sans-sc", CHINESE, span("3000-303f, 4e00-9fff, ff00-ffef")),), False)
"""Its outlines unpack quickly, so sheets embed the web's file: a second one would weigh 3 MB."""


def cut_font(font: TTFont, letters: Iterable[int], target: Path, flavor: str | None = None) -> frozenset[int]:
    """Writes a font with these letters only, all its layout features, without hints; the letters it holds."""
    options = subset.Options()
    options.layout_features = ["*"]
    options.hinting = False
    options.desubroutinize = False
    options.notdef_outline = True
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
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


def open_face(face: Face, weight: int, folders: argparse.Namespace) -> TTFont:
    """The whole published font of a face."""
    style = WEIGHTS[weight]
    if face is ATKINSON:
        return join_atkinson(folders.atkinson, weight)
    if face is NOTO_SC:
        collection = folders.cjk / f"NotoSansCJK-{style}.ttc"
        for number in range(20):
            font = TTFont(collection, fontNumber=number, recalcTimestamp=False)
            if font["name"].getDebugName(1) == "Noto Sans CJK SC" or font["name"].getDebugName(16) == "Noto Sans CJK SC":
                return font
        raise SystemExit(f"{collection} holds no Noto Sans CJK SC")
    return TTFont(folders.noto / f"{face.family.replace(' ', '')}-{style}.ttf", recalcTimestamp=False)


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


def declare(family: str, weight: int, file: str, kind: str, letters: Iterable[int] | None = None) -> str:
    """One ``@font-face``."""
    reach = f"\n  unicode-range: {show_ranges(letters)};" if letters else ""
    swap = "\n  font-display: swap;" if letters else ""
    return (f'@font-face {{\n  font-family: "{family}";\n  font-weight: {weight};\n  font-style: normal;\n'
            f'  src: url("{file}") format("{kind}");{swap}{reach}\n}}\n')


def main() -> None:
    """Reads the sources, writes ``print/``, ``web/`` and their two style sheets."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--atkinson", type=Path, required=True)
    parser.add_argument("--noto", type=Path, required=True)
    parser.add_argument("--cjk", type=Path)
    folders = parser.parse_args()
    faces = [ATKINSON, NOTO, NOTO_ARABIC, *([NOTO_SC] if folders.cjk else [])]
    header = "/* Written by make.py of this folder. */\n\n"
    web, print_ = [], []
    for face in faces:
        for weight in WEIGHTS:
            for cut in face.cuts:
                small = HERE / "web" / f"{cut.name}-{weight}.woff2"
                held = cut_font(open_face(face, weight, folders), cut.letters, small, "woff2")
                web.append(declare(face.family, weight, f"web/{small.name}", "woff2", cut.reach or cut.letters))
                print(f"{small.name}: {len(held)} letters, {small.stat().st_size:,} bytes")
            if face.own_print:
                target = HERE / "print" / f"{face.name}-{weight}.ttf"
                cut_font(open_face(face, weight, folders), face.letters, target)
                print_.append(declare(face.family, weight, f"print/{target.name}", "truetype"))
            else:
                print_.append(declare(face.family, weight, f"web/{small.name}", "woff2"))
    (HERE / "web.css").write_text(header + "\n".join(web), encoding="utf-8")
    (HERE / "print.css").write_text(header + "\n".join(print_), encoding="utf-8")


if __name__ == "__main__":
    main()
