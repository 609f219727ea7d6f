"""The instruments: published check values, each item that a program decides with a text that fails it, persons' answers."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.model import Block, Exercise, Section, Span
from handouts.score.answers import PersonAnswer, read_answers, with_answers, write_answers
from handouts.score.items import CLEAR, ITEMS, UNDERSTANDABLE, Answer, Decision, add_up, answer_dependents
from handouts.score.judge import judge
from handouts.score.material import Material
from handouts.score.sheet import ScoredSheet, read_sheet, scale_ends
from handouts.words.wording import Wording
from tests.builders import a_caution, a_dose, a_library, an_exercise, words
from tests.small_library import TEXTS
from tests.test_cli import TODAY, write

YES, NO, NA, WAITS = Answer.YES, Answer.NO, Answer.NOT_APPLICABLE, Answer.WAITS


def all_of(part: str, **others: Answer) -> list[Decision]:
    """A yes to every item of a part but those given; to the reversed item a no, which is its point."""
    usual = {name: NO if name == "C17" else YES for name, item in ITEMS.items() if item.part == part}
    return [Decision(name, answer, "") for name, answer in (usual | others).items()]


def percent(part: str, **others: Answer) -> float | None:
    return next(total.percent for total in add_up(all_of(part, **others)) if total.part == part)


def test_pemat_check_value() -> None:
    """15 of 16 applicable items are 93.75 percent (sheet without tables, AHRQ 14-0002-EF, scoring)."""
    assert percent(UNDERSTANDABLE, P19=NA, P5=NO) == 93.75
    assert sum(item.part == UNDERSTANDABLE for item in ITEMS.values()) == 17
    assert sum(item.part == "actionability" for item in ITEMS.values()) == 7


@pytest.mark.parametrize(("lost", "wanted"), [({"C11": NO}, 94.1), ({"C11": NO, "C16": NO}, 88.2)])
def test_index_check_values(lost: dict[str, Answer], wanted: float) -> None:
    """Without a part on risk 17 items apply: 16 of them are 94.1 and pass 90, 15 are 88.2 (CDC 2014, score sheet)."""
    found = percent(CLEAR, C18=NA, C19=NA, C20=NA, **lost)
    assert found is not None
    assert round(found, 1) == wanted


def test_arithmetic_for_the_reader_gives_no_point() -> None:
    """Item 17 is turned round: a yes takes its point away."""
    (total,) = [total for total in add_up(all_of(CLEAR, C17=YES)) if total.part == CLEAR]
    assert (total.points, total.applicable) == (19, 20)
    assert percent(CLEAR) == 100


def test_without_a_main_message_four_items_are_lost() -> None:
    """Items 2, 3, 4 and 6 are no where item 1 is; 6 also where item 5 is."""
    assert [each.item for each in answer_dependents(all_of(CLEAR, C1=NO)) if each.answer is NO] == ["C1", "C2", "C3", "C4", "C6", "C17"]
    assert [each.item for each in answer_dependents(all_of(CLEAR, C5=NO)) if each.answer is NO] == ["C5", "C6", "C17"]


def test_waiting_answers_leave_bounds() -> None:
    """15 of 17 items answered yes and two waiting: 88.2 if both are no, 100 if both are yes (CDC 2014, score sheet: 15 of 17)."""
    (total,) = [each for each in add_up(all_of(CLEAR, C7=WAITS, C16=WAITS, C18=NA, C19=NA, C20=NA)) if each.part == CLEAR]
    assert total.bounds is not None
    assert [round(each, 1) for each in total.bounds] == [88.2, 100.0]


def test_form_there_and_back(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What waits is written as a form; what was filled in is kept with role and day, and counts; the rest goes on waiting."""
    library, form = write(tmp_path / "lib"), tmp_path / "form.csv"
    command = ["score", str(library), "--to", str(tmp_path / "out"), TODAY]
    assert main([*command, "--form", str(form)]) == 0
    assert "questions on 2 exercises. Answer yes, no or n/a, then:" in capsys.readouterr().out
    lines = form.read_text(encoding="utf-8-sig").splitlines()
    assert lines[0] == "language,code,title,item,question,what the program sees,version,answer"
    row = next(at for at, line in enumerate(lines) if line.startswith("en,A222,Foot lift,P2,"))
    lines[row] += "Yes"
    form.write_text("\n".join(lines))
    assert main([*command, "--filled", str(form)]) == 2
    assert "say who answers, as a role" in capsys.readouterr().err
    assert main([*command, "--filled", str(form), "--by", "health literacy reviewer"]) == 0
    assert "1 answers by health literacy reviewer" in capsys.readouterr().out
    assert main([*command, "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)["scores"]
    (item,) = [item for row in rows if row["code"] == "A222" for item in row["items"] if item["item"] == "P2"]
    assert (item["answer"], item["by"]) == ("yes", "health literacy reviewer, 2026-11-25")
    assert main([*command, "--form", str(form), "--replace"]) == 0
    assert len(form.read_text().splitlines()) == len(lines) - 1


@pytest.mark.parametrize(("text", "said"), [
    (b"a,b\n1,2\n", "form.csv:1:1: error: this is not a form of questions."),
    (b"language,code,title,item,question,what the program sees,version,answer\nen,A222,x,P2,q,e,ABC234,maybe\n", "form.csv:2:1: error: 'maybe' is no answer to 'P2'."),
    (b"\xff\xfe\x00", "form.csv:1:1: error:"),
])  # fmt: skip
def test_form_that_is_none(text: bytes, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is refused with its row, and no answer of it is kept."""
    library, form = write(tmp_path / "lib"), tmp_path / "form.csv"
    form.write_bytes(text)
    assert main(["score", str(library), "--filled", str(form), "--by", "reviewer", TODAY]) == 1
    assert said in capsys.readouterr().err
    assert not (library / "score.yaml").exists()


def test_waiting_items_are_not_counted() -> None:
    """What a person must decide is neither a point nor a loss."""
    (total,) = [total for total in add_up(all_of(CLEAR, C11=WAITS)) if total.part == CLEAR]
    assert (total.points, total.applicable, total.waiting) == (19, 19, 1)


SHEET = ScoredSheet(
    before="Standing Step-up", first=True, dose="3 sets Effort: 0 rest, 10 your most.", pain="Up to 3 out of 10. (0 none, 10 the worst you know.)",
    heads=("Week 1", "Week 2"), boxes=6,
)  # fmt: skip


def decide(exercise: Exercise, language: str = "en", figure: str = "A person stands.", sheet: ScoredSheet = SHEET) -> dict[str, Answer]:
    """The answers to all items for an exercise."""
    library = replace(a_library(exercise), language=language, cautions=(a_caution(),))
    return {each.item: each.answer for each in judge(Material(exercise, library, figure, sheet))}


def with_steps(*steps: str, heading: str = "How to do it", more: tuple[Section, ...] = ()) -> Exercise:
    section = Section(words(heading), (Block("steps", tuple(words(step) for step in steps)),))
    return replace(an_exercise(), sections=(section, *more))


def test_every_item_is_decided_once() -> None:
    """No item is forgotten."""
    exercise = an_exercise()
    found = [each.item for each in judge(Material(exercise, a_library(exercise), "", SHEET))]
    assert sorted(found) == sorted(ITEMS)


def test_good_exercise() -> None:
    """The program says no to nothing, and leaves what needs judgement."""
    found = decide(an_exercise())
    assert [name for name, answer in found.items() if answer is NO] == ["C17"]
    judged = {"P2", "P4", "P9", "P10", "P11", "P16", "P17", "P18", "P26", "C3", "C4", "C6", "C9", "C10", "C11", "C13", "C16"}
    assert judged <= {name for name, answer in found.items() if answer is WAITS}


HARD = "Subsequently initiate proprioceptive neuromuscular facilitation bilaterally."
LONG = "Put your foot on the step and push your whole body up until you stand as tall as you can and hold on to the rail."


@pytest.mark.parametrize(
    ("exercise", "lost"),
    [
        (with_steps(*(f"Lift foot {number}." for number in "abcdefgh")), {"P8", "C8"}),
        (with_steps(*["Lift your foot."] * 2, more=(Section(words("How to do it"), ()),)), {"P9", "C9"}),
        (with_steps("Lift 1.5 inches.", "Lower it."), {"P6", "C15"}),
        (with_steps("Lift half of your weight.", "Lower it."), {"P7", "C17"}),
        (with_steps("Do half as many.", "Lower it."), {"P7", "C17"}),
        (with_steps("Lift half as high.", "Lower it."), set()),
        (with_steps("Use 50% of your strength.", "Lower it."), {"P7", "C17", "P6", "C15"}),
        (with_steps(HARD, HARD, HARD, HARD, HARD), {"P3", "C7"}),
        (with_steps(LONG, "Lower it."), {"P22"}),
        (replace(an_exercise(), cautions=()), {"P12", "C14"}),
        (replace(an_exercise(), dose=a_dose(days=None)), {"C12", "C14"}),
        (replace(an_exercise(), dose=a_dose(weight_kg=1.5)), {"P6", "C15"}),
        (an_exercise(why="Step-up.", title="Step-up"), {"P1", "C1", "C2", "C3", "C4", "C6"}),
        (an_exercise(why="It helps. " * 4), {"P1", "C1", "C2", "C3", "C4", "C6"}),
        (an_exercise(why=LONG), {"P1", "C1", "C2", "C3", "C4", "C6"}),
    ],
)
def test_what_fails_an_item(exercise: Exercise, lost: set[str]) -> None:
    """Each fault that a program can see costs its items and no other."""
    library = replace(a_library(exercise), cautions=(a_caution(),))
    found = {each.item: each.answer for each in answer_dependents(judge(Material(exercise, library, "A person stands.", SHEET)))}
    wanted = {name for name in lost if name != "C17"} | (set() if "C17" in lost else {"C17"})
    assert {name for name, answer in found.items() if answer is NO} == wanted
    assert found["C17"] is (YES if "C17" in lost else NO)


@pytest.mark.parametrize(
    ("sheet", "lost"),
    [
        (replace(SHEET, first=False), {"C2"}),
        (replace(SHEET, before="word " * 41), {"C2"}),
        (replace(SHEET, dose="3 sets, effort 4 to 6 out of 10"), {"P6", "C15", "C16"}),
        (replace(SHEET, pain="Up to 3 out of 10, on a scale from 0 to 10."), {"P6", "C15", "C16"}),
        (replace(SHEET, heads=("Week 1", "How you did in the week")), {"P19"}),
        (replace(SHEET, boxes=0), {"P23"}),
        (replace(SHEET, pain=f"{SHEET.pain} Worse the next morning: do half."), {"P7"}),
    ],
)
def test_what_a_sheet_loses(sheet: ScoredSheet, lost: set[str]) -> None:
    """The form of a sheet is measured, each fault costs its items: place of the main message, ends of scales, headings, boxes."""
    exercise = an_exercise(dose=a_dose(effort=Span(4, 6)))
    found = decide(exercise, sheet=sheet)
    assert {name for name, answer in found.items() if answer is NO} == lost | ({"C17"} if "P7" not in lost else set())
    assert decide(exercise)["C16"] is WAITS


def test_a_scale_that_is_not_used_needs_no_words() -> None:
    """Without an effort in the dose and without a number out of ten in the text nothing is missing."""
    library = replace(a_library(an_exercise(dose=a_dose(effort=None))), cautions=(a_caution(),))
    clinic = replace(library.clinic, pain_rule=words("A little pain is fine."))
    bare = replace(SHEET, dose="3 sets", pain="A little pain is fine.")
    found = {each.item: each for each in judge(Material(library.exercises[0], replace(library, clinic=clinic), "", bare))}
    assert (found["P6"].answer, found["C16"].answer) == (YES, WAITS)
    assert found["P6"].evidence.endswith("none is used")


# The ends of both scales as the interface says them, in every language that it speaks.
@pytest.mark.parametrize("language", ["en", "es", "ar", "fr", "vi", "zh-Hans"])
def test_ends_of_scales_are_read_in_every_language(language: str) -> None:
    """Both phrases of the interface hold both ends; the same without the words does not."""
    for phrase in ("paper.effort_ends", "site.pain_ends"):
        ends = scale_ends(Wording(language).say(phrase))
        assert ends is not None and all(any(sign.isalpha() for sign in end) for end in ends)
    assert scale_ends(Wording(language).say("dose.effort_span", low="0", high="10")) is None


@pytest.mark.parametrize("text", ["0 to 10", "10 the most, 0 rest", "0 rest", "Pain 3 out of 10.", "20 rest, 10 your most", ""])
def test_a_scale_without_both_ends(text: str) -> None:
    """Numbers alone, one end alone, another number that ends in 0."""
    assert scale_ends(text) is None


def test_a_sheet_is_read() -> None:
    """What stands before the reason, and what a heading, a picture or a section before it takes away."""
    head = '<html><head><title>x</title></head><body><header>Clinic</header><article><p class="kicker">Standing</p><h1>Step-up</h1>'
    rest = '<section class="dose"><b>3</b> <p>Effort: 0 rest,<br> 10 your most.</p></section><div class="figure"><svg><title>t</title></svg></div><p class="figure-note">Stripes.</p>'
    table = '<section class="safety"><div class="cautions pain"><p>0 none, 10 worst</p></div></section><table><tr><th scope="col">Week 1</th></tr><tr><td><span class="box"></span><span class="box"></span></td></tr></table></article>'
    sheet = read_sheet(f'{head}<p class="why">It <strong>helps</strong> you.</p>{rest}{table}</body>', "It helps you.")
    assert sheet == ScoredSheet("Standing Step-up", True, "3 Effort: 0 rest, 10 your most.", "0 none, 10 worst", ("Week 1",), 2, "Stripes.")
    for before in (rest, '<div class="figure"></div>', "<section>Dose</section>"):
        assert not read_sheet(f'{head}{before}<p class="why">It helps you.</p></article>', "It helps you.").first


def of_words(count: int) -> str:
    """A text of so many words in sentences of at most ten."""
    return " ".join("you." if number % 10 == 9 or number == count - 1 else "you" for number in range(count))


def with_paragraph(count: int) -> Exercise:
    """An exercise with a paragraph of so many words before its steps."""
    return with_steps("Lift it.", "Lower it.", more=(Section(words("Before"), (Block("paragraph", (words(of_words(count)),)),)),))


def one_sentence(count: int) -> str:
    """A sentence of so many words."""
    return f"Lift {'it ' * (count - 2)}up."


@pytest.mark.parametrize(("held", "past", "item"), [
    # 7 in a list: CDC Clear Communication Index, item 8
    (with_steps(*["Lift it."] * 7), with_steps(*["Lift it."] * 8), "C8"),
    # one to three sentences: the Index's scoring widget
    (an_exercise(why="It helps. It is easy. It is short."), an_exercise(why="It helps. It is easy. It is short. It is good."), "C1"),
    # house style, no other source
    (with_paragraph(60), with_paragraph(61), "P8"),
    (with_steps("Lift it. Hold it. Lower it.", "Rest."), with_steps("Lift it. Hold it. Lower it. Rest.", "Rest."), "P22"),
    (with_steps(one_sentence(20), "Rest."), with_steps(one_sentence(21), "Rest."), "P22"),
])  # fmt: skip
def test_bounds_of_texts(held: Exercise, past: Exercise, item: str) -> None:
    """At each bound yes, one past it no."""
    assert (decide(held)[item], decide(past)[item]) == (YES, NO)


@pytest.mark.parametrize(("held", "past", "item"), [
    (replace(SHEET, before=of_words(40)), replace(SHEET, before=of_words(41)), "C2"),
    (replace(SHEET, heads=("How it went",)), replace(SHEET, heads=("How it went today",)), "P19"),
])  # fmt: skip
def test_bounds_of_sheets(held: ScoredSheet, past: ScoredSheet, item: str) -> None:
    """The same on the printed sheet (house style, no other source)."""
    assert (decide(an_exercise(), sheet=held)[item], decide(an_exercise(), sheet=past)[item]) == (YES, NO)


def test_without_a_figure() -> None:
    """Pictures where they help: none; what is asked of pictures does not apply."""
    found = decide(an_exercise(), figure="")
    assert (found["P15"], found["P16"], found["P17"], found["P18"], found["P26"], found["C4"]) == (NO, NA, NA, NA, NO, NO)


def test_a_language_without_word_lists_waits() -> None:
    """What rests on English words is left to a person in another language."""
    found = decide(an_exercise(), language="vi")
    assert (found["P21"], found["P7"], found["C17"], found["P24"]) == (WAITS, WAITS, WAITS, WAITS)


def test_an_answer_holds_for_the_text_that_was_read() -> None:
    """A person's answer counts for its version only, and never over what the program decided."""
    text = 'answers:\n  - {item: P2, code: "H7K2", language: en, answer: no, by: "health literacy reviewer", on: 2026-09-14, version: "ABC234"}\n'
    answers, problems = read_answers(text.encode(), "score.yaml")
    assert problems == []
    assert write_answers(answers) == text.encode()
    given = {each.item: each for each in answers} | {"P1": replace(answers[0], item="P1")}
    waits, decided = Decision("P2", WAITS, ""), Decision("P1", YES, "why")
    assert with_answers([waits, decided], given, "ABC234") == (Decision("P2", NO, "", "health literacy reviewer, 2026-09-14"), decided)
    (reopened, _) = with_answers([waits, decided], given, "XYZ234")
    assert (reopened.answer, reopened.evidence) == (WAITS, "answered 2026-09-14 by health literacy reviewer, but the text has changed since")


def test_latest_answer_is_kept() -> None:
    """A second answer to the same question replaces the first."""
    text = "answers:\n" + "".join(
        f'  - {{item: P2, code: "H7K2", language: en, answer: {answer}, by: reviewer, on: 2026-09-{day}, version: "ABC234"}}\n'
        for answer, day in (("yes", 20), ("no", 14))
    )
    answers, _ = read_answers(text.encode(), "score.yaml")
    kept: tuple[PersonAnswer, ...] = read_answers(write_answers(answers), "score.yaml")[0]
    assert [each.answer for each in kept] == [YES]


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Worst first, evidence in JSON, a person's answer kept in the library."""
    texts = {**TEXTS, "exercises/leg-lift.md": TEXTS["exercises/leg-lift.md"].replace("figure: {base: sitting}\n", "")}
    library = str(write(tmp_path / "lib", texts))
    out = ["--to", str(tmp_path / "out"), "--jobs", "1", TODAY]
    assert main(["score", library, *out]) == 0
    said = capsys.readouterr().out
    lines = [line for line in said.splitlines() if not line.startswith(" ")]
    assert [line.split("  ")[0] for line in lines] == ["B222 en", "A222 en"]
    assert "C4  no" in said
    assert "C17" not in said
    assert "clear communication 47.1 to 94.1 (8 points of 9 answered, 8 wait for a person, aim 90)" in lines[0]
    asked = ["score", library, "--answer", "P2=no", "--code", "A222", "--language", "en", "--by", "reviewer"]
    assert main([*asked[:-2], *out]) == 2
    assert "say who answers, as a role" in capsys.readouterr().err
    assert main([*asked, *out]) == 0
    capsys.readouterr()
    assert main(["score", library, "--json", *out]) == 0
    rows = {row["code"]: row for row in json.loads(capsys.readouterr().out)["scores"]}
    items = {item["item"]: item for item in rows["A222"]["items"]}
    assert (items["P2"]["answer"], items["P2"]["by"]) == ("no", "reviewer, 2026-11-25")
    assert items["P1"] == {
        "item": "P1", "answer": "yes", "evidence": "1 sentences, the longest 8 words: You use this each time you stand up.", "by": "program",
    }  # fmt: skip
    assert main(["check", library, TODAY]) == 0
