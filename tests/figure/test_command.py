"""``handouts figure``: one figure as SVG or PNG, its frames, its angles, all of them on a sheet, and what is refused."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from handouts.cli import main
from handouts.commands.figure import PICTURE_WIDTH
from tests.small_library import texts_with
from tests.test_cli import write

FOOT = "exercises/foot-lift.md"
POSED = texts_with(FOOT, ("figure: {base: sitting}", "figure: {base: sitting, props: {chair: seat}, contacts: [foot.l floor, seat seat], start: {knee.r: 90}, end: {knee.r: 10}}"))
SVG = "{http://www.w3.org/2000/svg}"


def run(folder: Path, *words: str, texts: dict[str, str] = POSED) -> int:
    """The command on a small library."""
    return main(["figure", *words, "--library", str(write(folder / "lib", texts))])


def test_svg_stands_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A whole SVG with a title and a description in words, which its name is printed of."""
    target = tmp_path / "foot.svg"
    assert run(tmp_path, "foot-lift", "--to", str(target)) == 0
    assert capsys.readouterr().out == f"{target}\n"
    root = ElementTree.parse(target).getroot()
    assert root.tag == f"{SVG}svg"
    assert root.findtext(f".//{SVG}title") == "Foot lift"
    assert "chair" in (root.findtext(f".//{SVG}desc") or "")
    assert len(list(root.iter(f"{SVG}path"))) > 10
    assert "url(http" not in target.read_text() and "<script" not in target.read_text()


def test_svg_is_named_after_its_exercise(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without --to it is written where the author stands."""
    monkeypatch.chdir(tmp_path)
    assert run(tmp_path, "foot-lift") == 0
    assert (tmp_path / "foot-lift.svg").is_file()


def test_png(tmp_path: Path) -> None:
    """A picture of the named width in which something is drawn."""
    target = tmp_path / "foot.png"
    assert run(tmp_path, "foot-lift", "--to", str(target)) == 0
    with Image.open(io.BytesIO(target.read_bytes())) as picture:
        assert (picture.format, picture.width) == ("PNG", PICTURE_WIDTH)
        assert len(picture.convert("RGB").getcolors(1 << 24) or ()) > 20


def test_frames(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every frame stands beside the figure, numbered, each another one, the first and last as in the two pictures."""
    assert run(tmp_path, "foot-lift", "--to", str(tmp_path / "foot.svg"), "--frames") == 0
    printed = capsys.readouterr().out.split()
    frames = sorted(tmp_path.glob("foot-*.svg"))
    assert printed == [str(tmp_path / "foot.svg"), *map(str, frames)]
    assert [path.name for path in frames] == [f"foot-{number:02}.svg" for number in range(len(frames))]
    assert len(frames) >= 3
    assert len({path.read_bytes() for path in frames}) == len(frames)
    for path in frames:
        ElementTree.parse(path)


def test_angles(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The largest angle of each joint, with side and moment, as the author wrote it; the size of the movement's data."""
    assert run(tmp_path, "foot-lift", "--to", str(tmp_path / "foot.svg"), "--angles") == 0
    _, _, rest = capsys.readouterr().out.partition("\n")
    angles, size = rest.rsplit("\nmotion data: ", 1)
    found = json.loads(angles)
    degrees, side, phase = found["knee flexion"]
    assert (round(degrees), side in ("left", "right", "l", "r")) == (90, True)
    assert phase is not None
    assert re.fullmatch(r"\d+ bytes\n", size)


def test_all_on_one_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a name every figure of the library stands on one page."""
    target = tmp_path / "all.html"
    assert run(tmp_path, "--to", str(target)) == 0
    page = target.read_text()
    assert page.count("<svg") == 2
    assert "Foot lift" in page and "Leg lift" in page
    assert capsys.readouterr().out == f"{target}\n"


def test_unknown_exercise(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A wrong name is answered with the nearest."""
    assert run(tmp_path, "foot-lft") == 2
    assert "no exercise 'foot-lft'. Did you mean 'foot-lift'?" in capsys.readouterr().err


def test_exercise_without_a_figure(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is a problem, and nothing is written."""
    assert run(tmp_path, "foot-lift", "--to", str(tmp_path / "foot.svg"), texts=texts_with(FOOT, ("figure: {base: sitting}\n", ""))) == 1
    assert "the exercise has no figure. Describe the pose in 'figure:'. [no-figure]" in capsys.readouterr().err
    assert not (tmp_path / "foot.svg").exists()


def test_pose_that_cannot_be(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A knee bent backwards is named with its place, and status 1."""
    bent = texts_with(FOOT, ("figure: {base: sitting}", "figure: {base: sitting, start: {knee: -60}}"))
    assert run(tmp_path, "foot-lift", "--to", str(tmp_path / "foot.svg"), texts=bent) == 1
    assert re.search(r"lib/exercises/foot-lift\.md:\d+:\d+: error: .*knee", capsys.readouterr().err)


def test_exercise_with_a_picture_or_in_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing can be drawn of it, and it is said how it is shown; nothing is written."""
    assert run(tmp_path / "a", "foot-lift", texts=texts_with(FOOT, ("figure: {base: sitting}", "figure: none"))) == 1
    assert "notice: the exercise is shown in words only, as 'figure: none' says. To see it, open its page in 'handouts preview'. [no-figure]" in capsys.readouterr().err
    own = "picture: {file: hands.png, words: Five hands in a row make a fist step by step., source: drawn by the clinic, licence: own work}"
    files = texts_with(FOOT, ("figure: {base: sitting}", own), **{"pictures/hands.png": "pixels"})
    assert run(tmp_path / "b", "foot-lift", texts=files) == 1
    assert "notice: the exercise is shown by its own picture, 'pictures/hands.png'. To see it" in capsys.readouterr().err
