"""The questions of ``handouts import`` to a person: Enter takes the guess, each answer is kept in the library at once."""

from __future__ import annotations

import sys

from handouts.importers.additions import EMPTY, add_to, asked_for, file_of
from handouts.importers.answers import FILE, LEAVE, NEW, Answers, ImportQuestion, write_answers
from handouts.problems import show_text
from handouts.publishing.author_files import HeldLibrary

LEAST_TOGETHER = 3
"""From this many plain guesses on they are confirmed together."""
MOST_SHOWN = 5
"""How many open questions are shown where nobody can be asked."""


class Asker:
    """Asks on the terminal, or reads answers line by line from a file or a pipe."""

    def __init__(self, held: HeldLibrary, answers: Answers) -> None:
        self.held, self.answers = held, answers
        self.passed: set[tuple[str, str]] = set()
        self.ended = False
        self.told = False

    def ask(self, file: str) -> bool:
        """Ask what is open about a file; whether anything was answered, so that it is taken in again."""
        questions = [each for key, each in self.answers.asked.items() if key not in self.passed]
        if self.ended or not questions:
            return False
        if not self.told:
            print(f"Enter takes what stands in [brackets], {LEAVE} leaves it out, Ctrl+D ends the questions. Answers are kept in {FILE}.")
            self.told = True
        count, questions = self._confirm_together(questions, file)
        for number, question in enumerate(questions, 1):
            try:
                answer = self._ask_one(question, f"{file} {number}/{len(questions)}")
            except EOFError:
                self.ended = True
                print()
                break
            if answer is None:
                self.passed.add((question.topic, question.about))
                continue
            self.answers.add(question, answer)
            count += 1
            self._keep()
        return count > 0

    def _confirm_together(self, questions: list[ImportQuestion], file: str) -> tuple[int, list[ImportQuestion]]:
        """Show all plain guesses at once; how many were confirmed, and what is still to be asked one by one."""
        plain = [each for each in questions if each.is_plain and each.guess]
        if len(plain) < LEAST_TOGETHER:
            return 0, questions
        print(f"\n{show_text(file)}  Is this right? Enter takes all of it; numbers with commas between are asked one by one; {LEAVE} asks each.")
        for number, question in enumerate(plain, 1):
            shown = f"{NEW} a new word" if question.guess == NEW else question.guess
            print(f"  {number:>2}  {show_text(question.about)}  ->  {show_text(shown)}")
        try:
            typed = input("[all] > ").strip()
        except EOFError:
            self.ended = True
            print()
            return 0, []
        doubted = set(range(1, len(plain) + 1)) if typed == LEAVE else {int(part) for part in typed.replace(",", " ").split() if part.isdecimal()}
        sure = [each for number, each in enumerate(plain, 1) if number not in doubted]
        for question in sure:
            answer = self._add(question) if question.guess == NEW else question.guess
            if answer is not None:
                self.answers.add(question, answer)
        self._keep()
        return len(sure), [each for each in questions if each not in sure]

    def _ask_one(self, question: ImportQuestion, where: str) -> str | None:
        """The answer, None where it was passed over."""
        names = list(question.choices)
        print(f"\n{show_text(where)}  {show_text(question.text)}")
        may_add = bool(file_of(question))
        if names:
            print("  " + ", ".join(f"{number} {name}" for number, name in enumerate(names, 1)) + (f"  {NEW} a new one" if may_add else ""))
        if question.choices.get(question.guess):
            print(f"  {show_text(question.guess)}: {show_text(question.choices[question.guess])}")
        while True:
            typed = input(f"[{question.guess}] > ").strip() or question.guess
            if not typed:
                return None
            if typed == NEW and may_add:
                return self._add(question)
            if names:
                typed = ", ".join(_name_of(part.strip(), names) for part in typed.split(",")) if question.several else _name_of(typed, names)
            wrong = self.answers.check(question, typed)
            if not wrong:
                return typed
            print(f"  {show_text(wrong)}. Answer again, or {LEAVE} to leave it out.")

    def _keep(self) -> None:
        found = self.held.read(FILE)
        data = write_answers(self.answers)
        if found is None:
            self.held.add([(FILE, data)])
        else:
            self.held.replace({FILE: data}, {FILE: found})

    def _add(self, question: ImportQuestion) -> str | None:
        """What a person adds to the vocabulary or the cautions, below what stands there."""
        path = file_of(question)
        said: dict[str, str] = {}
        for key, values in asked_for(question).items():
            if key == "call" and said.get("kind") != "stop":
                said[key] = ""
                continue
            while not said.get(key):
                shown = f" ({' or '.join(values)})" if values else ""
                typed = input(f"  {key}{shown} > ").strip()
                named = _name_of(typed, list(values)) if values else typed
                said[key] = named if not values or named in values else ""
        found = self.held.read(path)
        made = add_to(EMPTY[path] if found is None else found.decode("utf-8", "replace"), question, said)
        if made is None:
            print(f"  Add it to {path} by hand, then import again.")
            return None
        self.held.replace({path: made[0].encode()}, {} if found is None else {path: found})
        print(f"  {made[1]} stands in {path} now.")
        return made[1]


def show_waiting(answers: Answers, file: str) -> None:
    """Questions that nobody could be asked, on the error stream."""
    open_ones = list(answers.asked.values())
    if not open_ones:
        return
    count = f"{len(open_ones)} question{'' if len(open_ones) == 1 else 's'} wait"
    print(f"{show_text(file)}: {count}; run it at a terminal, or with --ask:", file=sys.stderr)
    for question in open_ones[:MOST_SHOWN]:
        guess = f" [{question.guess}]" if question.guess else ""
        print(f"  {show_text(question.text)}{show_text(guess)}", file=sys.stderr)


def _name_of(typed: str, names: list[str]) -> str:
    """A name, its number, or the only name that begins so."""
    if typed.isdecimal() and typed not in names and 0 < int(typed) <= len(names):
        return names[int(typed) - 1]
    begun = [name for name in names if name.startswith(typed)]
    return begun[0] if typed not in names and len(begun) == 1 and typed else typed
