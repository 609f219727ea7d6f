"""The clinic's own picture: decoded and written anew in bounds, and the same on page, phone, sheet and in the ledger."""

from __future__ import annotations

import base64
import io
import re
import shutil
import zlib
from pathlib import Path

import pikepdf
import pytest
from PIL import Image, ImageFile

from handouts.build.drawn import DESCRIPTION, IDENT, TITLE
from handouts.build.own_pictures import LEAST_SIDE, MOST_BYTES, SMALL_BYTES, prepare_picture
from handouts.cli import main
from handouts.ledger.parts import exercise_parts
from handouts.ledger.stamp import stamps_of
from handouts.words.messages import collect_messages
from tests.rules.test_messages import FOOT, PICTURE
from tests.small_library import TEXTS, small_library, texts_with

OWN = ("figure: {base: sitting}", PICTURE)


def picture(kind: str = "PNG", size: tuple[int, int] = (400, 300), mode: str = "RGB", **options: object) -> bytes:
    """A picture whose left half is red and whose right half is blue."""
    image = Image.new(mode, size, (0, 0, 255, 255)[: len(mode)])
    image.paste((255, 0, 0, 255)[: len(mode)], (0, 0, size[0] // 2, size[1]))
    stream = io.BytesIO()
    image.save(stream, kind, **options)  # type: ignore[arg-type]
    return stream.getvalue()


def shown(svg: str) -> Image.Image:
    """The pixels that stand in a drawing."""
    found = re.search(r'href="data:image/(?:png|jpeg);base64,([^"]+)"', svg)
    assert found
    image = Image.open(io.BytesIO(base64.b64decode(found[1])))
    image.load()
    return image


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
def test_each_kind_is_written_anew(kind: str) -> None:
    """The same picture comes out, with the blanks for its words, and the same bytes again."""
    data = picture(kind)
    made, why = prepare_picture(data)
    assert made is not None and why == ""
    image = shown(made.shown)
    assert image.size == (400, 300) and 'viewBox="0 0 400 300"' in made.shown
    left, right = image.getpixel((50, 150)), image.getpixel((350, 150))
    assert isinstance(left, tuple) and isinstance(right, tuple) and left[0] > 240 > 20 > left[2] and right[2] > 240 > 20 > right[0]
    assert all(blank in made.shown for blank in (TITLE, DESCRIPTION, IDENT)) and TITLE not in made.panel
    assert prepare_picture(data) == (made, "")
    assert max(shown(made.panel).size) == 320


def test_nothing_but_pixels_comes_through() -> None:
    """Place, camera, colour profile, comments and what stands behind the picture are gone; a picture that was held sideways stands upright."""
    exif = Image.Exif()
    exif[0x0112], exif[0x010F], exif[0x8825] = 6, "CAMERA-OF-SOMEONE", {1: "N", 2: (51.0, 30.0, 0.0)}
    data = picture("JPEG", exif=exif.tobytes(), comment=b"A NAME", icc_profile=b"PROFILE" * 20) + b"<script>behind</script>"
    made, _ = prepare_picture(data)
    assert made is not None
    image = shown(made.shown)
    assert image.size == (300, 400) and not image.getexif() and "icc_profile" not in image.info and "comment" not in image.info
    raw = base64.b64decode(re.search(r"base64,([^\"]+)", made.shown)[1])  # type: ignore[index]
    assert not any(word in raw for word in (b"CAMERA", b"A NAME", b"PROFILE", b"script", b"Exif"))
    top, bottom = image.getpixel((150, 40)), image.getpixel((150, 360))
    assert isinstance(top, tuple) and isinstance(bottom, tuple) and top[0] > 200 and bottom[2] > 200


def test_what_is_see_through_is_white() -> None:
    """On paper and on a dark screen alike."""
    stream = io.BytesIO()
    Image.new("RGBA", (400, 300), (10, 20, 30, 0)).save(stream, "PNG")
    made, _ = prepare_picture(stream.getvalue())
    assert made is not None and shown(made.shown).getpixel((5, 5)) == (255, 255, 255)


def test_bytes_are_bounded() -> None:
    """A picture that nothing can make small comes out small enough all the same."""
    noise = Image.effect_noise((2600, 1900), 120).convert("RGB")
    stream = io.BytesIO()
    noise.save(stream, "PNG")
    made, _ = prepare_picture(stream.getvalue())
    assert made is not None
    for svg, most in ((made.shown, MOST_BYTES), (made.panel, SMALL_BYTES)):
        assert len(base64.b64decode(re.search(r"base64,([^\"]+)", svg)[1])) <= most  # type: ignore[index]


def _claims(size: tuple[int, int]) -> bytes:
    """A PNG whose head claims a size that its data has not."""
    data = bytearray(picture())
    data[16:24] = size[0].to_bytes(4, "big") + size[1].to_bytes(4, "big")
    data[29:33] = zlib.crc32(data[12:29]).to_bytes(4, "big")
    return bytes(data)


def _moving() -> bytes:
    stream = io.BytesIO()
    frames = [Image.new("RGB", (400, 300), colour) for colour in ("red", "blue")]
    frames[0].save(stream, "WEBP", save_all=True, append_images=frames[1:])
    return stream.getvalue()


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "it cannot be decoded as PNG, JPEG or WebP (UnidentifiedImageError)"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", "it cannot be decoded as PNG, JPEG or WebP (UnidentifiedImageError)"),
        (picture("GIF"), "it cannot be decoded as PNG, JPEG or WebP (UnidentifiedImageError)"),
        (picture("TIFF"), "it cannot be decoded as PNG, JPEG or WebP (UnidentifiedImageError)"),
        (picture("JPEG")[:900], "it cannot be decoded as PNG, JPEG or WebP (OSError)"),
        (_claims((30_000, 30_000)), "it has more than 50 million pixels"),
        (_moving(), "it moves: it holds more than one picture"),
        (picture(size=(200, 100)), f"it has only 200 x 100 pixels, and the longer side needs {LEAST_SIDE}"),
    ],
    ids=["empty", "svg", "gif", "tiff", "cut", "bomb", "moving", "small"],
)
def test_what_cannot_be_shown_is_said(data: bytes, why: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Never a traceback, and nothing is decoded that is too large; also where the layout library has let Pillow take files that are cut short."""
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    made, said = prepare_picture(data)
    assert made is None and said.startswith(why.removesuffix(")"))


def _write(folder: Path, texts: dict[str, str], data: bytes) -> None:
    for path, text in texts.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text)
    (folder / "pictures").mkdir()
    (folder / "pictures/hands.png").write_bytes(data)


def test_page_phone_and_sheet_show_it(tmp_path: Path) -> None:
    """One build: the page has picture, words and source; the phone draws it; each PDF holds its pixels once and its words for a reader aloud."""
    library, out = tmp_path / "lib", tmp_path / "out"
    _write(library, texts_with(FOOT, OWN), picture(size=(800, 600)))
    assert main(["build", str(library), "--to", str(out), "--no-cache", "--quiet"]) == 0
    page = (out / "site/en/exercises/foot-lift/index.html").read_text()
    assert '<image x="0" y="0" width="800" height="600" href="data:image/png;base64,' in page
    assert "Five hands in a row make a fist step by step.</desc>" in page and "Picture: drawn by the clinic (own work)" in page
    phone = next((out / "site/assets").glob("movement-foot-lift.*.js")).read_text()
    assert '["image",{' in phone and "data:image/png;base64," in phone
    for name in ("letter-standard", "a4-large"):
        with pikepdf.open(out / f"site/en/exercises/foot-lift/foot-lift-{name}.pdf") as pdf:
            pixels = [item for item in pdf.objects if isinstance(item, pikepdf.Stream) and item.get("/Subtype") == "/Image"]
            assert [(int(item.Width), int(item.Height)) for item in pixels] == [(800, 600)]
            decoded = pikepdf.PdfImage(pixels[0]).as_pil_image().convert("RGB")
            assert decoded.getpixel((100, 300)) == (255, 0, 0) and decoded.getpixel((700, 300)) == (0, 0, 255)
            said = [str(item.get("/Alt")) for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/Figure"]
            assert any("Five hands in a row" in each for each in said), said


def test_a_file_that_cannot_be_shown_stops_the_build(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With the place at which the file is named, and what to do."""
    _write(tmp_path / "lib", texts_with(FOOT, OWN), b"no picture")
    assert main(["check", str(tmp_path / "lib")]) == 1
    said = capsys.readouterr()
    assert (
        "lib/exercises/foot-lift.md:19:17: error: the picture 'hands.png' cannot be shown: it cannot be decoded as PNG, JPEG or WebP (UnidentifiedImageError). "
        "Save it again as PNG, JPEG or WebP, or take another picture. [picture-file]"
    ) in said.out + said.err
    shutil.rmtree(tmp_path / "lib")


def test_another_picture_is_another_version_and_another_name_is_none() -> None:
    """In the ledger it is the part 'figure'; an exercise without one has the stamp it always had."""
    one = small_library(texts_with(FOOT, OWN, **{"pictures/hands.png": "one"}))
    renamed = small_library(texts_with(FOOT, (OWN[0], OWN[1].replace("hands.png", "fists.png")), **{"pictures/fists.png": "one"}))
    other = small_library(texts_with(FOOT, OWN, **{"pictures/hands.png": "other"}))
    stamps = [stamps_of(library)["exercises/foot-lift"] for library in (one, renamed, other)]
    assert stamps[0] == stamps[1] != stamps[2]
    parts = [exercise_parts(library.exercise["foot-lift"], library) for library in (one, other)]
    assert {name for name in parts[0] if parts[0][name] != parts[1][name]} == {"figure"}
    assert stamps_of(small_library(TEXTS))["exercises/leg-lift"] == stamps_of(one)["exercises/leg-lift"]


def test_its_words_are_translated() -> None:
    """They are a message of the exercise, with a note for whoever translates them."""
    found = [each for each in collect_messages(small_library(texts_with(FOOT, OWN, **{"pictures/hands.png": "one"}))) if each.name == "picture"]
    assert [(each.context, each.text) for each in found] == [("exercise/A222/picture", "Five hands in a row make a fist step by step.")]
    assert "cannot see it" in found[0].note
