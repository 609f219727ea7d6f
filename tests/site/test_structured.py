"""What search engines and shared links are given: the same facts as on the page, as data that no browser runs."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from handouts.site.context import Edition
from tests.builders import a_clinic, a_dose, a_library, an_exercise
from tests.site.browser import a_browser
from tests.site.making import make_site, two_languages, write_site

PAGE = "en/exercises/step-up/index.html"


def data_of(page: bytes) -> dict[str, Any]:
    """The data of a page."""
    found = re.findall(r'<script type="application/ld\+json">(.*?)</script>', page.decode(), re.DOTALL)
    assert len(found) == 1
    made = json.loads(found[0])
    assert isinstance(made, dict)
    return made


def test_exercise() -> None:
    """Types and names of schema.org (MedicalWebPage, ExercisePlan), values as on the page."""
    data = data_of(make_site(two_languages())[PAGE])
    assert (data["@context"], data["@type"], data["lastReviewed"], data["inLanguage"]) == ("https://schema.org", "MedicalWebPage", "2026-09-14", "en")
    assert data["url"] == f"https://testford.example/{PAGE}"
    plan = data["mainEntity"]
    assert (plan["@type"], plan["name"], plan["repetitions"], plan["activityFrequency"]) == ("ExercisePlan", "Step up", 10, "3 days a week")
    assert plan["activityDuration"] == "PT420S"
    assert data["disambiguatingDescription"] == "Example only: this clinic is invented."


def test_nothing_empty_and_nothing_made_up() -> None:
    """What an exercise does not have is not there; a real clinic is not called invented."""
    exercise = an_exercise("step-up", dose=a_dose(reps=None, tempo=None, hold_seconds=10, days=None, effort=None))
    data = data_of(make_site((a_library(exercise, clinic=a_clinic(invented=False)),))[PAGE])
    assert not {"repetitions", "activityFrequency", "intensity"} & data["mainEntity"].keys()
    assert "disambiguatingDescription" not in data
    assert None not in data.values() and "" not in data["mainEntity"].values()


def test_a_text_cannot_end_its_element() -> None:
    """A title with a closing tag stays a title."""
    evil = "</script><script>alert(1)</script>"
    assert data_of(make_site((a_library(an_exercise("step-up", title=evil)),))[PAGE])["name"] == evil


def test_programme_and_other_pages() -> None:
    """A programme has its weeks; a page that lists things has no data."""
    site = make_site(two_languages())
    assert data_of(site["en/programmes/stairs/index.html"])["mainEntity"]["activityDuration"] == "P8W"
    assert b"ld+json" not in site["en/exercises/index.html"]


def test_picture_of_a_shared_link() -> None:
    """The address is whole, since other sites open it; without a picture nothing is said."""
    edition = Edition(version="V", previews={"step-up": "assets/preview-step-up.0123456789.png"})
    site = make_site(two_languages(), edition)
    assert b'<meta property="og:image" content="https://testford.example/assets/preview-step-up.0123456789.png">' in site[PAGE]
    assert b"og:" not in site["en/exercises/bridge/index.html"]


@pytest.mark.browser
def test_data_is_no_script_to_a_browser(tmp_path: Path) -> None:
    """Under the page's own policy the data raises no complaint and its text can be read."""
    write_site(make_site(two_languages()), tmp_path)
    with a_browser() as browser:
        page = browser.new_page()
        said: list[str] = []
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.goto((tmp_path / PAGE).as_uri())
        expect(page.locator('script[type="application/ld+json"]')).to_have_count(1)
        text = page.locator('script[type="application/ld+json"]').text_content()
        assert json.loads(text or "")["@type"] == "MedicalWebPage"
        assert said == []
