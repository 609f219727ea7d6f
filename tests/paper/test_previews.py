"""Pictures for shared links: made once, kept, and of the size that other sites ask for."""

from __future__ import annotations

import io
from functools import partial
from pathlib import Path

import pytest
from PIL import Image

from handouts.paper.previews import WIDTH, draw_previews, preview_path
from handouts.store.memo import Memo
from handouts.workers import Workers

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 300"><path fill="#000000" d="M0 0h400v150h-400z"/></svg>'


@pytest.mark.paper
def test_picture(tmp_path: Path) -> None:
    """The drawing fills the picture: black above, white below; the second time it is not drawn again."""
    path = preview_path("step-up", SVG)
    memo = Memo(tmp_path)
    each = partial(memo.spread, Workers().map)
    (made,) = draw_previews({path: SVG}, each)
    assert (made.path, made.problems) == (path, ())
    picture = Image.open(io.BytesIO(made.png)).convert("RGB")
    assert picture.size == (WIDTH, WIDTH * 3 // 4)
    assert (picture.getpixel((10, 10)), picture.getpixel((10, 590))) == ((0, 0, 0), (255, 255, 255))
    (kept,) = draw_previews({path: SVG}, each)
    assert kept.png == made.png and list(memo.made.values()) == [1]


def test_name_follows_the_drawing() -> None:
    """Another drawing has another name, so that no site keeps an old picture."""
    assert preview_path("step-up", SVG) != preview_path("step-up", SVG.replace("#000000", "#111111"))
    assert preview_path("step-up", SVG).startswith("assets/preview-step-up.")
