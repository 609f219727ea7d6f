"""Phrases of what goes with a course of care beside the exercises: tests of function, advice sheets."""

from __future__ import annotations

from handouts.words.phrase import AnyPhrase, Phrase, Plural

_UNIT = "What a test counts in. Stands behind 'Counted in' and beside a side of the body."
_COMPARED = "On the page of a test, for clinicians, said of two results. {change} is a number with its unit."
_SIDE = "A side of the body, beside its result."

PHRASES: dict[str, AnyPhrase] = {
    "course.keep_in_mind": Phrase("Keep in mind", "Heading over the two to five main points of an advice sheet."),
    "course.keep_up": Phrase("Keep these up", "Heading over the two or three exercises that a patient goes on with after a program."),
    "course.come_back": Phrase("Come back when", "Heading over signs and reasons to come back to the clinic; whole sentences follow."),
    "course.after_programme": Phrase("After the program:", "Before the title of the program at whose end an advice sheet is handed out."),
    "course.next_sheet": Phrase("When you have reached the goal:", "On a program's page, before the title of the advice sheet that is handed out at its end."),
    "course.unit_times": Phrase("times", _UNIT),
    "course.unit_seconds": Phrase("seconds", _UNIT),
    "course.unit_cm": Phrase("cm", _UNIT),
    "course.unit_points": Phrase("points", _UNIT),
    "course.value_times": Plural("{n} time", "{n} times", "A result of a test of function, or a change of one."),
    "course.value_seconds": Plural("{n} second", "{n} seconds", "A result of a test of function, or a change of one."),
    "course.value_cm": Plural("{n} cm", "{n} cm", "A result of a test of function, or a change of one."),
    "course.value_points": Plural("{n} point", "{n} points", "A result of a test of function, or a change of one."),
    "course.counted": Phrase("Counted in: {unit}.", "A fact about a test of function. {unit} is 'times', 'seconds', 'cm' or 'points'."),
    "course.tries": Plural("There is one try.", "Of {n} tries the best counts.", "A fact about a test of function."),
    "course.each_side": Phrase("Left and right have a result each.", "A fact about a test of function."),
    "course.better_more": Phrase("More is better.", "A fact about a test of function: a larger result is a better one."),
    "course.better_less": Phrase("Less is better.", "A fact about a test of function: a smaller result is a better one."),
    "course.ends_at": Phrase("The test ends at {value}.", "A fact about a test of function. {value} is a result with its unit, which nobody goes beyond."),
    "course.norms": Phrase("Values to compare with", "Heading over a table: a value for each age, for women and for men."),
    "course.age": Phrase("Age", "First cell of a table whose columns are ages in years."),
    "course.ages": Phrase("{first}–{last}", "Ages in years, head of a narrow column: '60–64'."),
    "course.ages_over": Phrase("{first}+", "An age in years and over, head of a narrow column: '80+'."),
    "course.sex_women": Phrase("Women", "First cell of a row of values."),
    "course.sex_men": Phrase("Men", "First cell of a row of values."),
    "course.sex_all": Phrase("Everyone", "First cell of a row of values: women and men together."),
    "course.change_means": Phrase("What a change means", "Heading: which change between two visits is more than chance."),
    "course.error": Phrase("A change of up to {change} may be chance: the test is no more exact than that. Found in: {who}", "{change} is a number with its unit. {who} is a sentence that names the people in whom it was found."),
    "course.confidence": Phrase("Of 100 people who did not change, {n} stay within it.", "After: a change of up to so much may be chance."),
    "course.no_error": Phrase("We know no source for this test's own error. So nothing here says which change is more than chance.", "Where it is not known how exact a test is."),
    "course.symmetry": Phrase("The side with the problem is to reach at least {percent} % of the other side.", "A common aim of rehabilitation, for a test of each side."),
    "course.sourced": Phrase("{status}: {source}", "Whether a number was read in its source, then the source itself, in the language of the library."),
    "course.results": Phrase("Results at each visit", "Heading over an empty table for results by hand, a column for each visit."),
    "course.date": Phrase("Date", "First row of that table. Short."),
    "course.result": Phrase("Result", "Row of that table, and label of a field, where a test has one result. Short."),
    "course.left": Phrase("Left", _SIDE),
    "course.right": Phrase("Right", _SIDE),
    "course.compare": Phrase("For clinicians: compare two visits", "Heading over fields for two results."),
    "course.compare_lead": Phrase("What you type here stays on this page. It is not kept and not sent.", "Under that heading."),
    "course.before": Phrase("Earlier visit", "Label over the fields of the earlier results."),
    "course.now": Phrase("This visit", "Label over the fields of the results of today."),
    "course.problem_side": Phrase("Side with the problem", "Label of a choice between left and right."),
    "course.not_chosen": Phrase("not chosen", "First entry of that choice."),
    "course.better": Phrase("{side}: better (change: {change}).", f"{_COMPARED} {{side}} is 'Left', 'Right' or 'Result'."),
    "course.worse": Phrase("{side}: worse (change: {change}).", f"{_COMPARED} {{side}} is 'Left', 'Right' or 'Result'."),
    "course.same": Phrase("{side}: no change.", "On the page of a test, for clinicians. {side} is 'Left', 'Right' or 'Result'."),
    "course.beyond_error": Phrase("This is more than the test's own error ({change}).", _COMPARED),
    "course.within_error": Phrase("This is no more than the test's own error ({change}), so it may be chance.", _COMPARED),
    "course.ratio": Phrase("The side with the problem reaches {percent} % of the other side.", "On the page of a test, for clinicians."),
    "course.ratio_reached": Phrase("At least {percent} % is the aim: reached.", "After: the side with the problem reaches so much of the other."),
    "course.ratio_missed": Phrase("At least {percent} % is the aim: not reached.", "After: the side with the problem reaches so much of the other."),
    "course.beyond_end": Phrase("The test ends at {value}. Look at what you typed.", "Where a clinician typed a larger result. {value} is a number with its unit."),
}
