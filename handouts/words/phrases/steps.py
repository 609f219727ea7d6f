"""Phrases of the steps of a programme, said alike on pages, paper and the phone."""

from __future__ import annotations

from handouts.words.phrase import AnyPhrase, Phrase

PHRASES: dict[str, AnyPhrase] = {
    "steps.name": Phrase("Step {n}: {tier}", "A numbered step of a program with its name: 'Step 1: Wake'. Always said with its number. Use another word here than for a step that one stands on, where your language has one."),
    "steps.in_programme": Phrase("{programme}, step {n}: {tier}", "One step of a program, behind the program's title."),
    "steps.start_when": Phrase("Start this step when", "Label before the condition for beginning a step of a program. The condition follows as full sentences."),
    "steps.go_on_when": Phrase("Go on to step {n} when", "Label before the condition for beginning the next step of a program; {n} is its number. The condition follows as full sentences."),
    "steps.goal": Phrase("The goal of this program", "Label on the last step of a program, before what the patient gets from the program, in full sentences."),
    "steps.with_each": Phrase("With each exercise", "Heading over short rules that go for every exercise of a program, such as 'Breathe out as you lift.'"),
    "steps.all_day": Phrase("Through the day", "Heading over what the patient does in daily life besides the exercises, such as 'Stand tall while you wait for the kettle.'"),
    "steps.lost_origin": Phrase("This list was begun from a program that is not in our library now, or not in this language. What that program says to watch for is missing here. Ask us before you begin.", "In place of the cautions of a program that is no longer published: on the patient's list, on the sheet."),
    "steps.lost_step": Phrase("The step that this list was begun from is no longer in its program. Ask us which step is yours.", "On the patient's list, on the sheet."),
    "steps.and_then": Phrase("{first} {second}", "Two sentences, one after the other. Leave the blank out where your language writes none between sentences."),
    "steps.criteria": Phrase("Met, by the log: {met} of {all}.", "Over what the patient's log says of the condition for the next exercise; both are numbers. Never says that the patient is ready."),
    "steps.criterion_met": Phrase("Met: {criterion}", "One part of the condition for the next exercise that the log shows. {criterion} is a full sentence."),
    "steps.criterion_not": Phrase("Not in the log yet: {criterion}", "One part of the condition for the next exercise that the log does not show. {criterion} is a full sentence."),
    "steps.criterion_unknown": Phrase("The log cannot tell: {criterion}", "One part of the condition for the next exercise that the log knows nothing of. {criterion} is a full sentence."),
    "steps.criteria_rest": Phrase("The log cannot tell about the rest of the condition.", "Where the condition for the next exercise has more in it than what was measured, such as how a movement looks."),
    "steps.ready_next": Phrase("You are ready for the next exercise when", "Heading. The condition follows as full sentences."),
    "steps.ready_goal": Phrase("You have reached your goal when", "Heading at an exercise of a program's last step. The condition follows as full sentences."),
    "steps.ready_done": Phrase("You do this exercise well when", "Heading at an exercise after which none is given. The condition follows as full sentences."),
}
