"""Phrases of sheets and booklets: what stands around the texts of the library on paper."""

from __future__ import annotations

from handouts.words.phrase import AnyPhrase, Phrase, Plural

PHRASES: dict[str, AnyPhrase] = {
    "paper.stages": Phrase("Tick the line that you have reached:", "Over the stages of an exercise's dose, each with a box."),
    "paper.goal": Phrase("My goal:", "Before an empty line, where the patient writes by hand what it is all for."),
    # the head and foot of every page
    "paper.location": Phrase("{name} {phone}", "Head of a page: a location of the clinic and its phone number."),
    "paper.page": Phrase("Page {page} of {pages}", "Foot of a page. Keep both placeholders."),
    "paper.version": Phrase("{code} · version {version}", "Foot of a page. {code} is the exercise's own code, such as H7K2."),
    "paper.version_only": Phrase("version {version}", "Foot of a page of a document without a code of its own."),
    "paper.reviewed": Phrase("Reviewed {date} by {role}.", "Foot of a sheet. {role} is a role such as 'lead physiotherapist', not a name."),
    "paper.invented": Phrase("Demo library: this clinic is invented.", "Mark on every sheet of a library that only shows what one looks like."),
    "paper.reviewed_base": Phrase("Reviewed {date} by {role} of {base}.", "Foot of a sheet. {role} is a role, not a name; {base} is the name of another clinic, whose exercises this clinic uses."),
    "paper.unreviewed": Phrase("This translation has not been reviewed.", "Mark on every sheet whose translation no qualified person has read yet."),
    # a pen line
    "paper.for": Phrase("Name", "Before a line on which the clinician writes the patient's name by hand. Short."),
    "paper.date": Phrase("Date", "Before a short line on which the date is written by hand."),
    "paper.notes": Phrase("Notes", "Before a long empty line, or over an empty column, for notes by hand."),
    # the dose
    "paper.dose": Phrase("How much", "Heading over the large numbers of the dose. Hidden to the eye, read aloud."),
    "paper.beside": Phrase("{first} · {second}", "Two short facts beside one another, such as a step of a program and a position. Keep or change the mark between them."),
    "paper.load": Phrase("{load}.", "A sentence under the dose. {load} is 'Band: light'."),
    "paper.tempo": Phrase("Tempo: {tempo}.", "Under the dose. {tempo} is '2 seconds to move, 1 second hold, 3 seconds back'."),
    "paper.open_dose": Phrase("As your physiotherapist says: ________________________", "In place of the large numbers of the dose, where the library has none for everybody. The line is for a pen."),
    "paper.minutes": Phrase("Takes {minutes}.", "Under the dose. {minutes} is 'about 6 minutes'."),
    "paper.equipment": Phrase("Have ready: {things}.", "Under the title. {things} is a list such as 'step, counter'."),
    # parts of a sheet
    "paper.mistakes": Phrase("What goes wrong, and what to do", "Heading over common mistakes: what you see, then in bold what to do instead."),
    "paper.cues": Phrase("Think of this", "Heading over two to four short thoughts for while you move."),
    "paper.feel": Phrase("What you should feel", "Heading."),
    "paper.stop": Phrase("Stop if", "Heading over the stop rules, and of the column with the signs."),
    "paper.ask": Phrase("Ask first if", "Heading of the rows with conditions under which to ask before doing the exercise."),
    "paper.care": Phrase("Take care if", "Heading of the rows with conditions under which to take care."),
    "paper.beside_dose": Phrase("{part}.", "A sentence of its own beside the numerals of a dose, made of a part: 'Every 30 minutes while you are awake'."),
    "paper.effort_ends": Phrase("Effort: 0 rest, 10 your most.", "Under the large numerals of the dose: the ends of the scale of effort in words. Short."),
    "paper.other_way": Phrase("{title}: {change}", "After 'Easier' or 'Harder': another exercise, and a sentence that says what is different there."),
    "paper.of_exercises": Plural("Exercise {numbers}:", "Exercises {numbers}:", "In bold before a condition that goes for some exercises of a set: 'Exercises 2, 3 and 4:'. {numbers} is a list of their numbers, as your language writes one."),
    "paper.pain": Phrase("Pain", "Heading before the clinic's rule about pain during exercise."),
    "paper.emergency": Phrase("Emergency: {number}", "Beside the heading of the stop rules, before the phone numbers of the clinic. {number} is the local emergency number."),
    "paper.turn_over": Phrase("When to stop: on the back.", "At the foot of a small card for the pocket, whose other side has the stop rules."),
    "paper.rules_page": Phrase("When to stop: page {page}.", "At the foot of every page but the one with the stop rules, where there is more than one. Short."),
    "paper.when_to_stop": Phrase("When to stop", "In a booklet: the heading of the page with the stop rules, and that page in the table of contents."),
    "paper.plan_first": Phrase("Surgeon's plan first.", "At the foot of every page of a booklet: where there was surgery, the surgeon's plan comes before the booklet. Short."),
    "paper.unsure": Phrase("Not sure? Ask us.", "At the foot of every page, where there is more than one, before the phone numbers of the clinic. Short."),
    # ticks
    "paper.through_day": Phrase("Apart from the session: {exercises}.", "On the first page of a sheet, after how long a session takes: exercises that are done through the day, or when something happens."),
    "paper.ticks_marks": Phrase("Each time, a mark in the day's box", "Heading over a table of empty boxes, a column for each week, of an exercise that is done many times a day. Short: it has the room of two short lines."),
    "paper.ticks_wide": Phrase("Tick a box each time you do it. In a wide box, make a mark each time that day", "Heading over a table of empty boxes; some exercises are done several times a day, and have wide boxes."),
    "paper.marks": Phrase("In a day's box, make a mark each time.", "At an exercise that is done several times a day; its boxes stand below."),
    "paper.ticks": Phrase("Tick a box each time you do it", "Heading over a table of empty boxes, a column for each week."),
    "paper.week": Phrase("Week {n}", "Heading of a column or row of the table. {n} is the number of the week."),
    "paper.your_weeks": Phrase("Your weeks", "Heading of a table with a row for each week of a program: boxes to tick, the step, notes."),
    "paper.week_names": Phrase("Week", "Heading of the column with the names of the weeks: 'Week 1', 'Week 2'. Short."),
    "paper.day_boxes": Phrase("Tick a box each day you do your exercises", "Over the boxes of a week, one for each day with exercises."),
    "paper.days_done": Phrase("Days done (each exercise says how many a week)", "Over an empty column of the table of weeks, where the patient notes the days with exercises."),
    "paper.step_now": Phrase("Step", "Over a narrow column in which the patient writes the number of the step. Short."),
    "paper.exercise": Phrase("Exercise", "Heading of the column with the names of the exercises."),
    # the code
    "paper.code": Phrase("Scan to see it on your phone.", "Beside a QR code that opens the page of an exercise."),
    "paper.code_all": Phrase("Scan to see them on your phone.", "Beside a QR code that opens the page of a programme or a bundle."),
    "paper.typed": Phrase("Code of this sheet:", "At the end of the first page of a bundle; the bundle code in letters follows, for who cannot scan it."),
    "paper.code_alt": Phrase("QR code. It opens {address}", "Alternative text of a QR code."),
    # booklets
    "paper.suits": Phrase("For: {who}", "On a cover. {who} is a sentence such as 'People over 60 whose knees feel weak on stairs.'"),
    "paper.weeks": Plural("Plan for {n} week.", "Plan for {n} weeks.", "On a cover."),
    "paper.contents": Phrase("In this booklet", "Heading of the table of contents."),
    "paper.your_steps": Phrase("Your steps", "Heading over the picture of a program as a stair: its steps, the first at the bottom."),
    "paper.after": Phrase("after {numbers}", "In the picture of the progression, under an exercise: the numbers of those it builds on, '3 and 5'. Small."),
    "paper.session": Phrase("One session: {minutes}.", "{minutes} is 'about 20 minutes'."),
    "paper.session_later": Phrase("From week {n}: {minutes}.", "After 'One session: about 20 minutes.': how long a session takes later in a plan over weeks."),
    "paper.given": Phrase("With this sheet go: {things}. The code on this sheet opens them too.", "{things} is a list of titles of leaflets and tests of function."),
    "paper.fetch": Phrase("Have ready: {things}.", "{things} lists all the equipment of a session."),
    "paper.in_order": Phrase("Your exercises, in order", "Heading over the exercises of a set or of one step of a program."),
}
