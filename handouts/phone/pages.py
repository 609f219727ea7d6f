"""The patient's pages as a part of the site: one page a language, its worker, its manifest, its scripts.

Adds to what the site lays out.  The page is made here already once, because the worker must know its bytes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from posixpath import dirname
from typing import Any

from markupsafe import Markup

from handouts.model import Library, Side
from handouts.phone.details import exercise_figure, exercise_words, write_script
from handouts.phone.install import write_manifest
from handouts.phone.page_data import easier_exercises, make_book, make_later, make_plan_words, phrases_used, words_for
from handouts.phone.picture import description_of, picture_tree
from handouts.phone.view_tree import markup_trees
from handouts.publication.figures import mirrored_for
from handouts.publication.scales import own_scale
from handouts.site.assets import MADE_SCRIPTS, add_asset, pack_style
from handouts.site.context import LanguageSite
from handouts.site.page_frame import WORKER_POLICY, PageFrame, make_frame, make_safety
from handouts.site.paths import list_page, relative
from handouts.site.worker import fonts_of, page_hash, write_worker
from handouts.tasks.calling import Later
from handouts.templating.templates import safe_json, template_environment

OWN_WORKER = "own-worker.js"
"""Path of the worker that keeps no page and leads from any page of the site, without a network, to the patient's own."""
SIDES = (192, 512)
"""Pixels of an icon that phones ask for (web app manifest, installability in Chromium)."""
_ICON: Later[bytes] = Later("handouts.phone.icon", "icon_png", bytes)
FOLDER = "my"
"""Folder of the page below its language; bundle links lead there."""


@dataclass(frozen=True, slots=True)
class MyPage:
    """The patient's page; its script fills it."""

    frame: PageFrame
    book: Markup
    """JSON, ready for an element of the page."""


def my_page(language: str) -> str:
    """The path of the page of a language."""
    return list_page(language, FOLDER)


@dataclass(frozen=True)
class PhonePages:
    """The patient's pages of every language."""

    templates: Mapping[str, str]
    """Page templates by name."""
    first: str
    """The script that shows the list."""
    more: str
    """The script that waits for a tap."""
    show: str
    """The script that shows the log as a code."""
    style: str
    """The style sheet ``phone.css``, of the list."""
    more_style: str
    """The style sheet ``session.css``, of what waits for a tap."""
    worker: str
    """The worker with its blanks."""

    def list_pages(self, library: Library) -> tuple[str, ...]:
        """The paths of the pages that are added for a library."""
        return (my_page(library.language),)

    def make(self, settings: tuple[LanguageSite, ...], files: dict[str, bytes]) -> dict[str, tuple[str, partial[Any]]]:
        """For each page its template and what makes its view; everything else is added to ``files``."""
        named = (("phone", self.first), ("phone-more", self.more), ("phone-show", self.show))
        script, more, show = (add_asset(files, name, "js", text) for name, text in named)
        sign = files[settings[0].assets.icon].decode()
        icons = {side: add_asset(files, f"icon-{side}", "png", settings[0].edition.call(_ICON, sign, side)) for side in SIDES}
        environment = template_environment(self.templates)
        at_once = phrases_used(self.first)
        later = tuple(name for name in phrases_used(self.more + self.show) if name not in at_once)
        files[OWN_WORKER] = write_worker(self.worker, {}, [], {}).encode()
        makers: dict[str, tuple[str, partial[Any]]] = {}
        for setting in settings:
            page = my_page(setting.language)
            style = add_asset(files, "phone", "css", setting.assets.frame_style + pack_style(self.style))
            later_style = add_asset(files, "session", "css", setting.assets.figure_style + pack_style(self.more_style))
            places = self._add_exercises(setting, files)
            words = add_asset(files, f"phone-words.{setting.language}", "js", self._write_later(setting, later, _seen(page, places)))
            book = _book(setting, settings, places) | {
                "words": words_for(setting.wording, at_once),
                "more": relative(page, more),
                "later": relative(page, words),
                "show": relative(page, show),
                "style": relative(page, later_style),
            }
            view = _make_view(setting, style, script, book)
            rendered = environment.get_template("my.html").render(view=view, say=setting.wording.say).encode()
            shell = (
                setting.assets.icon,
                style,
                later_style,
                script,
                more,
                show,
                words,
                *fonts_of(setting.assets.frame_style, setting.language, files),
            )
            media = {
                exercise.code: [
                    relative(page, path)
                    for slug in (exercise.slug, *easier_exercises(setting, exercise.slug))
                    for path in places[slug].values()
                ]
                for exercise in setting.library.exercises
            }
            home = relative(page, page)
            worker = write_worker(
                self.worker, {home: page_hash(rendered)}, [home, *(relative(page, path) for path in shell)], media
            )
            files[f"{dirname(page)}/worker.js"] = worker.encode()
            files[f"{dirname(page)}/manifest.webmanifest"] = _manifest(setting, sign, icons).encode()
            makers[page] = ("my.html", partial(_given, view))
        return makers

    def _write_later(self, setting: LanguageSite, names: tuple[str, ...], places: Mapping[str, Mapping[str, str]]) -> str:
        """What waits for a tap, in one language: phrases, what is known of each exercise, and the views that are hidden before."""
        say, page = setting.wording.say, my_page(setting.language)
        safety = make_safety(setting, page, "#stop")
        template, scale = template_environment(self.templates).get_template("my-later.html"), own_scale(setting.library.clinic)
        views = template.render(safety=safety, say=say, scale=scale)
        return (
            write_script("handoutsWords", "more", words_for(setting.wording, names)["forms"])
            + write_script("handoutsWords", "exercises", make_later(setting, places))
            + write_script("handoutsWords", "views", markup_trees(views))
            + write_script("handoutsWords", "plan", make_plan_words(setting, page))
        )

    def _add_exercises(self, setting: LanguageSite, files: dict[str, bytes]) -> dict[str, dict[str, str]]:
        """Where the picture, the words and the figure of each exercise are, by slug, from the root of the site.

        Languages read from one side share a figure's file: it holds no words.
        """
        found = {}
        for exercise in setting.library.exercises:
            slug = exercise.slug
            words, _, figure = setting.edition.reads(_write_exercise, setting, slug).partition(b"\0")
            found[slug] = {
                "picture": setting.panels[slug],
                "words": add_asset(files, f"exercise-{slug}.{setting.language}", "js", words),
                "figure": add_asset(files, f"movement-{slug}", "js", figure),
            }
        return found


def _write_exercise(setting: LanguageSite, slug: str) -> bytes:
    """The scripts with the words and the figure of an exercise, parted by a character that no script holds."""
    exercise = setting.library.exercise[slug]
    tree = picture_tree(str(setting.figures.figure_svg(exercise, setting.language)))
    words = exercise_words(exercise, setting.library, setting.wording) | {
        "shown": description_of(tree),
        "note": setting.figures.figure_note(exercise, setting.language),
    }
    mirror = mirrored_for(setting.figures.shown_side(exercise))
    if mirror is not None and exercise.dose.side is not Side.TOGETHER:
        words["mirrored"] = description_of(picture_tree(str(setting.figures.figure_svg(exercise, setting.language, mirror))))
    figure = exercise_figure(tree, setting.figures.motion(exercise))
    scripts = (("handoutsExercises", words), ("handoutsFigures", figure))
    return "\0".join(write_script(name, exercise.code, value) for name, value in scripts).encode()


def read_phone_pages(files: Mapping[str, bytes]) -> PhonePages:
    """The pages from the files of the ``templates`` folder, by their path in it."""
    text = {path: data.decode() for path, data in files.items() if path.startswith(("pages/", "scripts/"))}
    return PhonePages(
        templates={path.removeprefix("pages/"): value for path, value in text.items() if path.startswith("pages/")},
        first=text[f"{MADE_SCRIPTS}phone.js"],
        more=text[f"{MADE_SCRIPTS}phone-more.js"],
        show=text[f"{MADE_SCRIPTS}phone-show.js"],
        style=files["styles/phone.css"].decode(),
        more_style=files["styles/session.css"].decode(),
        worker=text["scripts/worker.js"],
    )


def _given(view: MyPage) -> MyPage:
    return view


def _book(setting: LanguageSite, settings: tuple[LanguageSite, ...], places: Mapping[str, Mapping[str, str]]) -> dict[str, Any]:
    page = my_page(setting.language)
    tongues = {other.language: relative(page, my_page(other.language)) for other in settings}
    return make_book(setting, _seen(page, places)) | {"tongues": tongues}


def _seen(page: str, places: Mapping[str, Mapping[str, str]]) -> dict[str, dict[str, str]]:
    """The places as addresses from a page."""
    return {slug: {name: relative(page, path) for name, path in named.items()} for slug, named in places.items()}


def _make_view(setting: LanguageSite, style: str, script: str, book: Mapping[str, Any]) -> MyPage:
    say, page = setting.wording.say, my_page(setting.language)
    frame = make_frame(setting, page, say("phone.title"), say("phone.intro"), stop="#stop", own=True, dated=True)
    return MyPage(
        frame=replace(frame, policy=WORKER_POLICY, style=relative(page, style), scripts=(relative(page, script),)),
        book=Markup(safe_json(book)),
    )


def _manifest(setting: LanguageSite, sign: str, icons: Mapping[int, str]) -> str:
    title, page = setting.wording.say("phone.title"), my_page(setting.language)
    colour = sign.partition('fill="')[2].partition('"')[0]
    return write_manifest(
        name=setting.wording.say("site.page_title", title=title, clinic=setting.library.clinic.name),
        short_name=title,
        language=setting.language,
        direction=setting.wording.direction,
        colour=colour,
        icons={side: relative(page, path) for side, path in icons.items()},
    )
