"""Limits on an exercise's page, on their own page, and for the bundle page; only in languages that have their words."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape

from handouts.clinician.limits import LimitPages, limits_to_tick
from handouts.limits import find_all
from handouts.model import Library
from handouts.site.context import Edition
from handouts.words.wording import Wording
from tests.builders import a_library, pseudo_library
from tests.limits.making import demo, motion, the_limit
from tests.site.making import MIRRORED, Drawings, asset_sources, lay_out_site

USUAL = a_library()
LIBRARY = replace(
    USUAL,
    limits=tuple(the_limit(slug) for slug in ("hip-posterior", "hip-posterior-pose", "cuff-repair", "vertigo", "weight-as-tolerated")),
    vocabulary=replace(USUAL.vocabulary, demands=demo().vocabulary.demands),
)
SHOWN = {
    "bridge": motion({}, lying_on="back"),
    "sit-to-stand": motion({"hip.r.flex": 99.0, "hip.r.abd": -3.0}, {}),
    "heel-raise": motion({}),
    "step-up": motion({}),
}
"""The step-down has no figure."""
FINDINGS = find_all(LIBRARY, SHOWN)


def site(*libraries: Library) -> dict[str, bytes]:
    """A site with limits, the first library its source."""
    wordings = {library.language: Wording(library.language) for library in libraries}
    edition = Edition(version="v", limits=FINDINGS)
    return lay_out_site(libraries, wordings, Drawings(), asset_sources(), edition, site_parts=(LimitPages(libraries[0], FINDINGS),))


def text_of(page: bytes) -> str:
    """What stands on a page, without marks and doubled spaces."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page.decode())).split())


def mirrored(library: Library) -> Library:
    return pseudo_library(library, MIRRORED)


def test_block_on_an_exercise_page() -> None:
    """Larger excesses first, slight ones apart, only versions in use, the surgeon's plan, a link to each limit."""
    page = site(LIBRARY)["en/exercises/sit-to-stand/index.html"].decode()
    block = page[page.index("movement limits this may exceed") :]
    text = text_of(block.encode())
    assert "Your surgeon's plan comes first." in text
    assert text.index("Hip flexion to about 99°; the limit is 90° (at the start, each side in turn)") < text.index("Past the bound by 5 degrees or less")
    assert "Hip adduction to about 3° past neutral; the limit is neutral" in text[text.index("Past the bound") :]
    assert "pose avoidance" not in text
    assert 'href="../../limits/index.html#limit-hip-posterior"' in block


def test_no_block_where_nothing_was_found() -> None:
    """Nothing found, nothing said; without a figure it is said that nothing could be checked."""
    files = site(LIBRARY)
    assert "movement limits" not in text_of(files["en/exercises/heel-raise/index.html"])
    assert "Could not be checked: this exercise has no figure." in text_of(files["en/exercises/step-down/index.html"])


def test_page_of_all_limits() -> None:
    """Each limit with phases, bounds, source, the exercises that may exceed it and those not checked."""
    text = text_of(site(LIBRARY)["en/limits/index.html"])
    hip = text[text.index("Hip replacement, posterior approach The hip") : text.index("pose avoidance Not used here")]
    assert "Weeks 0 to 12 Hip flexion up to 90° Hip adduction up to 0°" in hip
    assert "Read in the source: Eannucci et al., HSS Journal 15:247, 2019" in hip
    assert "Up to 2 degrees past a bound is not reported" in text[: text.index("Hip replacement, posterior approach The hip")]
    assert "May exceed it (1) Sit to stand Hip flexion to about 99°; the limit is 90°" in hip
    assert "Past the bound by 5 degrees or less (1) Sit to stand Hip adduction to about 3° past neutral; the limit is neutral" in hip
    assert "Could not be checked, for want of a figure (1) Step down" in hip
    assert "No bound is set in this phase." in text
    pose = text[text.index("pose avoidance Not used here") :]
    assert "Read in a summary, not in the source itself: Eannucci" in pose[:500]
    vertigo = text[text.index("Positional vertigo") :]
    assert "From memory: look it up before you rely on it" in vertigo
    assert "May exceed it (1) Bridge Lying down and sitting up" in vertigo


def test_a_language_without_all_words_shows_no_limits() -> None:
    """One limit is missing: no page, no block, no word of English."""
    whole = mirrored(LIBRARY)
    files = site(LIBRARY, whole)
    assert f"{MIRRORED}/limits/index.html" in files
    assert "Hip flexion" not in files[f"{MIRRORED}/limits/index.html"].decode()
    part = replace(whole, limits=whole.limits[:-1])
    files = site(LIBRARY, part)
    assert f"{MIRRORED}/limits/index.html" not in files
    assert "limits" not in files[f"{MIRRORED}/exercises/sit-to-stand/index.html"].decode()
    assert limits_to_tick(part, LIBRARY, FINDINGS) == ()


def test_limits_to_tick() -> None:
    """The bundle page offers the limits in use, each phase with a sentence for each exercise."""
    found = {limit.slug: limit for limit in limits_to_tick(LIBRARY, LIBRARY, FINDINGS)}
    assert list(found) == ["hip-posterior", "cuff-repair", "vertigo", "weight-as-tolerated"]
    (phase,) = found["hip-posterior"].phases
    assert phase.found == {
        "sit-to-stand": "Hip flexion to about 99°; the limit is 90° (at the start, each side in turn). Hip adduction to about 3° past neutral; the limit is neutral (at the start, each side in turn)",
        "step-down": "Could not be checked: this exercise has no figure.",
    }
    assert found["weight-as-tolerated"].phases[0].found == {}
    assert [len(phase.found) for phase in found["cuff-repair"].phases] == [1, 1, 1, 0]


def test_each_phase_says_its_own_status() -> None:
    """The rule stands with its status and source; a phase whose numbers come from elsewhere says so, and one that does not says its status."""
    library = replace(USUAL, limits=(the_limit("hip-anterior"), the_limit("acl-open-chain")), vocabulary=demo().vocabulary)
    findings = find_all(library, SHOWN)
    edition = Edition(version="v", limits=findings)
    files = lay_out_site([library], {"en": Wording("en")}, Drawings(), asset_sources(), edition, site_parts=(LimitPages(library, findings),))
    text = text_of(files["en/limits/index.html"])
    assert "Read in a summary, not in the source itself: Leaflets of clinics and therapists on a hip replaced from the front" in text
    assert "The numbers are this clinic's own: The bounds as above; the weeks are those of the posterior approach" in text
    graft = text[text.index("ACL graft") :]
    assert graft.count("Read in the source: Janssen") == 1
    for week in (5, 6, 7):
        phase = graft[graft.index(f"Week {week}: between") :]
        assert phase.index("From memory: look it up before you rely on it: van Melick") < phase.index("Week") + 400
    assert "Weight up to 0 kg" in graft[graft.index("Week 4: between") : graft.index("Week 5: between")]
