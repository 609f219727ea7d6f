"""From the site's home to a printed handover, as a clinician's hands go, counted by the keystroke-level model.

Card, Moran and Newell, Commun. ACM 1980;23:396 (from memory): a keystroke or a press of the mouse 0.28 s (an average
typist), pointing 1.1 s, a hand between keyboard and mouse 0.4 s, an act of thought 1.35 s.  The time in which the
machine answers is not in it.
"""

from __future__ import annotations

import re
import time
from dataclasses import dataclass

from playwright.sync_api import Locator, Page, expect

KEYSTROKE, POINT, HAND, THOUGHT = 0.28, 1.1, 0.4, 1.35
"""Seconds of the operators K, P, H and M."""


@dataclass(frozen=True)
class Words:
    """What is looked for on a site in English."""

    programme: str
    """Title of a programme that stands on the home page."""
    search: str
    """What is typed into the search of the home page; its first row is opened and added."""
    number: tuple[str, str]
    """Id of the field of a dose, and the new number."""
    limit: str
    """Id of the limit that is ticked."""
    finding: str
    """What the page must then say."""
    language: str
    """Tag of the patient's language."""


class Clinician:
    """Hands that click and type; each step adds to the actions and to the model's seconds, and may be waited for."""

    def __init__(self, page: Page, *, human: bool = False) -> None:
        self.page, self.human = page, human
        self.actions, self.seconds = 0, 0.0
        self.on_mouse = True

    def _spend(self, seconds: float) -> None:
        self.seconds += seconds
        if self.human:
            time.sleep(seconds)

    def _move_hand(self, to_mouse: bool) -> None:
        if self.on_mouse != to_mouse:
            self._spend(HAND)
        self.on_mouse = to_mouse

    def click(self, target: Locator) -> None:
        """Thinks, points, presses."""
        target.wait_for()
        self._move_hand(True)
        self._spend(THOUGHT + POINT + KEYSTROKE)
        target.click()
        self.actions += 1

    def type(self, text: str) -> None:
        """A word or a number, with a thought before it."""
        self._move_hand(False)
        self._spend(THOUGHT + KEYSTROKE * len(text))
        self.page.keyboard.type(text)
        self.actions += 1

    def press(self, keys: str, thought: float = 0.0) -> None:
        """A stroke, with what is held down meanwhile."""
        self._move_hand(False)
        self._spend(thought + KEYSTROKE * (1 + keys.count("+")))
        self.page.keyboard.press(keys)
        self.actions += 1


def by_complaint(hands: Clinician, searches: tuple[str, ...], *, picks: int = 4, doses: int = 2) -> None:
    """From the home page: the first exercises that a complaint finds, other numbers in some doses, one side, the print dialog.

    Where a search finds too few the next is typed over it.
    """
    page = hands.page
    hands.click(page.locator("header").get_by_role("link", name="For clinicians"))
    expect(page.locator("#find")).to_be_focused()
    hands.type(searches[0])
    further = iter(searches[1:])
    for count in range(1, picks + 1):
        expect(page.locator("#find-note")).not_to_have_text("Type, then press Enter to add the first result.")
        if page.locator("#found li").count() == 0:
            hands.type(next(further))
            expect(page.locator("#found li").first).to_be_visible()
        hands.press("Enter", 0.0 if count == 1 else THOUGHT)
        expect(page.locator("#picks > li")).to_have_count(count)
    fields = page.locator("#picks > li input[type=number]:first-of-type")
    for at in range(doses):
        field = fields.nth(at)
        low, high, now = (int(field.get_attribute(name) or 0) for name in ("min", "max", "value"))
        hands.click(field)
        hands.type(str(high if now != high else low))
    hands.click(page.locator("#picks .side").first)
    expect(page.locator("#chart")).to_have_value(re.compile("left side only"))
    hands.press("Alt+p", THOUGHT)
    page.wait_for_selector("html[data-printed=yes]", state="attached")
    expect(page.locator("article.row")).to_have_count(picks)
    expect(page.locator("article .dose").get_by_text("left side only")).to_have_count(1)


def by_sentence(hands: Clinician, sentence: str, picks: int) -> None:
    """From the home page: a plan as it is said, and the print dialog."""
    page = hands.page
    hands.click(page.locator("header").get_by_role("link", name="For clinicians"))
    expect(page.locator("#find")).to_be_focused()
    hands.type(sentence)
    hands.press("Enter")
    expect(page.locator("#picks > li")).to_have_count(picks)
    hands.press("Alt+p", THOUGHT)
    page.wait_for_selector("html[data-printed=yes]", state="attached")
    expect(page.locator("article.row")).to_have_count(picks)


def hand_over(hands: Clinician, words: Words) -> str:
    """Programme, search, dose, limit, language, print; gives the text for the chart as it stood before printing."""
    page = hands.page
    hands.click(page.locator("main").get_by_role("link", name=words.programme).first)
    hands.click(page.get_by_role("link", name="For clinicians: start a bundle with these").first)
    expect(page.locator("#picks > li").first).to_be_visible()
    picked = page.locator("#picks > li").count()
    hands.click(page.locator("header a").first)
    hands.click(page.locator("#q"))
    hands.type(words.search)
    hands.press("Enter")
    hands.click(page.locator(".row-title:visible").first)
    hands.click(page.get_by_role("link", name="For clinicians: add to a bundle"))
    expect(page.locator("#picks > li")).to_have_count(picked + 1)
    field, number = words.number
    hands.click(page.locator(f"#{field}"))
    hands.type(number)
    hands.press("Tab")
    hands.press("Alt+l", THOUGHT)
    hands.click(page.locator(f"#{words.limit}"))
    expect(page.locator("#picks .against").first).to_contain_text(words.finding)
    chart = page.locator("#chart").input_value()
    hands.press("Alt+s", THOUGHT)
    language = page.locator("#sheet-language")
    while language.input_value() != words.language:
        hands.press("ArrowDown", THOUGHT)
    hands.press("Alt+p", THOUGHT)
    page.wait_for_selector("html[data-printed=yes]", state="attached")
    return chart
