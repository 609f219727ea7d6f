"""A drawn picture in half as many units: for small pictures, where a whole unit is a quarter of a pixel.

Each point of a path is rounded by itself, so that lines that meet still meet.  Pure text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import floor

HALF = 0.5
_TOKEN = re.compile(r"[A-Za-z]|-?(?:\d+\.?\d*|\.\d+)")
_NUMBERS = {"M": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "z": 0}
"""How many numbers a command of our paths takes at a time."""
_PATH, _BOX = re.compile(r' d="([^"]*)"'), re.compile(r'viewBox="0 0 (\d+) (\d+)"')
_MOVED = re.compile(r"translate\((-?\d+) (-?\d+)\)")


def halve_picture(svg: str) -> str:
    """The picture with paths, places and frame in half as many units; widths of lines stand in its style sheet.

    ``ValueError`` where a path has a command that ours do not have.
    """
    svg = _BOX.sub(lambda found: f'viewBox="0 0 {_half(int(found[1]))} {_half(int(found[2]))}"', svg)
    svg = _MOVED.sub(lambda found: f"translate({_half(int(found[1]))} {_half(int(found[2]))})", svg)
    return _PATH.sub(lambda found: f' d="{halve_path(found[1])}"', svg)


def halve_path(path: str) -> str:
    """A path of ours in half as many units, each of its points rounded."""
    drawn, last = "", ""
    x = y = first_x = first_y = 0.0
    for command, values in _commands(path):
        if command == "z":
            x, y = first_x, first_y
            drawn, last = drawn + "z", "z"
            continue
        if command == "M":
            points = [(values[0], values[1])]
            first_x, first_y = points[0]
            said = [_half(first_x), _half(first_y)]
        else:
            points = _points(command, values, x, y)
            said = [each for point in points for each in (_half(point[0]) - _half(x), _half(point[1]) - _half(y))]
            said = said[:1] if command == "h" else said[1:] if command == "v" else said
        x, y = points[-1]
        drawn += _join(said, "" if command == last and command != "M" else command)
        last = command
    return drawn


def _points(command: str, values: list[float], x: float, y: float) -> list[tuple[float, float]]:
    if command in "hv":
        return [(x + values[0], y) if command == "h" else (x, y + values[0])]
    return [(x + across, y + down) for across, down in zip(values[::2], values[1::2], strict=True)]


def _commands(path: str) -> Iterator[tuple[str, list[float]]]:
    """Each command with the numbers of one turn."""
    command, values = "", list[float]()
    for token in _TOKEN.findall(path):
        if token.isalpha():
            if token not in _NUMBERS or values:
                raise ValueError(f"no path of ours reads {path[:40]!r}")
            command = token
            if command == "z":
                yield command, []
            continue
        values.append(float(token))
        if len(values) == _NUMBERS.get(command, 0):
            yield command, values
            values = []
    if values:
        raise ValueError(f"a path lacks a number: {path[-40:]!r}")


def _half(value: float) -> int:
    return floor(value * HALF + 0.5)


def _join(numbers: list[int], command: str) -> str:
    """Numbers with a blank between them where no minus parts them."""
    parted = [text if text.startswith("-") else f" {text}" for text in map(str, numbers)]
    return command + "".join(parted).removeprefix(" ") if command else "".join(parted)
