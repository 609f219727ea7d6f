"""The QR code that the browser draws: the same symbol as segno draws, and readable by zxing when photographed badly."""

from __future__ import annotations

from random import Random

import pytest
import segno
import zxingcpp
from PIL import Image, ImageFilter

from tests.scripts.node import ask_script

DIGITS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
MILLIMETRES_PER_INCH = 25.4
PAPER_DPI = 600


def drawn(pairs: list[tuple[str, str]]) -> list[list[list[bool]] | None]:
    """The modules that the script gives for some addresses and codes."""
    found: list[list[list[bool]] | None] = ask_script("qrCodes", pairs)
    return found


def random_pairs(count: int) -> list[tuple[str, str]]:
    """Addresses and codes of every length up to a bundle of 12 exercises on a long address."""
    random = Random(3)
    return [("https://clinic.example/" + "x" * random.randint(0, 30) + "#", "".join(random.choice(DIGITS) for _ in range(random.randint(1, 180)))) for _ in range(count)]


def picture(modules: list[list[bool]], module_mm: float, dpi: int) -> Image.Image:
    """The printed code with its quiet zone of 4 modules."""
    side = len(modules)
    image = Image.new("L", (side + 8, side + 8), 255)
    for y, row in enumerate(modules):
        for x, dark in enumerate(row):
            if dark:
                image.putpixel((x + 4, y + 4), 0)
    size = round((side + 8) * module_mm / MILLIMETRES_PER_INCH * dpi)
    return image.resize((size, size), Image.Resampling.NEAREST)


def photograph(printed: Image.Image, dpi: int) -> Image.Image:
    """The print as a poor photograph: on a larger sheet, turned by 5 degrees, at a low resolution, blurred."""
    sheet = Image.new("L", (printed.width * 2, printed.height * 2), 255)
    sheet.paste(printed, (printed.width // 2, printed.height // 2))
    turned = sheet.rotate(5, Image.Resampling.BICUBIC, fillcolor=255)
    size = round(turned.width * dpi / PAPER_DPI)
    return turned.resize((size, size), Image.Resampling.LANCZOS).filter(ImageFilter.GaussianBlur(0.8))


def test_same_symbol_as_segno() -> None:
    """60 codes of versions 2 to 10: every module as segno 1.6.6 draws it with the same mask."""
    pairs = random_pairs(60)
    versions = set()
    for (address, code), modules in zip(pairs, drawn(pairs), strict=True):
        assert modules is not None
        wanted = segno.make([address, code], error="m", boost_error=False, micro=False, mask=mask_of(modules))
        if fills_whole_bytes(address, code):
            continue
        versions.add(wanted.version)
        assert modules == [[bool(dark) for dark in row] for row in wanted.matrix]
    assert {5, 6, 7, 8, 9} <= versions


def fills_whole_bytes(address: str, code: str) -> bool:
    """Whether the data with its terminator ends at a byte: segno 1.6.6 then adds a byte of zeros that the standard does not ask for."""
    return (4 + 8 + 8 * len(address) + 4 + 9 + 11 * (len(code) // 2) + 6 * (len(code) % 2) + 4) % 8 == 0


def mask_of(modules: list[list[bool]]) -> int:
    """The mask that the format information of a symbol names (ISO/IEC 18004 7.9; the fixed mask is 101010000010010)."""
    bits = [modules[8][x] for x in (2, 3, 4)]
    return int("".join("1" if bit else "0" for bit in bits), 2) ^ 0b101


@pytest.mark.parametrize("length", [53, 99])
def test_poor_photograph_is_still_read(length: int) -> None:
    """Printed at 0.42 mm a module, seen at 150 dpi, blurred and turned by 5 degrees, the code is read (zxing-cpp 3)."""
    random = Random(length)
    address, code = "https://quillmoor.example/es/my/#", "".join(random.choice(DIGITS) for _ in range(length))
    modules = drawn([(address, code)])[0]
    assert modules is not None
    read = zxingcpp.read_barcodes(photograph(picture(modules, 0.42, PAPER_DPI), 150))
    assert [item.text for item in read] == [address + code]


def test_a_photograph_that_is_too_poor_is_not_read() -> None:
    """At 40 dpi nothing is read: the test above can fail."""
    modules = drawn([("https://quillmoor.example/es/my/#", "A" * 99)])[0]
    assert modules is not None
    assert zxingcpp.read_barcodes(photograph(picture(modules, 0.42, PAPER_DPI), 40)) == []


def test_what_does_not_fit_is_refused() -> None:
    """More than version 10 at level M holds gives no symbol, and none that is cut."""
    assert drawn([("https://clinic.example/#", "A" * 400)]) == [None]


