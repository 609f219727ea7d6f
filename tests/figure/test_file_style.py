"""The style sheet inside a picture file: what the figures' sheet says of the classes that the picture has, in every scheme, and no more."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handouts.figure.draw.style import TONES
from handouts.figure.file_style import style_for

CSS = (Path(__file__).parents[2] / "templates/styles/figure.css").read_text("utf-8")


def rules_of(css: str, scheme: str) -> dict[str, dict[str, str]]:
    """What a sheet declares for each selector in a scheme of colours, with the roles filled in; by a reader of its own."""
    plain = re.sub(r"\s+", " ", re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL))
    blocks, at = [("", "")], 0
    while at < len(plain):
        start = plain.find("{", at)
        if start < 0:
            break
        head, depth, end = plain[at:start].strip(), 1, start + 1
        while depth:
            depth += {"{": 1, "}": -1}.get(plain[end], 0)
            end += 1
        blocks.append((head, plain[start + 1 : end - 1]))
        at = end
    found: dict[str, dict[str, str]] = {}
    for head, body in blocks:
        inner = [(head, body)]
        if head.startswith("@media"):
            if scheme not in head.replace(" ", ""):
                continue
            inner = [(one.strip(), two) for one, two in re.findall(r"([^{}]+)\{([^{}]*)\}", body)]
        for selectors, declared in inner:
            for selector in filter(None, (each.strip() for each in selectors.split(","))):
                pairs = (part.split(":", 1) for part in declared.split(";") if ":" in part)
                found.setdefault(selector, {}).update({name.strip(): value.strip() for name, value in pairs})
    roles = found.get(":root", {})
    return {
        selector: {name: re.sub(r"var\((.*?)\)", lambda match: roles[match[1]], value) for name, value in values.items()}
        for selector, values in found.items()
        if selector.startswith(".fig ")
    }


@pytest.mark.parametrize("scheme", ["light", "dark", "active"])
@pytest.mark.parametrize("used", [("k", "t2", "w"), ("p", "q", "a", "i2"), tuple(TONES.values())], ids=["few", "props", "all"])
def test_what_a_picture_needs_stands_as_in_the_whole_sheet(used: tuple[str, ...], scheme: str) -> None:
    """Each class that the picture has is coloured as the whole sheet colours it; no other class stands there."""
    svg = "".join(f'<path class="{name}" d="M0 0"/>' for name in used)
    whole = rules_of(CSS, scheme)
    wanted = {selector: values for selector, values in whole.items() if selector == ".fig path" or selector.removeprefix(".fig .") in used}
    assert rules_of(style_for(CSS, svg), scheme) == wanted
    assert wanted


def test_it_is_small() -> None:
    """The rules of a usual picture take less than a third of the whole sheet."""
    svg = "".join(f'<path class="{name}" d="M0 0"/>' for name in ("k", "k2", "s", "t", "t2", "o", "h", "g"))
    assert 3 * len(style_for(CSS, svg)) < len(CSS)


def test_its_roles_have_short_names() -> None:
    """Each role of colour has one name of two letters at most, the same in every scheme."""
    css = style_for(CSS, "".join(f'<path class="{name}" d="M0 0"/>' for name in TONES.values()))
    names = set(re.findall(r"var\(--([^)]*)\)", css))
    assert len(names) > 10 and max(map(len, names)) <= 2
    assert {name: css.count(f"--{name}:") for name in names} == dict.fromkeys(names, 3)


@pytest.mark.parametrize("fault", [("prefers-color-scheme: dark", "width: 1px"), ("forced-colors: active", "width: 1px"), ("@media print {\n  :root {\n    --fig-ink: #1d2b36", "@media print {\n  :root {\n    --fig-ink: #000000")])
def test_a_sheet_of_another_form_is_refused(fault: tuple[str, str]) -> None:
    """A scheme that is missing, or paper that is not coloured as the light scheme, is no sheet to take a part of."""
    assert fault[0] in CSS
    with pytest.raises(ValueError, match="style sheet"):
        style_for(CSS.replace(*fault), '<path class="k"/>')
