"""``handouts ledger`` and a lapsed review as a clinic meets them on the command line, and old sheets in a browser."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import expect

from handouts.cli import main
from tests.history_pages.making import publish, site_of
from tests.history_pages.test_pages import CHANGED, LAPSED
from tests.site.browser import a_browser
from tests.site.making import write_site
from tests.small_library import texts_with
from tests.test_cli import TODAY, write


def test_a_draft_is_never_published(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The ledger refuses it; the next build in its folder asks for none of its versions, and one without ``--draft`` is another build."""
    library, out = write(tmp_path / "lib"), tmp_path / "out"
    build = ["build", str(library), "--to", str(out), "--no-paper", "--jobs=1", "--quiet", TODAY]
    update = ["ledger", "update", "--library", str(library), "--to", str(out), TODAY]
    assert main([*build, "--draft"]) == 0
    assert main(update) == 2
    assert f"the site in '{out}' is a draft (it was built with --draft), so it was not published." in capsys.readouterr().err
    assert main([*update, "--built"]) == 0
    assert "new, version" not in capsys.readouterr().out
    write(library, texts_with("exercises/foot-lift.md", ("Sit tall.", "Sit very tall.")))
    assert main(build) == 0
    assert "[version-not-in-ledger]" not in capsys.readouterr().err
    assert main(update) == 0


def test_ledger_of_a_published_site(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is written for the site that was built, and says what is new; a library that was not built is refused."""
    library, out = write(tmp_path / "lib"), tmp_path / "out"
    update = ["ledger", "update", "--library", str(library), "--to", str(out), TODAY]
    assert main(update) == 2
    assert "was not built from the library as it stands" in capsys.readouterr().err
    assert not (library / "ledger.yaml").exists()
    assert main(["build", str(library), "--to", str(out), "--no-paper", TODAY]) == 0
    assert main(update) == 0
    assert capsys.readouterr().out.splitlines()[-4:][0].startswith("A222  Foot lift: new, version ")
    assert main(update) == 0
    assert capsys.readouterr().out == "Nothing is new since the ledger was written.\n"
    assert main(["check", str(library), TODAY]) == 0
    write(library, texts_with("exercises/foot-lift.md", ("Sit tall.", "Sit very tall.")))
    capsys.readouterr()
    assert main(["check", str(library), TODAY]) == 0
    assert "3 things are not in the ledger as they stand now: foot-lift, stand-up, first-days." in capsys.readouterr().err
    assert main(update) == 2
    assert main([*update, "--unbuilt"]) == 0
    assert "A222  Foot lift: version " in capsys.readouterr().out
    (library / "exercises/foot-lift.md").unlink()
    main(["check", str(library), TODAY])
    assert "'Foot lift' (A222) was published and is no longer in the library." in capsys.readouterr().err


def test_lapsed_exercise_in_the_report(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A lapsed review holds back its exercise, not the site, and both the build and its report name it."""
    out = tmp_path / "out"
    assert main(["build", str(write(tmp_path / "lib", LAPSED)), "--to", str(out), "--no-paper", TODAY]) == 0
    assert "it is not published. Review the content" in capsys.readouterr().err
    report = json.loads((out / "report.json").read_bytes())
    assert report["held back"] == [{"kind": "exercise", "slug": "foot-lift", "title": "Foot lift", "review ended": "2026-01-10"}]
    assert (out / "site/en/exercises/leg-lift/index.html").exists()
    assert not any("foot-lift" in path.name for path in (out / "site").rglob("*.js"))


def test_everything_lapsed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A library of which nothing may be published is an error; the last good site stays."""
    texts = {path: text.replace("on: 2026-09-14", "on: 2024-09-14") for path, text in LAPSED.items()}
    texts["exercises/foot-lift.md"] = texts["exercises/foot-lift.md"].replace("on: 2025-01-10", "on: 2024-09-14")
    assert main(["check", str(write(tmp_path / "lib", texts)), TODAY]) == 1
    assert "lib:1:1: error: the review of every exercise has lapsed, so nothing can be published." in capsys.readouterr().err


@pytest.mark.browser
def test_an_old_sheet_opens_with_its_notice(tmp_path: Path) -> None:
    """From a folder, without any script: the notice of the version in the address is in view, no other, and none for the present one."""
    ledger = publish()
    old = ledger.by_code["A222"].latest.version
    site = site_of(CHANGED, ledger)
    write_site(site.files, tmp_path)
    with a_browser() as browser:
        page = browser.new_context(java_script_enabled=False).new_page()
        for name in ("exercises/foot-lift", "code/A222"):
            page.goto((tmp_path / f"en/{name}/index.html").as_uri())
            expect(page.locator(".old-sheet:visible")).to_have_count(0)
            page.goto("about:blank")
            page.goto((tmp_path / f"en/{name}/index.html").as_uri() + f"#{old}")
            expect(page.locator(".old-sheet:visible")).to_have_count(1)
            assert page.locator(".old-sheet").bounding_box()["y"] < 400  # type: ignore[index]
            page.goto("about:blank")
            page.goto((tmp_path / f"en/{name}/index.html").as_uri() + f"#{site.stamps['exercises/foot-lift']}")
            expect(page.locator(".old-sheet:visible")).to_have_count(0)
