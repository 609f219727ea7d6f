"""The QR code on the real bundle sheet, photographed badly, read by two readers that know nothing of each other."""

from __future__ import annotations

import os
import re
import subprocess
from contextlib import closing
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from handouts.build.loading import load
from handouts.build.settings import Settings
from handouts.bundle.catalogue import BundleCatalogue, make_catalogue
from handouts.bundle.code import decode_bundle, encode_bundle, group_code
from handouts.bundle.values import CODE_PLACE, OpenedBundle, PickedBundle
from handouts.cli import main
from handouts.model import DoseChange, Library, Pick, Ref
from handouts.paper.laying import lay_out_document
from handouts.paper.plan import sheet_document
from tests.clinician.photograph import BLUR, photograph
from tests.kept import kept, shared_results
from tests.paper.test_read_back import a_setting
from tests.site.making import ROOT

pytestmark = pytest.mark.paper
LESS_BLUR = 0.6
"""zbar 0.23 looks along single lines of dots: the code of a bundle, with modules of 3.5 dots here, is given less blur, 0.1 mm, and nothing else."""
DAY = date(2026, 11, 25)


@cache
def demo() -> tuple[Library, BundleCatalogue]:
    """The demo library and what its codes mean."""
    with shared_results():
        library = load(Settings(ROOT / "content", today=DAY)).library
    assert library is not None
    return library, make_catalogue(library)


@cache
def the_code() -> str:
    """Six exercises of the demo, each with a changed dose: the largest code that a clinic is meant to hand over."""
    library, catalogue = demo()
    picks = []
    for exercise in library.exercises:
        allowed = exercise.dose_range
        if allowed and allowed.sets and allowed.reps and exercise.dose.reps and len(picks) < 6:
            change = DoseChange(place=CODE_PLACE, sets=_other(allowed.sets.low, allowed.sets.high, exercise.dose.sets), reps=_other(allowed.reps.low, allowed.reps.high, exercise.dose.reps))
            picks.append(Pick(place=CODE_PLACE, exercise=Ref(exercise.slug, CODE_PLACE), change=change))
    assert len(picks) == 6
    code = encode_bundle(PickedBundle("en", library.clinic.locations[0].slug, 4, tuple(picks)), catalogue)
    assert isinstance(code, str), code
    return code


def _other(low: float, high: float, now: float | None) -> int:
    """A number within a range that is not the one now."""
    return int(low if now != low else high)


@cache
def sheet(paper: str, size: str) -> bytes:
    """The PDF that ``handouts bundle CODE`` writes for the demo library."""
    epoch = str((DAY - date(1970, 1, 1)).days * 86400)
    with TemporaryDirectory() as folder, patch.dict(os.environ, SOURCE_DATE_EPOCH=epoch), shared_results():
        status = main(["bundle", the_code(), "--library", str(ROOT / "content"), "--to", folder, "--paper", paper, "--size", size])
        assert status == 0
        (written,) = Path(folder).glob("*.pdf")
        return written.read_bytes()


def zbar(picture: Image.Image, folder: Path) -> list[str]:
    """What zbar reads in a picture, as it is."""
    picture.save(folder / "photograph.png")
    said = subprocess.run(["zbarimg", "--quiet", "--raw", folder / "photograph.png"], capture_output=True, check=False, text=True)
    return said.stdout.splitlines()


@pytest.mark.parametrize(("paper", "size"), [("letter", "standard"), ("a4", "large")])
def test_code_of_the_sheet_is_read_from_a_poor_photograph(paper: str, size: str, tmp_path: Path) -> None:
    """zxing-cpp and zbar both read the link in the picture as it is, and its code is the one that was given, with six changed doses."""
    (link,) = [found.text for found in zxingcpp.read_barcodes(photograph(sheet(paper, size)))]
    assert zbar(photograph(sheet(paper, size), blur=LESS_BLUR), tmp_path) == [link]
    assert link.partition("#")[2] == the_code()
    opened = decode_bundle(link, demo()[1])
    assert isinstance(opened, OpenedBundle)
    assert [pick.change is not None for pick in opened.bundle.picks] == [True] * 6


@pytest.mark.parametrize("size", ["standard", "large"])
def test_code_of_an_exercise_is_read_by_zbar_without_help(size: str, tmp_path: Path) -> None:
    """Its modules have 4 dots: zbar reads it in the turned, unevenly lit photograph as it is; in standard type at nine tenths of the blur (at the whole blur 4 of 14)."""
    setting = replace(a_setting("en"), size=size)
    pdf = kept(lay_out_document, sheet_document(setting, setting.library.exercise["sit-to-stand"])).pdf
    blur = 0.9 * BLUR if size == "standard" else BLUR
    assert zbar(photograph(pdf, blur=blur), tmp_path) == [setting.address(setting.page("exercises", "sit-to-stand"))]


def test_code_in_letters_opens_the_same() -> None:
    """The PDF has the code in groups of four after its label; typed as it stands there, it is the one that was given."""
    with closing(pypdfium2.PdfDocument(sheet("letter", "standard"))) as pdf:
        text = "\n".join(page.get_textpage().get_text_range() for page in pdf)
    typed = text.partition("Code of this sheet:")[2]
    groups = re.match(r"(?:\s*[2-9A-HJ-NP-Z]{4}(?=\s))+(?:\s*[2-9A-HJ-NP-Z]{1,3}(?=\s))?", typed)
    assert groups, text
    assert groups[0].split() == group_code(the_code()).split()
    for way in (groups[0], groups[0].lower(), "-".join(groups[0].split())):
        assert decode_bundle(way, demo()[1]) == decode_bundle(the_code(), demo()[1])


def test_a_photograph_from_too_far_is_not_read(tmp_path: Path) -> None:
    """At 40 dots an inch neither reader finds anything: the test above can fail."""
    picture = photograph(sheet("letter", "standard"), 40)
    assert (zxingcpp.read_barcodes(picture), zbar(picture, tmp_path)) == ([], [])
