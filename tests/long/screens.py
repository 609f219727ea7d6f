"""Every main screen as a clinician and a patient see it, to be looked at: ``python tests/long/screens.py SITE FOLDER [SCREEN …]``.

Photographs the demo's site at four widths, light and dark, in English, Spanish and Arabic, at the usual size of text, and the patient's screens
at twice that size too, into FOLDER; beside them a contact sheet of each screen in each language (SCREEN.LANGUAGE.png).  Judges nothing but
what is never right: a page wider than its window.  Ends with 1 where one is.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.library.read import read_library
from handouts.source.files import read_folder
from tests.bench.phone import list_code, serve
from tests.site.browser import PRINTED, a_browser

SIZES = ((320, 640), (360, 740), (820, 1180), (1366, 768))
SCHEMES = ("light", "dark")
LANGUAGES = ("en", "es", "ar")
SHARE = 2
"""Points of a photograph for one of its contact sheet, each way."""
GAP = 12
PICKED = ("sit-to-stand", "one-leg-stand", "hill-walk", "table-slide")
"""The second is done on each side in turn, the last on one."""
LIMIT = "limit-no-weight"
PLAN = {"en": "knee", "es": "rodilla", "ar": "الركبة"}
TWICE = "document.documentElement.style.fontSize = '225%'"


@dataclass
class Place:
    """A page of the site in one language and scheme, and where its photographs go."""

    page: Page
    host: str
    language: str
    code: str
    shoot: Callable[[str], None]

    def open(self, path: str) -> None:
        """Leads to a page of this language, loaded whole."""
        self.page.goto("about:blank")
        self.page.goto(f"{self.host}/{self.language}/{path}")
        self.page.evaluate("document.fonts.ready.then(() => true)")


def show_site(place: Place) -> None:
    """Home, an exercise."""
    place.open("index.html")
    place.shoot("home")
    place.open("exercises/sit-to-stand/index.html")
    place.shoot("exercise")


def show_clinician(place: Place) -> None:
    """The clinician's page: results, picks with what is to be checked, its parts below, the list of precautions."""
    page = place.page
    page.set_viewport_size({"width": 1366, "height": 768})
    place.open(f"bundle/index.html#{place.code}")
    page.locator("#picks > li").nth(3).wait_for()
    place.shoot("clinician")
    page.locator("#find").fill(PLAN[place.language])
    page.locator("#found li").first.wait_for()
    place.shoot("results")
    page.keyboard.press("Enter")
    page.locator("#picks > li").nth(4).wait_for()
    place.shoot("after-enter")
    page.locator("#limits > summary").click()
    place.shoot("precautions")
    page.locator(f"#{LIMIT}").check()
    page.locator("#picks .against").first.wait_for()
    page.locator("#limits").scroll_into_view_if_needed()
    place.shoot("findings")
    page.locator("#sheet").scroll_into_view_if_needed()
    place.shoot("give")
    page.set_viewport_size({"width": 1366, "height": 768})
    page.reload()
    page.locator("#live-page iframe").wait_for()
    page.wait_for_timeout(800)
    place.shoot("live-sheet", ((1366, 768),))


def show_patient(place: Place, suffix: str = "") -> None:
    """The patient's page: list, session with each of its moments, its side views, its end, the log, without a network."""
    page = place.page
    place.open(f"my/index.html#{place.code}")
    page.locator("#rows > li").nth(3).wait_for()
    if suffix:
        page.evaluate(TWICE)
    place.shoot(f"list{suffix}")
    page.locator("#start").click()
    page.locator("#session-figure svg").wait_for()
    place.shoot(f"session-begin{suffix}")
    page.locator("#act").click()
    page.locator("#count-word:not(:empty)").wait_for()
    page.wait_for_timeout(5500)
    place.shoot(f"session{suffix}")
    page.locator("#skip").click()
    place.shoot(f"rest{suffix}")
    while page.locator("#session-screen").get_attribute("data-kind") != "turn":
        page.locator("#act" if page.locator("#session-screen").get_attribute("data-kind") == "begin" else "#skip").click()
    place.shoot(f"change-sides{suffix}")
    page.locator("#hurts-button").click()
    place.shoot(f"hurts{suffix}")
    page.locator("#hurts-leave").click()
    for button in ("#act", "#skip", "#act"):  # the third is walked, and one says when it is done
        page.locator(button).click()
    page.locator("#end").click()
    place.shoot(f"finish{suffix}")
    page.locator("#ending-now").click()
    place.shoot(f"end{suffix}")
    page.locator("#save").click()
    page.locator("#log-title").wait_for()
    place.shoot(f"log{suffix}")
    page.locator("#to-list").click()
    place.shoot(f"list-after{suffix}")
    if not suffix:
        page.context.set_offline(True)
        page.locator(".clinic").click()
        page.locator("#offline-title").wait_for()
        place.shoot("offline")
        page.context.set_offline(False)


def write_contact_sheet(folder: Path, screen: str, language: str) -> None:
    """The photographs of a screen in a language, a row for each scheme."""
    rows = [[path for width, _ in SIZES if (path := folder / f"{screen}.{language}.{scheme}.{width}.png").is_file()] for scheme in SCHEMES]
    pictures = [[Image.open(path).convert("RGB") for path in row] for row in rows if row]
    small = [[each.resize((each.width // SHARE, each.height // SHARE), Image.Resampling.LANCZOS) for each in row] for row in pictures]
    if not small:
        return
    width = max(sum(each.width + GAP for each in row) for row in small)
    heights = [max(each.height for each in row) + GAP for row in small]
    sheet = Image.new("RGB", (width, sum(heights)), "#888888")
    for at, row in enumerate(small):
        left = 0
        for each in row:
            sheet.paste(each, (left, sum(heights[:at])))
            left += each.width + GAP
    sheet.save(folder / f"{screen}.{language}.png")


def photograph(browser: Browser, host: str, folder: Path, code: dict[str, str], wanted: set[str]) -> tuple[set[str], list[str]]:
    """All screens in each language and scheme; their names, and what is wider than its window."""
    screens: set[str] = set()
    wide: list[str] = []
    for language in LANGUAGES:
        for scheme in SCHEMES:
            for ways in ((show_site,), (show_clinician,), (show_patient,), (lambda place: show_patient(place, "-twice"),)):
                context: BrowserContext = browser.new_context(color_scheme="dark" if scheme == "dark" else "light", service_workers="block")
                context.add_init_script(PRINTED)
                page = context.new_page()

                def shoot(screen: str, sizes: tuple[tuple[int, int], ...] = SIZES, *, page: Page = page, language: str = language, scheme: str = scheme) -> None:
                    if wanted and screen not in wanted:
                        return
                    screens.add(screen)
                    for width, height in sizes:
                        page.set_viewport_size({"width": width, "height": height})
                        page.wait_for_timeout(60)
                        page.screenshot(path=folder / f"{screen}.{language}.{scheme}.{width}.png")
                        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
                        if over > 0:
                            wide.append(f"{screen} {language} {width}: {over} px")

                for way in ways:
                    way(Place(page, host, language, code[language], shoot))
                context.close()
    return screens, sorted(set(wide))


def main(arguments: list[str]) -> int:
    """Photographs, and lays the contact sheets."""
    if len(arguments) < 2:
        print(__doc__)
        return 2
    site, folder, wanted = Path(arguments[0]), Path(arguments[1]), set(arguments[2:])
    folder.mkdir(parents=True, exist_ok=True)
    library, _ = read_library(read_folder(Path("content"), "content")[0], "content")
    assert library is not None
    code = {language: list_code(library, list(PICKED), language) for language in LANGUAGES}
    with serve(site) as host, a_browser() as browser:
        screens, wide = photograph(browser, host, folder, code, wanted)
    for screen in screens:
        for language in LANGUAGES:
            write_contact_sheet(folder, screen, language)
    print(f"{len(screens)} screens in {folder}; wider than the window: {wide or 'none'}")
    return int(bool(wide))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
