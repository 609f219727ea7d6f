"""``handouts bundle``: one bundle as a PDF, as text for the chart, as FHIR, or its link as a QR code."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from handouts.build.loading import Loaded, load
from handouts.build.pipeline import draw, edition_of
from handouts.build.settings import Settings
from handouts.bundle.catalogue import cue_mark, given_codes
from handouts.bundle.chart import ChartNotes, chart_text
from handouts.bundle.checks import check_picks, say_findings
from handouts.bundle.code import MOST_CHARACTERS, decode_bundle, encode_bundle
from handouts.bundle.fhir import fhir_plan
from handouts.bundle.former_code import CODE_DIGITS
from handouts.bundle.given import given_items
from handouts.bundle.link import patient_link, qr_parts
from handouts.bundle.origins import begun_from
from handouts.bundle.past import catalogue_with_past
from handouts.bundle.refusals import say_refusal
from handouts.bundle.values import Origin, PickedBundle, Refusal
from handouts.clinician.document import picked_beside, picked_document, picked_setting
from handouts.commands.options import add_library, add_out, add_replace
from handouts.commands.output import Output
from handouts.commands.report import CANNOT_RUN, DONE, HAS_PROBLEMS, print_problems
from handouts.model import Library
from handouts.paper.laying import lay_out_document
from handouts.paper.qr_code import draw_code
from handouts.problems import has_errors, suggest
from handouts.words.wording import Wording


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("bundle", help="a code, a link, a file that holds one, or the name of a ready-made bundle")
    add_library(parser, alone=False)
    add_out(parser, "folder of the PDF")
    add_replace(parser)
    parser.add_argument("--language", default="", help="language of the sheets (default: the code's)")
    parser.add_argument("--paper", default="", help="letter or a4 (default: the clinic's first)")
    parser.add_argument("--size", default="", help="standard or large (default: the clinic's first)")
    parser.add_argument("--full", action="store_true", help="each exercise on a page of its own (default: several on a page)")
    parser.add_argument("--folded", action="store_true", help="a booklet to fold, in standard type: print on both sides, flip on the short edge")
    parser.add_argument("--beside", action="store_true", help="each exercise with the library's own language beside it")
    given = "hand a test or a leaflet over with it (may be given again)"
    parser.add_argument("--with", dest="beside_it", action="append", default=[], metavar="NAME", help=given)
    parser.add_argument("--chart", action="store_true", help="print the text for the chart instead")
    parser.add_argument("--fhir", action="store_true", help="print a FHIR R5 PlanDefinition without a patient instead")
    parser.add_argument("--svg-qr", action="store_true", help="print the QR code of the patient's link as SVG instead")


@dataclass(frozen=True, slots=True)
class Chosen:
    """A bundle that can be printed: its picks, its code, and all that was loaded with it."""

    picked: PickedBundle
    code: str
    loaded: Loaded
    source: Library
    library: Library
    """The library in the bundle's language."""


def run(arguments: argparse.Namespace) -> int:
    """Print a bundle in the form that was asked for."""
    settings = Settings.of(arguments)
    loaded = load(settings)
    if loaded.library is None or has_errors(loaded.problems):
        print_problems(loaded.problems)
        return HAS_PROBLEMS
    chosen = _choose(arguments, loaded, loaded.library)
    if isinstance(chosen, str):
        print(f"handouts: {chosen}", file=sys.stderr)
        return CANNOT_RUN
    wording = Wording.of(chosen.source)
    if arguments.chart:
        print(_chart(chosen, wording))
    elif arguments.fhir:
        plan = fhir_plan(chosen.picked, chosen.code, chosen.source, wording, stamps=_stamps(chosen))
        print(json.dumps(plan, ensure_ascii=False, indent=2))
    elif arguments.svg_qr:
        link = patient_link(chosen.source.clinic, chosen.picked.language, chosen.code)
        print(draw_code(qr_parts(link), wording.say("paper.code_alt", address=link)))
    else:
        return _print_pdf(chosen, arguments, settings)
    return DONE


def _choose(arguments: argparse.Namespace, loaded: Loaded, source: Library) -> Chosen | str:
    """The bundle that was asked for, or why it cannot be printed."""
    catalogue, wording, clinic = catalogue_with_past(source, loaded.history), Wording.of(source), source.clinic
    wanted = _read_argument(arguments.bundle)
    ready = next((bundle for bundle in source.bundles if bundle.slug == wanted), None)
    if ready is not None:
        begun = Origin("bundle", ready.slug)
        given, rest = given_codes(ready, source), ready.round_rest_seconds or 0
        picked = PickedBundle(source.language, clinic.locations[0].slug, ready.weeks, ready.picks, begun, cue_mark(ready.cue), rest, given)
    else:
        opened = decode_bundle(wanted, catalogue)
        if isinstance(opened, Refusal):
            names = [bundle.slug for bundle in source.bundles]
            hint = f" Ready-made bundles: {', '.join(names)}." if wanted.islower() and names else ""
            return say_refusal(opened, source, wording) + hint
        picked = opened.bundle
    if arguments.language:
        picked = replace(picked, language=arguments.language)
    for name in arguments.beside_it:
        found = _code_to_give(name, source)
        if len(found) != CODE_DIGITS:
            return found
        picked = replace(picked, given=tuple(dict.fromkeys((*picked.given, found))))
    libraries = {item.library.language: item.library for item in loaded.translations if item.library}
    if picked.language not in libraries:
        return f"there is no language '{picked.language}' to print in. {suggest(picked.language, libraries)}"
    library = libraries[picked.language]
    missing = [pick.exercise.slug for pick in picked.picks if pick.exercise.slug not in library.exercise]
    if missing:
        return f"not translated into '{picked.language}' yet: {', '.join(missing)}"
    origin = picked.origin
    if begun_from(origin, library).lost and not begun_from(origin, source).lost:
        what = origin.slug if origin else ""
        return f"'{what}', from which this was begun, is not published in '{picked.language}': its cautions would be missing"
    there = {item.slug for item in library.vocabulary.substitutes}, {item.code for _, item in given_items(picked, library)}
    unsaid = [ref.slug for pick in picked.picks for ref in pick.substitutes if ref.slug not in there[0]]
    unsaid += [item.slug for _, item in given_items(picked, source) if item.code not in there[1]]
    if unsaid:
        return f"not translated into '{picked.language}' yet: {', '.join(unsaid)}"
    code = encode_bundle(picked, catalogue)
    if isinstance(code, Refusal):
        return say_refusal(code, source, wording)
    return Chosen(picked, code, loaded, source, library)


def _code_to_give(name: str, source: Library) -> str:
    """The code of a test or a leaflet by its name or code; else why it is not handed over."""
    if any(item.slug == name for item in (*source.lessons, *source.classes)):
        return f"'{name}' is for clinicians: lessons and classes are not handed over."
    known = {item.slug: item.code for item in (*source.leaflets, *source.tests)}
    return known.get(name) or next((code for code in known.values() if code == name), f"there is no test or leaflet '{name}'. {suggest(name, known)}")


def _read_argument(text: str) -> str:
    """The code, link or name; from a file where there is one."""
    path = Path(text) if len(text) < 200 else None
    if path is None or not path.is_file():
        return text
    if path.suffix in (".yaml", ".yml"):
        return path.stem
    with path.open(encoding="utf-8", errors="replace") as stream:
        return stream.read(MOST_CHARACTERS + 1).strip()


def _chart(chosen: Chosen, wording: Wording) -> str:
    source, picked = chosen.source, chosen.picked
    findings = check_picks([pick.exercise.slug for pick in picked.picks], source)
    notes = ChartNotes(findings=say_findings(findings, source, wording))
    return chart_text(picked, chosen.code, source, wording, stamps=_stamps(chosen), notes=notes)


def _stamps(chosen: Chosen) -> Mapping[str, str]:
    """The versions as sheets in the patient's language carry them."""
    edition = edition_of(chosen.loaded, False).in_language(chosen.picked.language)
    return {**edition.versions, "": edition.version}


def _print_pdf(chosen: Chosen, arguments: argparse.Namespace, settings: Settings) -> int:
    """Lays the bundle out and writes it; its name ends with the check of the code."""
    clinic = chosen.source.clinic
    paper, size = arguments.paper or clinic.papers[0], arguments.size or clinic.type_sizes[0]
    for word, known in ((paper, ("letter", "a4")), (size, ("standard", "large"))):
        if word not in known:
            print(f"handouts: '{word}' is not known here. {suggest(word, known)}", file=sys.stderr)
            return CANNOT_RUN
    if arguments.beside and chosen.library.language == chosen.source.language:
        print("handouts: --beside is for a bundle in another language; name one with --language.", file=sys.stderr)
        return CANNOT_RUN
    if arguments.folded and (arguments.beside or arguments.size == "large"):
        print("handouts: --folded prints one language in standard type; leave out --beside and --size large.", file=sys.stderr)
        return CANNOT_RUN
    picked = tuple(chosen.source.exercise[pick.exercise.slug] for pick in chosen.picked.picks)
    figure_source, _ = draw(replace(chosen.loaded, library=replace(chosen.source, exercises=picked)), settings)
    edition = edition_of(chosen.loaded, False)
    setting, source = (
        picked_setting(chosen.picked, library, Wording.of(library), figure_source.for_paper(), edition).on(paper, size)
        for library in (chosen.library, chosen.source)
    )
    if arguments.beside:
        document = picked_beside(setting, source, chosen.picked)
    else:
        document = picked_document(setting, chosen.picked, chosen.code, full=arguments.full, folded=arguments.folded)
    with settings.progress.stage("laying out the PDF"):
        laid = lay_out_document(document)
    print_problems(laid.problems)
    if not laid.pdf:
        return HAS_PROBLEMS
    beside = f"-with-{source.language}" if arguments.beside else "-full" if arguments.full else ""
    look = "folded" if arguments.folded else f"{size}{beside}"
    name = f"bundle-{chosen.code[-7:]}-{paper}-{look}.pdf"
    Output.of(settings, arguments.replace).write(settings.out / name, laid.pdf)
    print(settings.out / name)
    return DONE
