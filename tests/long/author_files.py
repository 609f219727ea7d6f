"""Commands that write files of authors, disturbed: ``python tests/long/author_files.py [COUNT]``, 1,000 of each by default.

Each command on a small library in memory: killed (SIGKILL) before a step on the disk, at any moment of the clock, with an
error in place of a step (no room, a faulty disk, no permission), and ten at once, of which some are killed.  A file must
have its old bytes or its new ones, whole; whatever said done must be kept; a refusal must be one problem with a mend; and
the next command must leave nothing behind.  Ends with 1 where anything else was found.  What is tried follows from a seed.
"""

from __future__ import annotations

import contextlib
import errno
import io
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.cli import main as handouts
from handouts.ledger.read import read_ledger
from handouts.publishing.author_files import LEFT
from handouts.score.answers import read_answers
from handouts.words.catalogue import write_catalogue
from handouts.words.reviews import read_reviews
from tests.faults.layer import TAKES_ROOM, Layer, Step, Watch
from tests.faults.publishing import memory
from tests.small_library import small_library, texts_with
from tests.words.sample import translated

SEED = 2026
TODAY = "--today=2026-11-25"
ITEMS, CODES = ("P2", "P4", "P16", "P18", "C6"), ("A222", "B222")
OWNERS = ("tier/live", "exercise/B222", "caution/go-slow", "clinic", "tier/build", "tier/wake")
ERRORS = (errno.ENOSPC, errno.EDQUOT, errno.EIO, errno.EACCES, errno.EROFS)
WRITTEN = ("score.yaml", "ledger.yaml", "words/es.po", "words/es.reviews.yaml", "../out.xlf")
GIVEN_UP = 2
"""Status of a command that could not run."""


@dataclass(frozen=True, slots=True)
class Room:
    """A library, with what its files were at the beginning."""

    root: Path
    before: dict[str, bytes]

    @property
    def library(self) -> Path:
        """The library."""
        return self.root / "lib"

    def reset(self) -> None:
        """Everything as at the beginning."""
        shutil.rmtree(self.library, ignore_errors=True)
        for path, data in self.before.items():
            target = self.library / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)

    def now(self) -> dict[str, bytes | None]:
        """Every file that a command may write, as it is."""
        return {path: (self.library / path).read_bytes() if (self.library / path).exists() else None for path in WRITTEN}

    def left(self) -> list[str]:
        """What lies about."""
        return sorted(path.name for path in self.root.rglob("*") if LEFT.fullmatch(path.name) or path.name == ".lock")

    def score(self, item: str = "P2", code: str = "A222") -> list[str]:
        """Keep an answer."""
        given = ["--answer", f"{item}=yes", "--code", code, "--language", "en", "--by", "health literacy reviewer"]
        return ["score", str(self.library), "--to", str(self.root / "out"), *given, TODAY]

    def review(self, owner: str = OWNERS[0]) -> list[str]:
        """Keep a review."""
        return ["words", "review", "es", owner, "--by", "translator", "--on", "2026-11-25", "--library", str(self.library)]

    def ledger(self) -> list[str]:
        """Write down what is published."""
        return ["ledger", "update", str(self.library), "--to", str(self.root / "out"), "--unbuilt", TODAY]

    def collect(self) -> list[str]:
        """Gather texts."""
        return ["words", "collect", str(self.library), "--to", str(self.root / "out"), "--jobs", "1"]

    def export(self) -> list[str]:
        """A file for a translation office."""
        return ["words", "export", "es", str(self.library / "../out.xlf"), "--library", str(self.library), "--replace"]

    def acts(self) -> dict[str, list[str]]:
        """One of each command."""
        return {"score": self.score(), "review": self.review(), "ledger": self.ledger(), "collect": self.collect(), "export": self.export()}


@contextlib.contextmanager
def a_room() -> Iterator[Room]:
    """A library in memory that has a ledger, answers, a catalogue and reviews already, and a text that changed since."""
    texts = texts_with("clinic.yaml", ("languages: {source: en}", "languages: {source: en, also: [es]}"))
    texts["words/es.po"] = write_catalogue(translated(small_library(texts))).decode()
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        room = Room(Path(folder), {path: text.encode() for path, text in texts.items()})
        room.reset()
        for words in (room.score("P4", "B222"), room.review(OWNERS[1]), room.ledger(), room.export()):
            if status := run(words)[0]:
                raise RuntimeError(f"{words} ended with {status}: {run(words)[1]}")
        changed = room.library / "exercises/foot-lift.md"
        changed.write_bytes(changed.read_bytes().replace(b"Sit tall.", b"Sit very tall."))
        run(room.collect())
        catalogue = room.library / "words/es.po"
        catalogue.write_bytes(catalogue.read_bytes().replace(b"#, fuzzy\n", b""))
        changed.write_bytes(changed.read_bytes().replace(b"title: Foot lift", b"title: Foot raise"))
        files = (path for path in room.library.rglob("*") if path.is_file())
        yield Room(room.root, {path.relative_to(room.library).as_posix(): path.read_bytes() for path in files})


def run(words: list[str]) -> tuple[int, str]:
    """A command in this process: its status (70 where it raised) and what it said as an error."""
    said = io.StringIO()
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(io.StringIO()):
        try:
            status = handouts([*words, "--quiet"])
        except Exception as error:
            return 70, repr(error)
    return status, said.getvalue()


def child(act: Callable[[], int]) -> int:
    """A process that acts; its number."""
    number = os.fork()
    if number == 0:
        status = 70
        try:
            status = act()
        finally:
            os._exit(status)
    return number


def end(number: int) -> int:
    """The status of a process; negative where a signal ended it."""
    return os.waitstatus_to_exitcode(os.waitpid(number, 0)[1])


def after(room: Room, name: str, wanted: dict[str, bytes | None], seen: dict[str, bytes | None]) -> list[str]:
    """What is wrong with the files now, and after the next command."""
    now = room.now()
    faults = [f"{path} is neither old nor new" for path in WRITTEN if now[path] not in (seen[path], wanted[path])]
    status, said = run(room.acts()[name])
    if status:
        faults.append(f"the next command ended with {status}: {said}")
    if room.now() != wanted:
        faults.append("the next command gave other bytes")
    left = room.left() if name != "export" else []  # beside a file outside a library nobody tidies: others may be at work there
    return faults + [f"left over: {each}" for each in left]


def disturb(room: Room, name: str, watch: Watch) -> int:
    """A command in a process of its own, with a watcher over its steps."""

    def act() -> int:
        with Layer(room.root, watch).over():
            return run(room.acts()[name])[0]

    return end(child(act))


def count_steps(room: Room, name: str) -> int:
    """How many steps a command takes on the disk, all being well."""
    layer = Layer(room.root, lambda *_: None)
    with layer.over():
        run(room.acts()[name])
    return layer.steps


def kills(room: Room, count: int, chance: random.Random) -> tuple[int, int]:
    """Killed before a step, or at any moment: how many, and after how many something was wrong."""
    plans = plan(room)
    done = wrong = 0
    while done < count:
        name = chance.choice(list(plans))
        steps, seconds, seen, wanted = plans[name]
        room_reset(room)
        if chance.random() < 0.7:
            number = chance.randrange(steps)

            def watch(index: int, step: Step, number: int = number) -> None:
                if index == number:
                    os.kill(os.getpid(), signal.SIGKILL)

            what = f"before step {number} of {steps}"
            if disturb(room, name, watch) != -signal.SIGKILL:
                continue
        else:
            moment = chance.random() * seconds
            what = f"after {moment:.3f} s of {seconds:.3f}"
            process = child(lambda name=name: run(room.acts()[name])[0])
            time.sleep(moment)
            os.kill(process, signal.SIGKILL)
            end(process)
        faults = after(room, name, wanted, seen)
        if faults:
            print(f"{name}, killed {what}: {'; '.join(faults)}")
        done, wrong = done + 1, wrong + bool(faults)
    return done, wrong


def room_reset(room: Room) -> None:
    """The library as at the beginning, and nothing beside it."""
    room.reset()
    for path in room.root.iterdir():
        if path.is_file():
            path.unlink()


def plan(room: Room) -> dict[str, tuple[int, float, dict[str, bytes | None], dict[str, bytes | None]]]:
    """For each command its steps, its seconds, and the files before it and after it."""
    found = {}
    for name, words in room.acts().items():
        room_reset(room)
        run(words)
        room_reset(room)
        seen, began = room.now(), time.monotonic()
        run(words)
        seconds, wanted = time.monotonic() - began, room.now()
        room_reset(room)
        found[name] = (count_steps(room, name), seconds, seen, wanted)
    return found


def errors(room: Room, count: int, chance: random.Random) -> tuple[int, int]:
    """An error in place of a step, once or from there on: how many, and after how many something was wrong."""
    plans = plan(room)
    done = wrong = 0
    while done < count:
        name, number, lasting = chance.choice(list(plans)), chance.choice(ERRORS), chance.random() < 0.5
        steps, _, seen, wanted = plans[name]
        at = chance.randrange(steps)
        room_reset(room)

        def watch(index: int, step: Step, at: int = at, number: int = number, lasting: bool = lasting) -> None:
            if index == at or (lasting and index > at and step.kind in TAKES_ROOM):
                raise OSError(number, os.strerror(number))

        with Layer(room.root, watch).over():
            status, said = run(room.acts()[name])
        faults = [] if status in (0, GIVEN_UP) else [f"ended with {status}: {said}"]
        if status == GIVEN_UP and (said.count("\n") != 2 or "[cannot-write]" not in said):
            faults.append(f"odd message: {said}")
        if status == 0 and room.now() != wanted:
            faults.append("said done, and it is not")
        faults += after(room, name, wanted, seen)
        if faults:
            print(f"{name}, {errno.errorcode[number]} at step {at} of {steps}: {'; '.join(faults)}")
        done, wrong = done + 1, wrong + bool(faults)
    return done, wrong


def at_once(room: Room, count: int, chance: random.Random) -> tuple[int, int]:
    """Ten commands at one time, in every third group one is killed: how many, and in how many groups something was wrong."""
    done = wrong = 0
    while done < count:
        room_reset(room)
        answers = [(item, code) for item in ITEMS for code in CODES]
        chosen: list[tuple[str, str, list[str]]] = [
            *(("answer", f"{item} {code}", room.score(item, code)) for item, code in chance.sample(answers, 4)),
            *(("review", owner, room.review(owner)) for owner in chance.sample(OWNERS, 4)),
            ("ledger", "", room.ledger()),
            ("collect", "", room.collect()),
        ]
        chance.shuffle(chosen)
        processes = [child(lambda words=words: run(words)[0]) for _, _, words in chosen]
        if chance.random() < 1 / 3:
            time.sleep(chance.random())
            with contextlib.suppress(ProcessLookupError):
                os.kill(chance.choice(processes), signal.SIGKILL)
        ends = [end(process) for process in processes]
        said_done = {(kind, key) for (kind, key, _), status in zip(chosen, ends, strict=True) if status == 0}
        faults = [f"{kind} {key} ended with {status}" for (kind, key, _), status in zip(chosen, ends, strict=True) if status not in (0, GIVEN_UP, -signal.SIGKILL)]
        kept, broken = what_is_kept(room)
        faults += broken + [f"lost: {kind} {key}" for kind, key in sorted(said_done) if kind in ("answer", "review") and (kind, key) not in kept]
        for words in (room.collect(), room.ledger(), room.score(), room.review()):
            if status := run(words)[0]:
                faults.append(f"the next {words[0]} ended with {status}")
        faults += [f"left over: {each}" for each in room.left()]
        if faults:
            print(f"ten at once: {'; '.join(faults)}")
        done, wrong = done + len(chosen), wrong + bool(faults)
    return done, wrong


def what_is_kept(room: Room) -> tuple[set[tuple[str, str]], list[str]]:
    """Answers and reviews in the files, and which file cannot be read."""
    now = room.now()
    answers, found = read_answers(now["score.yaml"] or b"", "score.yaml")
    reviews, more = read_reviews(now["words/es.reviews.yaml"] or b"", "es.reviews.yaml")
    _, others = read_ledger(now["ledger.yaml"] or b"", "ledger.yaml")
    kept = {("answer", f"{each.item} {each.code}") for each in answers} | {("review", owner) for owner in reviews}
    return kept, [f"cannot be read: {problem.place} {problem.what}" for problem in (*found, *more, *others)]


def main() -> int:
    """Runs all three, and prints what it counted."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    wrong_in_all = 0
    with a_room() as room:
        for name, trial in (("kills", kills), ("errors of the disk", errors), ("commands at once", at_once)):
            began = time.monotonic()
            done, wrong = trial(room, count, random.Random(SEED))
            wrong_in_all += wrong
            print(f"{done} {name}: {wrong} wrong, {time.monotonic() - began:.0f} s", flush=True)
    return 1 if wrong_in_all else 0


if __name__ == "__main__":
    sys.exit(main())
