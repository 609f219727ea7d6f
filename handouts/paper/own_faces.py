"""A font of the library's own for a language: looked at, cut to the letters of its script, ready for pages and for sheets.

Bytes in, values and reasons out.  A font whose licence forbids to embed or to cut it (OpenType, OS/2 table, ``fsType``) is refused.
"""

from __future__ import annotations

import unicodedata
from base64 import b64encode
from io import BytesIO

from fontTools import subset
from fontTools.ttLib import TTFont

from handouts.model import OwnFace
from handouts.publication.font_faces import language_rule, own_family
from handouts.words.meaning import SCRIPTS, script_name, script_of

RESTRICTED, NO_CUTTING = 0x0002, 0x0100
"""Bits of ``fsType``: no embedding; no subsetting."""
EMBEDDING = 0x000F
"""Bits of ``fsType`` that say what embedding is allowed; 0 allows all."""
MOST_BYTES = 1024 * 1024
"""Largest font that is left after cutting, in bytes: it travels with each part of a sheet."""
SPACE = " "
SHAPERS = f"{SPACE}\xa0\u200c\u200d\u25cc"
"""Signs of no script that stand among its words: spaces, set in the font around them, joiners, the circle under a sign that stands alone."""
NAMES_KEPT = [0, 13, 14]
"""Entries of the font's own names that stay: copyright, licence, its address (OpenType, name table)."""
WEIGHTS = (400, 700)


def cut_face(regular: bytes, bold: bytes, language: str) -> tuple[OwnFace | None, tuple[str, ...]]:
    """The face of a language from its regular and its bold font; what keeps one from being used, by ``regular`` or ``bold``."""
    faults = []
    cut: list[tuple[bytes, bytes, frozenset[str]]] = []
    for name, data in (("regular", regular), ("bold", bold)):
        try:
            found = _cut(data, language)
        except Exception as error:  # a reader of fonts gives up in many ways
            found = f"cannot be read as a font ({type(error).__name__})"
        if isinstance(found, str):
            faults.append(f"{name}: {found}")
        else:
            cut.append(found)
    if faults:
        return None, tuple(faults)
    lacking = cut[0][2] - cut[1][2]
    if lacking:
        return None, (f"bold: has not {min(lacking)} (U+{ord(min(lacking)):04X}) and {len(lacking) - 1} other letters of the regular font",)
    family = own_family(language)
    rules = "".join(
        f'@font-face {{ font-family: "{family}"; font-weight: {weight}; src: url("data:font/ttf;base64,{b64encode(each[0]).decode()}"); }}\n'
        for weight, each in zip(WEIGHTS, cut, strict=True)
    )
    letters = "".join(sorted(cut[0][2]))
    sample = next((letter for letter in letters if unicodedata.category(letter) in ("Lo", "Ll", "Lu")), letters[0])
    style = f'<style class="own-fonts">/* {sample} */\n{rules}{language_rule(language)}\n</style>\n'
    return OwnFace(language, family, style, (cut[0][1], cut[1][1]), letters), ()


def _cut(data: bytes, language: str) -> tuple[bytes, bytes, frozenset[str]] | str:
    """The font with the letters of the script alone, for sheets and for pages, and these letters; or why it cannot be used."""
    font = TTFont(BytesIO(data), lazy=False)
    if "fvar" in font:
        return "is a variable font; give a file for each weight"
    rights = font["OS/2"].fsType if "OS/2" in font else 0
    if rights & EMBEDDING == RESTRICTED:
        return "says itself that it may not be embedded (fsType)"
    if rights & NO_CUTTING:
        return "says itself that it may not be cut to the letters that are needed (fsType)"
    begins = SCRIPTS.get(script_of(language), ())
    points = {point for point in font.getBestCmap() if chr(point) in SHAPERS or (begins and unicodedata.name(chr(point), "").startswith(begins))}
    letters = frozenset(map(chr, points)) - frozenset(SHAPERS)
    if letters and ord(SPACE) not in points:
        return "has no space, which is set in the font of the words around it"
    if not letters:
        return f"has no {script_name(language)} letters"
    options = subset.Options(layout_features=["*"], name_IDs=NAMES_KEPT, notdef_outline=True, hinting=False, recalc_timestamp=False)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=points)
    cutter.subset(font)
    sheet = _save(font, None)
    if len(sheet) > MOST_BYTES:
        size, most = len(sheet) // 1024, MOST_BYTES // 1024
        return f"has {size} KiB left of its {script_name(language)} letters, at most {most} fit; cut it to those that the texts need"
    return sheet, _save(font, "woff2"), letters


def _save(font: TTFont, flavour: str | None) -> bytes:
    font.flavor = flavour
    stream = BytesIO()
    font.save(stream, reorderTables=True)
    return stream.getvalue()
