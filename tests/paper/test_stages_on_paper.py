"""A plan over weeks on paper: a line to tick for each stage, in every form of the sheet; what the session hangs on; a line for the goal."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from handouts.bundle.catalogue import name_mark
from handouts.bundle.values import PickedBundle
from handouts.clinician.document import picked_beside, picked_document, picked_setting
from handouts.model import DoseChange, DoseStage, Library, SessionCue
from handouts.words.wording import Wording
from tests.builders import PLACE, words
from tests.bundle.sample import bundle_of, pick_of
from tests.clinician.making import EDITION, PaperDrawings, libraries

LINES = ["From week 1: 2 sets of 8", "From week 3: 3 sets of 8", "When that was easy 2 times in a row: 3 sets of 10"]
BOXED = re.compile(r'<p class="stage"><span class="box"></span>([^<]*)</p>')


def with_cue(library: Library) -> Library:
    """The small library whose clinic offers a cue."""
    cue = SessionCue(place=PLACE, slug="breakfast", name=words("after breakfast"))
    return replace(library, clinic=replace(library.clinic, session_cues=(cue,)))


def plan() -> PickedBundle:
    """Two exercises, the first with three stages, for twelve weeks."""
    stages = (DoseStage(place=PLACE, week=3, change=DoseChange(place=PLACE, sets=3)), DoseStage(place=PLACE, change=DoseChange(place=PLACE, reps=10)))
    first = replace(pick_of("sit", sets=2, reps=8), stages=stages)
    return replace(bundle_of(first, pick_of("stand"), location="main", language="en", weeks=12), cue=name_mark("breakfast"))


@pytest.mark.parametrize("full", [False, True])
@pytest.mark.parametrize("size", ["standard", "large"])
def test_each_stage_has_a_box(full: bool, size: str) -> None:
    """Several exercises on a page, or each on its own: the same lines, once."""
    picked, library = plan(), with_cue(libraries()[0])
    setting = picked_setting(picked, library, Wording("en"), PaperDrawings(), EDITION).on("letter", size)
    html = picked_document(setting, picked, "K7QX2M", full=full).html
    assert BOXED.findall(html) == LINES
    assert "Do your session: after breakfast." in html
    assert "From week 3: about" in html
    assert html.count('<p class="pen goal"><span>My goal:</span></p>') == 1


def test_without_stages_nothing_is_added() -> None:
    """A bundle that stays as it is has no line to tick and none for a goal."""
    picked = bundle_of(pick_of("sit"), pick_of("stand"), location="main", language="en", weeks=2)
    setting = picked_setting(picked, with_cue(libraries()[0]), Wording("en"), PaperDrawings(), EDITION).on("letter", "standard")
    html = picked_document(setting, picked, "K7QX2M").html
    assert not BOXED.findall(html)
    for text in ("stages-label", "My goal", "Do your session"):
        assert text not in html


def test_in_two_languages() -> None:
    """Beside the clinic's language each stage stands in both, with its box."""
    picked = replace(plan(), language="es")
    english, spanish = (with_cue(each) for each in libraries())
    own, source = (picked_setting(picked, library, Wording(library.language), PaperDrawings(), EDITION).on("letter", "standard") for library in (spanish, english))
    html = picked_beside(own, source, picked).html
    assert html.count('<span class="box"></span> From week 3: 3 sets of 8') == 1
    assert html.count('<span class="box"></span> Desde la semana 3: 3 series de 8') == 1
