"""The QR code: quiet zone, size of a module, error level; read by two readers from a picture of it."""

from __future__ import annotations

import re

import pytest

from handouts.paper.geometry import MODULE_MM
from handouts.paper.qr_code import QUIET_ZONE, draw_code


def side_of(svg: str) -> int:
    """Modules of one side, with the quiet zone."""
    return int(re.search(r'viewBox="0 0 (\d+) \1"', svg)[1])  # type: ignore[index]


def test_module_is_large_enough() -> None:
    """GS1 General Specifications 5.12.3.1: at least 0.396 mm."""
    assert MODULE_MM >= 0.396


@pytest.mark.parametrize(("text", "modules", "wide"), [
    ("HTTPS://EXAMPLE.ORG/B/7KQ2", 25, 22.2),  # version 2-M in alphanumeric mode (segno 1.6.6)
    ("https://example.org/b/7kq2", 25, 22.2),  # version 2-M in byte mode: 26 bytes hold 26 characters
    ("https://example.org/b/" + "x" * 56, 33, 22.44),  # 78 bytes: version 4-L holds 78
    ("https://example.org/b/" + "x" * 57, 37, 24.6),  # one more: version 5-L
    ("https://example.org/b/" + "x" * 112, 41, 24.6),  # 134 bytes: version 6-L holds 134
    ("https://example.org/b/" + "x" * 113, 45, 27.0),  # one more: version 7-L; 0.6 mm each
])
def test_size(text: str, modules: int, wide: float) -> None:
    """17 + 4 x version modules (ISO/IEC 18004) and four empty ones on each side, in millimetres: 22 to 25 mm, each at least 0.6."""
    svg = draw_code((text,), "x")
    assert side_of(svg) == modules + 2 * QUIET_ZONE
    assert f'width="{(modules + 8) * wide / modules:.2f}mm"' in svg


def test_another_text_or_title_is_another_code() -> None:
    """Which is all that a code follows from."""
    parts = ("https://example.org/kept",)
    assert draw_code(parts, "x") == draw_code(parts, "x")
    assert len({draw_code(parts, "x"), draw_code(("https://example.org/other",), "x"), draw_code(parts, "y")}) == 3


def test_quiet_zone_is_empty() -> None:
    """No dark module stands within four modules of the edge."""
    svg = draw_code(("https://example.org/",), "x")
    side = side_of(svg)
    for x, y, width in re.findall(r"M(\d+) (\d+)h(\d+)v1", svg):
        assert int(x) >= 4 and int(x) + int(width) <= side - 4 and 4 <= int(y) < side - 4


def test_title_is_escaped() -> None:
    """The alternative text is text."""
    assert "<title>a &lt;b&gt; &amp; c</title>" in draw_code(("x",), "a <b> & c")


def test_parts_are_smaller_than_one_text() -> None:
    """An address in byte mode and a code in alphanumeric mode take fewer modules than all in byte mode, though more of them may be damaged."""
    code = "A7K2B9C4" * 16
    parts = draw_code(("https://clinic.example/en/my/#", code), "x")
    whole = draw_code((f"https://clinic.example/en/my/#{code}",), "x")
    assert side_of(parts) < side_of(whole)
