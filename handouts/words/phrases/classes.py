"""Phrases of a class: stations, levels and times, on its page, its timer, its cards and the page of who leads it."""

from __future__ import annotations

from handouts.words.phrase import AnyPhrase, Phrase, Plural

_FACT = "A fact about a class, beside others. {time} is '40 seconds' or '6 minutes'."
_LARGE = "Large words of the timer of a class, read from the other end of a room. Short."

PHRASES: dict[str, AnyPhrase] = {
    "classes.station": Phrase("Station {n}", "Heading, and large words of a timer: a place in the room at which one exercise is done. {n} is its number."),
    "classes.level": Phrase("Level {n}", "Before the title of an exercise: the levels of a station, 1 the easiest."),
    "classes.levels": Phrase("Level 1 is the easiest. Each person does the level that fits.", "Above the stations of a class."),
    "classes.work": Phrase("Work: {time}", _FACT),
    "classes.change": Phrase("Rest and change: {time}", f"{_FACT} Before each time of work people rest and go to the next station."),
    "classes.between": Phrase("Before a further round: {time}", _FACT),
    "classes.rounds": Plural("{n} round", "{n} rounds", "How often all stations of a class are done."),
    "classes.round": Phrase("One round: {time}", _FACT),
    "classes.whole": Phrase("All together: {time}", f"{_FACT} What the whole class takes."),
    "classes.people": Phrase("At most {people} people, {each} at a station", "A fact about a class. Both are numbers; {each} may be '2' or '2–3'."),
    "classes.warm_up": Phrase("Warm-up", "Heading and large words of the timer: what all do together before the stations."),
    "classes.cool_down": Phrase("Cool-down", "Heading and large words of the timer: what all do together after the stations."),
    "classes.part": Phrase("{name}: {time}", "Heading. {name} is 'Warm-up' or 'Cool-down', {time} how long it takes."),
    "classes.halfway": Phrase("Change sides halfway.", "Beside the title of an exercise that is done on the left and on the right."),
    "classes.watch": Phrase("Watch for", "Heading over what who leads a class watches at a station: mistakes, each with what to do instead."),
    "classes.regress": Phrase("Go down a level when", "Heading on the plan of a class. Full sentences follow."),
    "classes.groups": Phrase("Each group begins at its own station, and moves on by one when the timer says so. The timer follows the group that begins at station 1.", "Above the stations of a class."),
    "classes.order": Phrase("Order and times", "Heading on the page of who leads a class, over its parts, each with the minute in which it begins."),
    "classes.run": Phrase("Run the timer", "Button on the page of a class: shows the timer on the whole screen."),
    "classes.keys": Phrase("Space pauses, the arrow keys go on and back. Nothing is stored.", "Beside that button. The keys of a keyboard."),
    "classes.change_to": Phrase("Change to station {n}", _LARGE),
    "classes.next": Phrase("Next: {what}", f"{_LARGE} {{what}} is 'Change to station 2', 'Station 2', 'Cool-down' or 'The end'."),
    "classes.round_of": Phrase("Round {n} of {all}", f"{_LARGE} Both are numbers."),
    "classes.over": Phrase("The end", _LARGE),
    "classes.close": Phrase("Close the timer", "Button of the timer of a class."),
    "classes.cards": Phrase("Print the station cards", "Heading over the button that opens the PDF of large cards, one for each station of a class."),
    "classes.leader": Phrase("Print the page for who leads", "Heading over the button that opens the PDF for the person who leads a class."),
}
