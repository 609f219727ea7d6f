"""The style sheet of one picture that is a file of its own: of the figures' rules those that it needs, without spaces.

Every picture of a list carries it, so it is small.  Pure text.
"""

from __future__ import annotations

import re

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_MEDIA = re.compile(r"@media ([^{]*)\{((?:[^{}]*\{[^{}]*\})*)\s*\}")
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_CLASS = re.compile(r'class="([^"]+)"')
_WIDTH = re.compile(r"(stroke-width|stroke-dasharray):([\d. ]+)")
_ROLE = re.compile(r"var\((--[\w-]+)\)")


def style_for(css: str, svg: str, scale: float = 1) -> str:
    """The rules of the figures' style sheet that a picture uses; roles of colour in light, dark and forced colours as there.

    Lines are as wide as ``scale`` says.  What holds on paper is what holds in light, so no rule says it again.
    ``ValueError`` where the sheet is of another form.
    """
    plain = _COMMENT.sub("", css)
    used = {f".fig .{name}" for found in _CLASS.findall(svg) for name in found.split()} | {".fig path"}
    apart = {condition.strip(): inside for condition, inside in _MEDIA.findall(plain)}
    light, dark, forced = _MEDIA.sub("", plain), apart.get("(prefers-color-scheme: dark)"), apart.get("(forced-colors: active)")
    if dark is None or forced is None or _roles(apart.get("print", "")) != _roles(light):
        raise ValueError("the figures' style sheet lacks a scheme, or paper has other colours than the light one")
    rules = [(_named(selectors, used), declared) for selectors, declared in _RULE.findall(light)]
    drawn = "".join(f"{selectors}{{{_scaled(_lean(declared), scale)}}}" for selectors, declared in rules if selectors)
    needed = set(_ROLE.findall(drawn))
    return _with_short_roles(
        f":root{{{_only(light, needed)}}}"
        f"@media screen and (prefers-color-scheme:dark){{:root{{{_only(dark, needed)}}}}}"
        f"@media (forced-colors:active){{.fig{{forced-color-adjust:none}}:root{{{_only(forced, needed)}}}}}{drawn}"
    )


def _with_short_roles(css: str) -> str:
    """The roles under names of one or two letters: a file of its own shares them with no other sheet."""
    short = {name: f"--{place:x}" for place, name in enumerate(dict.fromkeys(_ROLE.findall(css)), 10)}
    return re.sub(r"--[a-z][\w-]*", lambda found: short[found[0]], css)


def _named(selectors: str, used: set[str]) -> str:
    return ",".join(each.strip() for each in selectors.split(",") if each.strip() in used)


def _lean(declared: str) -> str:
    return re.sub(r"\s*([:;])\s*", r"\1", declared).strip().strip(";")


def _scaled(declared: str, scale: float) -> str:
    return _WIDTH.sub(lambda found: f"{found[1]}:{' '.join(f'{float(width) * scale:g}' for width in found[2].split())}", declared)


def _roles(text: str) -> dict[str, str]:
    return dict(re.findall(r"(--[\w-]+):\s*([^;}]+)", text))


def _only(text: str, needed: set[str]) -> str:
    return ";".join(f"{name}:{value.strip()}" for name, value in _roles(text).items() if name in needed)
