"""Read, check and translate a library: everything that a build and a check know before figures are drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from handouts.bases.own_changes import OwnChange, find_own_changes, review_own_changes
from handouts.bases.read import check_base_ledgers, read_standing, with_base_ledgers
from handouts.build.lost_addresses import find_left_languages, find_lost_languages
from handouts.build.settings import Settings
from handouts.build.unwritten import find_unwritten
from handouts.bundle.mark_checks import check_doses, check_marks
from handouts.ledger.check import check_approvals, check_ledger
from handouts.ledger.entries import Ledger, folder_of
from handouts.ledger.history import History, former_doses
from handouts.ledger.read import FILE, read_ledger
from handouts.ledger.stamp import clinic_stamp, stamps_of
from handouts.ledger.update import find_present
from handouts.model import ApprovalRule, Library, OlderTranslations, OwnFace
from handouts.paper.letters import find_missing_letters, find_unwritable
from handouts.paper.own_fonts import read_own_fonts
from handouts.problems import Place, Problem, has_errors, sort_problems
from handouts.rules import check_library
from handouts.rules.lapsed import ReviewedLibrary, sort_by_review
from handouts.rules.withdrawn import without
from handouts.source.bases import read_with_base
from handouts.store.memo import Memo, using
from handouts.tasks.calling import Caller
from handouts.tasks.progress import Stage
from handouts.words.folder import WordsFolder, read_words
from handouts.words.gates import Gap
from handouts.words.messages import Message, collect_messages
from handouts.words.translate import Translation, find_unsaid, keep_older, source_translation, translate_library


@dataclass(frozen=True, slots=True)
class Loaded:
    """A library that was read, checked and translated, with everything found on the way."""

    library: Library | None
    """What may be published: without what is past the clinic's days of grace."""
    translations: tuple[Translation, ...]
    """One for each language that can be published, the source first."""
    problems: tuple[Problem, ...]
    gaps: tuple[tuple[str, Gap], ...] = ()
    """What is not published in a language: a state of the work, not a fault."""
    words: WordsFolder = field(default_factory=WordsFolder)
    history: History = field(default_factory=History)
    stamps: Mapping[str, str] = field(default_factory=dict)
    """Of what may be published (``handouts.ledger.stamp.stamps_of``)."""
    whole: Library | None = None
    """With what is past the days of grace."""
    authored: Library | None = None
    """As its files have it: with what was withdrawn, too."""
    own_changes: tuple[OwnChange, ...] = ()
    """What it has in another way than the library that it stands on."""
    files: Mapping[str, bytes] = field(default_factory=dict)
    """The library's own files."""


def load(settings: Settings, memo: Memo | None = None) -> Loaded:
    """Read, check and translate a library; ``memo`` where the caller asks more of it."""
    with settings.progress.stage("reading, checking and translating") as stage, using(memo, settings.results) as call:
        return _load(settings, stage, call)


def _load(settings: Settings, stage: Stage, call: Caller) -> Loaded:
    name = settings.library.name
    files, problems = read_with_base(settings.library, name, settings.base)
    if problems and not files:
        return Loaded(None, (), tuple(problems))
    library, found = read_standing(files, name, call)
    problems += found
    if library is None:
        return Loaded(None, (), sort_problems(problems))
    own_changes = find_own_changes(library, files)
    library, found = review_own_changes(library, files, own_changes)
    problems += [*found, *check_base_ledgers(files, call)]
    problems += check_library(library, settings.today, call)
    problems += check_marks(library)
    ledger, found = call(read_ledger, files[FILE], f"{name}/{FILE}") if FILE in files else (None, [])
    problems += found
    ledger, gone = with_base_ledgers(ledger, library, files, call)
    authored, library = library, without(library, gone).library
    standing = sort_by_review(library, settings.today)
    history, stamps, found = _read_history(name, ledger, authored, library, standing)
    problems += [*found, *find_unwritten(settings.out, history.ledger, history.present)]
    problems += check_doses(library, former_doses(history.ledger, history.present))
    words, found = read_words(files, library.clinic.languages, name, call)
    fonts, unfit = read_own_fonts(files, library.clinic, name, call)
    problems += [*found, *unfit]
    with_lapsed, library = library, _with_face(standing.library, fonts)
    own = words.interfaces
    if library.language in own:
        library = replace(library, phrases=own[library.language].forms)
    translations, gaps = [replace(source_translation(library), left_out=standing.left_out)], list[tuple[str, Gap]]()
    problems += () if has_errors(problems) else find_unsaid(library, library.language, own.get(library.language), call)
    if not has_errors(problems):
        messages = collect_messages(library)
        stage.of = 1 + len(library.clinic.languages.also)
        for language in library.clinic.languages.also:
            stage.done()
            if unwritable := find_unwritable(library, language, call):
                problems += unwritable
                continue
            translation = _translate(library, language, words, messages, history, call, fonts)
            problems += [problem for problem in translation.problems if problem.rule != "not-in-language"]
            unsaid = find_unsaid(library, language, own.get(language), call)
            problems += unsaid
            # a language without a single exercise has nothing to show; its gaps say why
            whole = translation.library is not None and translation.library.exercises and not unsaid
            translations += [translation] if whole else []
            gaps += [(language, gap) for gap in translation.gaps]
        published = {item.library.language for item in translations if item.library}
        taken_off = library.clinic.taken_off
        problems += find_lost_languages(history.ledger, published, taken_off, Place(f"{name}/clinic.yaml"))
        codes = {f"{item.kind}/{item.slug}": item.code for item in history.present}
        left = [(language, codes.get(f"{gap.kind}/{gap.slug}", ""), gap.title) for language, gap in gaps if not gap.is_left_out]
        problems += find_left_languages(history.ledger, left, published, name)
        problems += dict.fromkeys(problem for item in translations if item.library for problem in find_missing_letters(item.library, call))
    found = list(sort_problems(problems))
    return Loaded(library, tuple(translations), tuple(found), tuple(gaps), words, history, stamps, with_lapsed, authored, own_changes, files)


def _with_face(library: Library, faces: Mapping[str, OwnFace]) -> Library:
    """A library with its own font for its language, where it brings any."""
    return replace(library, face=faces.get(library.language)) if faces else library


def _translate(
    library: Library,
    language: str,
    words: WordsFolder,
    messages: Sequence[Message],
    history: History,
    call: Caller,
    faces: Mapping[str, OwnFace],
) -> Translation:
    """A library in another language, exercises in their last whole version where the clinic wants that, with its own interface."""
    reviews, own = words.reviews.get(language), words.interfaces.get(language)
    translation = translate_library(library, words.catalogues[language], reviews, words.glossary, messages=messages, call=call)
    if library.clinic.review.older is OlderTranslations.SHOW:
        kept = keep_older(
            library, words.catalogues[language], reviews, words.glossary,
            messages=messages, published=history.published_exercises, call=call,
        )  # fmt: skip
        translation = kept or translation
    if translation.library is None:
        return translation
    made = _with_face(translation.library, faces)
    return replace(translation, library=made if own is None else replace(made, phrases=own.forms))


def _read_history(
    name: str, ledger: Ledger | None, authored: Library, whole: Library, standing: ReviewedLibrary
) -> tuple[History, Mapping[str, str], list[Problem]]:
    """What was published before, and what is held back now; the stamps of what may be published; what does not fit."""
    problems: list[Problem] = []
    libraries = (whole,) if standing.library is whole else (whole, standing.library)
    each_stamps = [stamps_of(each) for each in libraries]
    stamps = {item: stamp for each in each_stamps for item, stamp in each.items()}
    present = {item.code: item for each in libraries for item in find_present(each, stamps, ledger)}
    history = History(ledger, tuple(present.values()), standing.held_back, standing.overdue)
    if ledger is not None:
        problems += check_ledger(ledger, history.present, whole.unread, whole.clinic.languages.also)
    if whole.clinic.approval is ApprovalRule.REQUIRED:
        held = {f"{folder_of(item.kind)}/{item.slug}" for item in standing.held_back}
        # as it was approved: without something that was withdrawn since it needs no new approval
        signed = each_stamps[0] if authored is whole else stamps_of(authored)
        out = [item for item in find_present(authored, signed, ledger) if item.item not in held and item.code in history.by_code]
        problems += check_approvals(ledger or Ledger(), out, clinic_stamp(whole), whole.clinic.at("approval"))
    if whole.exercises and not standing.library.exercises:
        what, mend = "the review of every exercise has lapsed, so nothing can be published", "Review the exercises."
        problems.append(Problem(Place(name), "all-lapsed", what, mend))
    return history, each_stamps[-1], problems
