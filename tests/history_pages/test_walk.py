"""Old sheets, links and codes after a year's upkeep, as a patient and a clinician meet them in the built site."""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.history_pages.walking import FIRST, LATER, Sheets, begin, keep_up, publish, take_sheets
from tests.kept import shared_results
from tests.site.browser import a_browser

PHONE = {"width": 360, "height": 740}


@dataclass(frozen=True, slots=True)
class Walk:
    """The second site, and what was handed out from the first."""

    site: Path
    library: Path
    sheets: Sheets

    def told(self, name: str) -> str:
        """What the page of an old sheet tells its holder, from its heading on, without marks."""
        path, version = self.sheets.addresses[name].split("#")
        html = (self.site / path).read_text()
        main = re.sub(r"<script.*?</script>", "", html[html.index("<main") : html.index("</main>")], flags=re.DOTALL)
        others = rf'<div class="old-sheet" id="(?!{version})\w+".*?</div>'
        return " ".join(unescape(re.sub(r"<[^>]+>", " ", re.sub(others, "", main, flags=re.DOTALL))).split())


@pytest.fixture(scope="module")
def walk(tmp_path_factory: pytest.TempPathFactory) -> Walk:
    """Two publications with sheets taken between them."""
    folder = tmp_path_factory.mktemp("walk")
    library, out = begin(folder / "lib"), folder / "out"
    with shared_results():
        publish(library, out, FIRST)
        sheets = take_sheets(library, FIRST)
        keep_up(library, out)
        publish(library, out, LATER)
    return Walk(out / "site", library, sheets)


def test_sheet_with_another_dose(walk: Walk) -> None:
    """It says which version the sheet is, and both doses, in the language of the sheet."""
    told = walk.told("en/exercises/seated-heel-raise")
    assert re.match(
        r"Your sheet says version \w{6}, of October 14, 2026\. The present version is \w{6}\. Changed since then: ",
        told,
    )
    assert (
        "the dose: your sheet says 3 sets of 12, 5 days a week; now it is 4 sets of 12, 5 days a week Follow the present version."
        in told
    )
    told = walk.told("es/exercises/seated-heel-raise")
    assert (
        "la dosis: su hoja dice 3 series de 12, 5 días por semana; ahora es 4 series de 12, 5 días por semana" in told
    )


def test_sheet_of_a_renamed_exercise(walk: Walk) -> None:
    """Its old address leads on."""
    assert (
        walk.told("en/exercises/ankle-pump") == "Code 42AG This page has a new address. To the present page: Ankle pump"
    )
    assert (
        walk.told("es/exercises/ankle-pump")
        == "Código 42AG Esta página tiene una dirección nueva. A la página actual: Bombeo de tobillo"
    )


def test_sheet_of_a_replaced_exercise(walk: Walk) -> None:
    """The patient reads the title that stands on the sheet, in its language, and what took its place."""
    told = walk.told("es/exercises/towel-calf-stretch")
    assert told == (
        "Código F47V Estirar la pantorrilla con una toalla Esto se ha reemplazado. Pregunte a su terapeuta antes de cambiar. "
        "Lo que lo reemplazó: Estirar la pantorrilla en la pared"
    )


def test_sheet_of_a_withdrawn_exercise(walk: Walk) -> None:
    """Title and reason are in the patient's language."""
    told = walk.told("es/exercises/arm-swing")
    assert told.startswith(
        "Código G87J Balanceo del brazo junto a una mesa Esto se retiró el 20 de noviembre de 2026. Deje de usar la hoja"
    )
    assert told.endswith("qué hacer en su lugar. Muchas personas perdieron el equilibrio al agacharse.")


def test_sheet_of_a_programme(walk: Walk) -> None:
    """It says that its list is another one."""
    assert "Changed since then: the list of exercises how the exercises in it are described Follow" in walk.told(
        "en/programmes/back-to-the-hill-path"
    )


def test_sheets_of_ready_made_bundles(walk: Walk) -> None:
    """The former address of a renamed bundle leads to it and knows the sheet; that of a withdrawn one says why it went."""
    told = walk.told("es/bundles/ankle-first-two-weeks")
    assert "Su hoja dice versión" in told
    assert "Esta página tiene una dirección nueva. A la página actual: Tobillo: las primeras 2 semanas" in told
    page = (walk.site / "es/bundles/ankle-first-two-weeks/index.html").read_text()
    assert '<link rel="canonical" href="https://quillmoor.example/es/bundles/ankle-first-days/index.html">' in page
    told = walk.told("en/bundles/shoulder-sore-and-stiff")
    assert told.startswith("Ready-made bundles Shoulder: sore and stiff This was withdrawn on November 20, 2026.")
    assert told.endswith("Its only exercise was withdrawn.")
    untold = (walk.site / "es/bundles/shoulder-sore-and-stiff/index.html").read_text()
    assert '<p lang="en">Its only exercise was withdrawn.</p>' in untold
    assert not (walk.site / "en/code/ankle-first-days").exists()


def test_news_stand_on_the_site_that_brings_them(walk: Walk) -> None:
    """The list names the day's changes before the ledger is written, an inner change once, and a replacement on its day."""
    html = (walk.site / "en/new/index.html").read_text()
    news = " ".join(unescape(re.sub(r"<[^>]+>", " ", html[html.index("<main") : html.index("</main>")])).split())
    today = news[news.index("November 25, 2026") : news.index("November 20, 2026")]
    assert "Heel raise on a chair: changed the dose Calf stretch with a towel: replaced" in today
    assert "Ankle pump" not in today
    assert "Arm swing, leaning on a table: withdrawn Many people lost their balance as they bent over." in news
    spanish = (walk.site / "es/new/feed.xml").read_text()
    assert "Balanceo del brazo junto a una mesa: retirado" in spanish
    assert "Muchas personas perdieron el equilibrio al agacharse." in spanish


def test_ledger_keeps_titles_and_days(walk: Walk) -> None:
    """The ledger has what patients must be told when the file itself is gone."""
    text = (walk.library / "ledger.yaml").read_text()
    assert re.search(
        r'titles:  # (\w{4})\n      es: "Estirar la pantorrilla con una toalla"\n    replaced by: "85KB"  # \1\n    left: 2026-11-25  # \1\n', text
    )


def goto(page: Page, address: str) -> None:
    """A new visit: the same page with another fragment would only scroll."""
    page.goto("about:blank")
    page.goto(address)


@pytest.mark.browser
def test_old_codes_on_a_phone(walk: Walk) -> None:
    """A patient's list and a clinician's page say in view what became of it."""
    mine, clinician = f"{walk.site.as_uri()}/es/my/index.html", f"{walk.site.as_uri()}/en/bundle/index.html"
    codes = walk.sheets.codes
    with a_browser() as browser:
        page = browser.new_context(viewport=PHONE).new_page()
        goto(page, f"{mine}#{codes['dose']}")
        expect(page.locator("#formers")).to_contain_text(
            "hemos cambiado la cantidad habitual de Subir los talones en una silla. Aquí ve la cantidad de usted."
        )
        expect(page.locator(".row-dose")).to_have_text("3 series de 12")
        goto(page, f"{mine}#{codes['renamed']}")
        expect(page.locator(".row-name")).to_have_text("Bombeo de tobillo")
        goto(page, f"{mine}#{codes['replaced']}")
        expect(page.locator("#refused-why")).to_have_text(
            "Ya no damos el ejercicio Estirar la pantorrilla con una toalla. Lo reemplaza Estirar la pantorrilla en la pared. Pida una lista nueva."
        )
        goto(page, f"{mine}#{codes['withdrawn']}")
        expect(page.locator("#refused-why")).to_have_text(
            "Ya no damos el ejercicio Balanceo del brazo junto a una mesa. No lo haga más. Pida una lista nueva."
        )
        goto(page, f"{clinician}#{codes['withdrawn']}")
        expect(page.locator("#paste-note")).to_have_text(
            "Arm swing, leaning on a table has been withdrawn from the library. Nothing was opened."
        )
        expect(page.locator("#paste-note")).to_be_in_viewport()
        goto(page, f"{clinician}#{codes['dose']}")
        expect(page.locator("#said")).to_contain_text(
            "The library's dose for Heel raise on a chair has changed since this was given."
        )
        goto(page, f"{walk.site.as_uri()}/{walk.sheets.addresses['es/exercises/seated-heel-raise']}")
        expect(page.locator(".old-sheet:visible")).to_be_in_viewport()
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
