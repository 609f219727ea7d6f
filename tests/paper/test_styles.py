"""Tokens and fonts: contrast of every pair, one family a file, licences beside the fonts."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handouts.paper.assets import drop_screen_rules, faces_for, load_paper_assets
from handouts.templating.assets import templates_root
from handouts.text.colour import TEXT_CONTRAST, contrast

ROOT = templates_root()
TOKENS = (ROOT / "styles" / "tokens.css").read_text(encoding="utf-8")
FONTS = ROOT / "fonts"


def roles(css: str) -> dict[str, str]:
    """Every role with its colour."""
    found = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6}|var\(--[\w-]+\));", css))
    return {name: found[value[6:-1]] if value.startswith("var") else value for name, value in found.items()}


LIGHT = roles(TOKENS.split("@media")[0])
DARK = {**LIGHT, **roles(TOKENS.split("@media")[0] + TOKENS.split("@media (prefers-color-scheme: dark)")[1].split("@media")[0])}
PRINT = {**LIGHT, **roles(TOKENS.split("@media")[0] + (ROOT / "styles" / "print.css").read_text(encoding="utf-8"))}
TEXTS = [("ink", "paper"), ("quiet", "paper"), ("accent", "paper"), ("care", "paper"), ("stop", "paper"), ("ink", "paper-sunk"),
         ("quiet", "paper-sunk"), ("on-accent", "accent"), ("care", "care-paper"), ("ink", "care-paper"), ("stop", "stop-paper"),
         ("ink", "stop-paper")]
SHAPES = [("edge", "paper"), ("focus", "paper"), ("edge", "paper-sunk")]


@pytest.mark.parametrize("theme", [LIGHT, DARK, PRINT], ids=["light", "dark", "print"])
@pytest.mark.parametrize(("front", "ground"), TEXTS)
def test_text_is_readable(theme: dict[str, str], front: str, ground: str) -> None:
    """4.5 to 1 (WCAG 2.2, 1.4.3)."""
    assert contrast(theme[front], theme[ground]) >= TEXT_CONTRAST


@pytest.mark.parametrize("theme", [LIGHT, DARK, PRINT], ids=["light", "dark", "print"])
@pytest.mark.parametrize(("front", "ground"), SHAPES)
def test_shape_is_visible(theme: dict[str, str], front: str, ground: str) -> None:
    """3 to 1 (WCAG 2.2, 1.4.11)."""
    assert contrast(theme[front], theme[ground]) >= 3


def faces(css: str) -> list[tuple[str, str, str]]:
    """Family, weight and file of every face that a style sheet declares."""
    return re.findall(r'font-family: "([^"]+)";\s+font-weight: (\d+(?: \d+)?);.*?url\("([^"]+)"\)', css, re.DOTALL)


def test_print_has_one_file_for_each_family_and_weight() -> None:
    """Two files under one family and weight would mix up their glyphs in a PDF."""
    declared = faces((FONTS / "print.css").read_text(encoding="utf-8"))
    assert len({(family, weight) for family, weight, _ in declared}) == len(declared) == 8
    assert all((FONTS / file).is_file() for *_, file in declared)


def test_web_faces_of_one_family_share_no_letter() -> None:
    """Each letter of a family is loaded from one file."""
    css = (FONTS / "web.css").read_text(encoding="utf-8")
    declared = faces(css)
    assert all((FONTS / file).is_file() for *_, file in declared)
    ranges = re.findall(r"unicode-range: ([^;]+);", css)
    assert len(ranges) == len(declared)


def test_what_stands_in_for_a_font_is_declared_in_both_weights() -> None:
    """Each name that the styles give is a font of readers' systems, set as wide and as high as ours."""
    named = re.findall(r'"([^"]+ as [^"]+)"', (FONTS.parent / "styles/tokens.css").read_text(encoding="utf-8"))
    rules = re.findall(r"@font-face \{[^}]+\}", (FONTS / "stand-in.css").read_text(encoding="utf-8"))
    heads = [re.findall(r'font-family: "([^"]+)";\s+font-weight: (\d+);', rule)[0] for rule in rules]
    assert sorted(heads) == sorted((name, weight) for name in set(named) for weight in ("400", "700"))
    for rule in rules:
        assert "local(" in rule and "url(" not in rule
        assert 75 < float(re.findall(r"size-adjust: ([\d.]+)%", rule)[0]) < 130
        assert len(re.findall(r"(?:ascent|descent|line-gap)-override: [\d.]+%", rule)) == 3


@pytest.mark.parametrize("name", ["OFL-atkinson-hyperlegible-next.txt", "OFL-noto.txt"])
def test_licences_travel_with_the_fonts(name: str) -> None:
    """The licence asks to be bundled."""
    text = (FONTS / name).read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text and "PERMISSION & CONDITIONS" in text


def test_fonts_are_small() -> None:
    """What a page in English loads is under 40 kB, the Arabic letters of one in Arabic, regular to bold, under 18 kB; all the files together stay under 4 MB."""
    assert sum((FONTS / "web" / f"atkinson-{weight}.woff2").stat().st_size for weight in (400, 700)) < 40_000
    assert (FONTS / "web/noto-sans-arabic-first-variable.woff2").stat().st_size < 18_000
    assert sum(path.stat().st_size for path in FONTS.rglob("*") if path.is_file()) < 4_000_000


@pytest.mark.parametrize(("text", "wanted"), [
    ("Rise", ("latin", "wide")), ("Поднимите", ("latin", "wide")), ("ارفع", ("latin", "wide", "arabic")),
    ("抬起", ("latin", "wide", "chinese")), ("", ("latin", "wide")),
])
def test_large_faces_are_read_only_where_needed(text: str, wanted: tuple[str, ...]) -> None:
    """Arabic and Chinese faces for their letters only."""
    assert faces_for(text) == wanted


def test_print_has_no_screen_rules() -> None:
    """Dark mode and forced colours are left out of what the PDF writer reads; a fault in the styles is an error."""
    assert "@media" not in load_paper_assets().style
    with pytest.raises(ValueError, match="faulty in line 1"):
        drop_screen_rules("h1 ")


def test_kit_names_every_template() -> None:
    """The sheets have every template of the folder."""
    assert set(load_paper_assets().templates) == {path.name for path in Path(ROOT, "sheets").iterdir()}
