"""What becomes of a page at a printer that trims, in grey, and as a photocopy of a photocopy; and how much of it can be read back.

Reading back is done by the page's own letters: each letter of the copy is compared with the mean picture of every sign of
the clean page and taken for the nearest.  The places of letters come from the PDF, their likeness from the pictures alone.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pypdfium2
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from handouts.paper.raster import page_png

DOTS = 200
"""Dots an inch of a scan: what a copier takes; at 110 lines are lost that survive in print."""
TRIM_MM = 6.0
"""What a printer may leave white at each edge; common practice, no source."""
BLUR_MM, TURN, BLACK = 0.13, 0.4, 128
"""One copy: standard deviation of its blur, degrees by which the sheet lies askew, and the grey (of 255) below which it prints black; no source."""
CELL = (20, 14)
"""Rows and columns of the picture of a letter."""
Picture = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PrintedLetter:
    """A letter on a page: the sign, and its box in dots (left, top, right, bottom); the same line has the same number."""

    sign: str
    box: tuple[int, int, int, int]
    line: int


def grey_page(pdf: bytes, number: int, dots: int = DOTS) -> Image.Image:
    """A page as a printer without colour has it."""
    with Image.open(io.BytesIO(page_png(pdf, number, dots))) as page:
        return page.convert("L")


def copied(page: Image.Image, times: int = 2, blur_mm: float = BLUR_MM, black: int = BLACK) -> Image.Image:
    """A photocopy of a photocopy: blurred, black or white, turned one way and back."""
    for turn in range(times):
        page = page.rotate(TURN if turn % 2 == 0 else -TURN, Image.Resampling.BICUBIC, fillcolor=255)
        page = page.filter(ImageFilter.GaussianBlur(blur_mm / 25.4 * DOTS)).point(lambda grey: 0 if grey < black else 255)
    return page


def letters_on(pdf: bytes, number: int, dots: int = DOTS) -> list[PrintedLetter]:
    """The letters of a page with the room that each has in its line."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        page = document[number]
        text, height, scale = page.get_textpage(), page.get_height(), dots / 72
        found, line, before = list[PrintedLetter](), 0, 0.0
        for at in range(text.count_chars()):
            sign = text.get_text_range(at, 1)
            left, bottom, right, top = text.get_charbox(at, loose=True)
            if not sign.strip() or right <= left or top <= bottom:
                continue
            line, before = line + (abs(bottom - before) > 1.0), bottom
            box = (int(left * scale), int((height - top) * scale), int(np.ceil(right * scale)), int(np.ceil((height - bottom) * scale)))
            found.append(PrintedLetter(sign, box, line))
        return found
    finally:
        document.close()


def pictures(page: Image.Image, letters: list[PrintedLetter]) -> Picture:
    """Each letter as a row of numbers, dark is high, of mean 0 and length 1."""
    rows, columns = CELL
    cells = [np.asarray(page.crop(each.box).resize((columns, rows), Image.Resampling.BOX), dtype=np.float64).ravel() for each in letters]
    dark = 255.0 - np.array(cells)
    white_on_black = dark.mean(axis=1) > 127
    dark[white_on_black] = 255.0 - dark[white_on_black]
    dark -= dark.mean(axis=1, keepdims=True)
    return np.asarray(dark / np.maximum(np.linalg.norm(dark, axis=1, keepdims=True), 1e-9))


@dataclass(frozen=True, slots=True)
class Reading:
    """What is read of a page: the share of its letters, and of its worst line of twenty letters or more; signs taken for others, with how often.

    ``numerals`` are the large ones of a dose that are taken for others.
    """

    share: float
    worst_line: float
    numerals: int
    wrong: dict[str, int]


def read_back(pdf: bytes, number: int, copy: Image.Image) -> Reading:
    """How much of a page is read right on its copy."""
    letters = letters_on(pdf, number)
    clean, seen = pictures(grey_page(pdf, number), letters), pictures(copy, letters)
    kinds = sorted({(each.sign, each.box[3] - each.box[1]) for each in letters})
    of_kind = {kind: place for place, kind in enumerate(kinds)}
    means = np.zeros((len(kinds), clean.shape[1]))
    for picture, each in zip(clean, letters, strict=True):
        means[of_kind[each.sign, each.box[3] - each.box[1]]] += picture
    means /= np.maximum(np.linalg.norm(means, axis=1, keepdims=True), 1e-9)
    nearest = (seen @ means.T).argmax(axis=1)
    wrong, lines, numerals = dict[str, int](), dict[int, list[bool]](), 0
    usual = sorted(each.box[3] - each.box[1] for each in letters)[len(letters) // 2]
    for each, place in zip(letters, nearest, strict=True):
        lines.setdefault(each.line, []).append(kinds[place][0] == each.sign)
        if kinds[place][0] != each.sign:
            pair = f"{each.sign}{kinds[place][0]}"
            wrong[pair] = wrong.get(pair, 0) + 1
            numerals += each.sign.isdigit() and each.box[3] - each.box[1] > 1.3 * usual
    worst = min((sum(line) / len(line) for line in lines.values() if len(line) >= 20), default=1.0)
    return Reading(1 - sum(wrong.values()) / len(letters), worst, numerals, wrong)


def contrasts(page: Image.Image, letters: list[PrintedLetter]) -> Iterator[float]:
    """The contrast of the darkest dot of each letter against white, as WCAG 2.2 counts it (relative luminance of grey)."""
    for each in letters:
        low = page.crop(each.box).getextrema()[0] / 255
        light = low / 12.92 if low <= 0.04045 else ((low + 0.055) / 1.055) ** 2.4
        yield 1.05 / (light + 0.05)


def ink_at_edges(page: Image.Image, dots: int = DOTS) -> int:
    """Dots that a printer which trims would lose."""
    dark = np.asarray(page) < 200
    edge = int(TRIM_MM / 25.4 * dots)
    inside = dark[edge:-edge, edge:-edge].sum()
    return int(dark.sum() - inside)


def kept_share(page: Image.Image, without: Image.Image, copy: Image.Image) -> float:
    """Of the dots by which a page differs from the same without a part, and which are dark, the share that is black on the copy."""
    clean, plain = np.asarray(page).astype(int), np.asarray(without).astype(int)
    part = (np.abs(clean - plain) > 40) & (clean < 160)
    return float((np.asarray(copy)[part] < 128).mean()) if part.any() else 0.0


def filled_share(page: Image.Image, copy: Image.Image) -> float:
    """Of the white dots of a page, the share that is black on its copy."""
    white = np.asarray(page) > 250
    return float((np.asarray(copy)[white] < 128).mean())
