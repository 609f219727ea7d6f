"""A font of the library's own: Hebrew, which no font of the program writes, on pages and on paper; what makes one unfit."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

import polib
import pypdfium2
import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

from handouts.build.loading import load
from handouts.build.pipeline import Made, make_site
from handouts.build.settings import Settings
from handouts.cli import main
from handouts.paper.laying import lay_out_document
from handouts.problems import show_problem
from tests.bases.group import write
from tests.small_library import CLINIC, TEXTS, TODAY

HEBREW = "".join(map(chr, range(0x05D0, 0x05EB)))
LICENCE = "This font was made for a test. Everyone may use, copy, cut, embed and change it, for any purpose, without asking. " * 3
FONTS = 'fonts:\n  - {languages: [he], regular: own.ttf, bold: own-bold.ttf, licence: free for all, licence file: licence.txt, source: made for a test}\n'
_KEEP = re.compile(r"(\{[a-z_]+\}|\]\([^)]*\)|https?://\S+|\d+(?:[.,]\d+)?)")


def make_font(letters: str = HEBREW, *, rights: int = 0, wide: int = 0, spaces: str = " ") -> bytes:
    """A font in which every letter is a box of its own width."""
    names = {ord(letter): f"u{ord(letter):04X}" for letter in (*spaces, *letters)}
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder([".notdef", *names.values()])
    builder.setupCharacterMap(names)
    glyphs, widths = {}, {}
    for number, name in enumerate([".notdef", *names.values()]):
        pen = TTGlyphPen(None)
        pen.moveTo((50, 0))
        for point in ((50, 700), (450 + wide + number, 700), (450 + wide + number, 0)):
            pen.lineTo(point)
        pen.closePath()
        glyphs[name], widths[name] = pen.glyph(), (500 + wide + number, 50)
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics(widths)
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Made for a test", "styleName": "Regular", "copyright": "nobody", "licenseDescription": "free for all"})
    builder.setupOS2(sTypoAscender=800, sTypoDescender=-200, usWinAscent=800, usWinDescent=200, fsType=rights)
    builder.setupPost()
    stream = BytesIO()
    builder.save(stream)
    return stream.getvalue()


def in_hebrew_letters(text: str) -> str:
    """A made-up translation: each Latin letter as a Hebrew one; numbers, placeholders and links stay."""
    parts = _KEEP.split(text)
    return "".join(part if at % 2 else re.sub("[A-Za-z]", lambda found: HEBREW[ord(found[0].lower()) - 97], part) for at, part in enumerate(parts))


def fill(path: Path) -> None:
    """Every text of a catalogue."""
    catalogue = polib.pofile(str(path), wrapwidth=0)
    for entry in catalogue:
        if entry.msgid_plural:
            entry.msgstr_plural = {at: in_hebrew_letters(entry.msgid_plural) for at in entry.msgstr_plural}
        else:
            entry.msgstr = in_hebrew_letters(entry.msgid)
    catalogue.save(str(path))


def library_with(folder: Path, *, regular: bytes | None = None, bold: bytes | None = None, fonts: str = FONTS, licence: str = LICENCE) -> Path:
    """The small library with Hebrew and the fonts for it; an empty file is left out."""
    clinic = CLINIC.replace("{source: en}", "{source: en, also: [he]}").replace("grace days: 90", "grace days: 90, unreviewed translations: show")
    library = write(folder / "lib", {**TEXTS, "clinic.yaml": clinic + fonts})
    (library / "fonts").mkdir()
    for name, data in (("own.ttf", regular), ("own-bold.ttf", bold)):
        if data != b"":
            (library / "fonts" / name).write_bytes(data or make_font(wide=100 if "bold" in name else 0))
    if licence:
        (library / "fonts/licence.txt").write_text(licence)
    return library


@pytest.fixture(scope="module")
def hebrew(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small library, wholly in Hebrew letters too."""
    library = library_with(tmp_path_factory.mktemp("hebrew"))
    assert main(["words", "interface", "he", "--library", str(library)]) == 0
    assert main(["words", "collect", "--library", str(library), "--to", str(library.parent / "out")]) == 0
    fill(library / "words/interface/he.po")
    fill(library / "words/he.po")
    return library


@pytest.fixture(scope="module")
def made(hebrew: Path) -> Made:
    """Its site in the making."""
    return make_site(Settings(hebrew, hebrew.parent / "out", TODAY, keep=False))


def test_on_pages_and_on_paper(made: Made) -> None:
    """Pages load the font cut to the script's letters, sheets hold it; every letter of a text is read back from the PDF."""
    assert [show_problem(each) for each in made.problems if each.grade.value == "error"] == []
    page = made.pages["he/exercises/foot-lift/index.html"].decode()
    assert '<html lang="he" dir="rtl"' in page
    (address,) = re.findall(r'href="[./]*(assets/screen\.[0-9a-f]+\.css)"', page)
    style = made.pages[address].decode()
    assert '[lang|="he"]{--font:"Own he","Noto Sans"' in style
    names = re.findall(r'font-family:\s*"Own he";\s*font-weight:\s*(\d+);[^}]*?url\("?(own-he-\d+\.[0-9a-f]+\.woff2)', style)
    assert [weight for weight, _ in names] == ["400", "700"]
    for _, name in names:
        with TTFont(BytesIO(made.pages[f"assets/{name}"])) as font:
            assert "".join(map(chr, sorted(font.getBestCmap()))) == f" {HEBREW}"
            assert str(font["name"].getDebugName(13)) == "free for all"  # the licence travels with the font
    assert "Own he" not in made.pages[re.findall(r'href="[./]*(assets/screen\.[0-9a-f]+\.css)"', made.pages["en/exercises/foot-lift/index.html"].decode())[0]].decode()
    path = next(path for path in made.documents.makers if path.startswith("he/exercises/foot-lift/") and path.endswith("letter-standard.pdf"))
    laid = lay_out_document(made.documents.makers[path]())
    assert [show_problem(each) for each in laid.problems] == []
    pdf = bytes(laid.pdf)
    assert len(re.findall(rb"/FontFile2|/FontFile3", pdf)) >= 2 or b"/ObjStm" in pdf
    text = "".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))
    steps = [in_hebrew_letters("Sit on a chair."), in_hebrew_letters("Lift your foot.")]
    letters = "".join(text.split())
    for step in steps:
        words = step.rstrip(".").split()
        assert all(word in letters or word[::-1] in letters for word in words), (words, text)


def test_both_languages_on_one_sheet(made: Made) -> None:
    """Beside the English text too."""
    path = next(path for path in made.documents.makers if path.startswith("he/exercises/foot-lift/") and path.endswith("letter-standard-with-en.pdf"))
    laid = lay_out_document(made.documents.makers[path]())
    assert [show_problem(each) for each in laid.problems] == []


def messages(library: Path) -> list[str]:
    """What is said of fonts and letters."""
    found = load(Settings(library, library.parent / "no-out", TODAY, keep=False)).problems
    return [show_problem(each) for each in found if "font" in each.rule]


SCREWED = make_font(HEBREW[:-1])
NONE = [
    ({"regular": b""}, "lib/clinic.yaml:18:32: error: there is no file 'own.ttf' in the folder fonts. Did you mean 'own-bold.ttf'? [no-font]"),
    ({"licence": ""}, "lib/clinic.yaml:18:98: error: there is no file 'licence.txt' in the folder fonts. "),
    ({"licence": "OFL"}, "lib/clinic.yaml:18:98: error: 'licence.txt' does not hold the text of a licence. Put the whole text there that came with the font. [font-licence]"),
    ({"regular": b"<html>"}, "lib/clinic.yaml:18:32: error: the font 'own.ttf' cannot be read as a font (TTLibError). Take a font for the script of this language, as a file for each weight, whose licence allows to embed it. [font-unfit]"),
    ({"bold": make_font()[:400]}, "lib/clinic.yaml:18:47: error: the font 'own-bold.ttf' cannot be read as a font ("),
    ({"regular": make_font("abc")}, "lib/clinic.yaml:18:32: error: the font 'own.ttf' has no Hebrew letters. "),
    ({"regular": make_font(spaces="")}, "lib/clinic.yaml:18:32: error: the font 'own.ttf' has no space, which is set in the font of the words around it. "),
    ({"regular": make_font(rights=2)}, "lib/clinic.yaml:18:32: error: the font 'own.ttf' says itself that it may not be embedded (fsType). "),
    ({"regular": make_font(rights=0x100)}, "lib/clinic.yaml:18:32: error: the font 'own.ttf' says itself that it may not be cut to the letters that are needed (fsType). "),
    ({"bold": SCREWED}, "lib/clinic.yaml:18:47: error: the font 'own-bold.ttf' has not ת (U+05EA) and 0 other letters of the regular font. "),
    ({"fonts": FONTS.replace("own.ttf", "../own.ttf")}, "lib/clinic.yaml:18:32: error: '../own.ttf' is not the name of a TTF or OTF file. "),
    ({"fonts": ""}, "lib/clinic.yaml:8:31: notice: 'he' is written in Hebrew letters, which no font of handouts has, so nothing is published in it. Put a font for them, with its licence, into the folder 'fonts' and name both under 'fonts' in clinic.yaml; or take the language out. [language-font]"),
    ({"fonts": ""}, "lib/fonts/own.ttf:1:1: notice: nothing names the file 'fonts/own.ttf'. Name it under 'fonts' in clinic.yaml, or take it out. [unused-font]"),
]


@pytest.mark.parametrize(("parts", "says"), NONE, ids=[f"{at} {says[-40:]}" for at, (_, says) in enumerate(NONE)])
def test_unfit_fonts(tmp_path: Path, parts: dict[str, object], says: str) -> None:
    """Said where the font is named, with the file and why."""
    library = library_with(tmp_path, **parts)  # type: ignore[arg-type]
    if "../" in says:
        found = [show_problem(each) for each in load(Settings(library, library.parent / "no-out", TODAY, keep=False)).problems]
    else:
        found = messages(library)
    assert any(each.startswith(says) for each in found), found


def test_a_letter_that_the_font_lacks_is_named(hebrew: Path, tmp_path: Path) -> None:
    """At the text in which it stands."""
    library = write(tmp_path / "lib", {str(path.relative_to(hebrew)): path.read_text() for path in hebrew.rglob("*") if path.suffix in (".md", ".yaml", ".po", ".txt")})
    (library / "fonts/own.ttf").write_bytes(make_font(HEBREW[:10]))
    (library / "fonts/own-bold.ttf").write_bytes(make_font(HEBREW[:10]))
    found = [show_problem(each) for each in load(Settings(library, library.parent / "no-out", TODAY, keep=False)).problems if each.rule == "paper-glyph"]
    assert any(re.match(r"lib/words/he\.po:\d+:\d+: error: no font of the sheets has the character . \(U\+05D[0-9A-F]\)\. ", each) for each in found), found[:3]
