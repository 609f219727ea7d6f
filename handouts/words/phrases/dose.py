
"""Phrases of the dose: sets, repetitions, holds, time, sides, tempo, rest, effort, ranges.

A pattern never glues words that could stand in another order elsewhere: each pattern is a phrase of
its own, and the amount inside a set is a phrase apart from the amount alone, since many languages
decline it ("3 sets of 1 minute").
"""

from __future__ import annotations

from handouts.words.phrase import AnyPhrase, Phrase, Plural

PHRASES: dict[str, AnyPhrase] = {
    "dose.sets_of": Phrase("{sets} of {amount}", "A dose. {sets} is '3 sets', {amount} is what one set holds: '10', '30 seconds', '200 meters'."),
    "dose.sets": Plural("{n} set", "{n} sets", "The number of sets: as {sets} in '{sets} of {amount}', and alone."),
    "dose.reps_each": Plural("{n}", "{n}", "Repetitions in one set, as {amount} after 'sets of': '3 sets of 10'. Add the word for repetitions if your language needs it."),
    "dose.seconds_each": Plural("{n} second", "{n} seconds", "Seconds in one set or hold, as {amount} after 'sets of' or 'holds of', in the case that it asks for."),
    "dose.minutes_each": Plural("{n} minute", "{n} minutes", "Minutes in one set, as {amount} after 'sets of', in the case that it asks for."),
    "dose.meters_each": Plural("{n} meter", "{n} meters", "Meters in one set, as {amount} after 'sets of', in the case that it asks for."),
    "dose.reps": Plural("{n} time", "{n} times", "How many times to do the movement when there is only one set; stands alone."),
    "dose.holds_of": Phrase("{holds} of {amount}", "A dose made of holds only. {holds} is '3 holds', {amount} is '30 seconds'."),
    "dose.holds": Plural("{n} hold", "{n} holds", "How often a position is held; as {holds} in '{holds} of {amount}'."),
    "dose.seconds": Plural("{n} second", "{n} seconds", "A time, alone."),
    "dose.minutes": Plural("{n} minute", "{n} minutes", "A time, alone."),
    "dose.about_minutes": Plural("about {n} minute", "about {n} minutes", "How long an exercise or a session takes."),
    "dose.minutes_seconds": Phrase("{minutes} {seconds}", "A time such as '2 minutes 30 seconds'."),
    "dose.meters": Plural("{n} meter", "{n} meters", "A distance, alone."),
    "dose.kg": Phrase("{n} kg", "A weight in kilograms; keep the unit 'kg' or its usual sign."),
    "dose.comma": Phrase("{first}, {second}", "Two parts of a dose, one after the other, with your language's comma: '3 sets of 10, each side'."),
    "dose.hold": Plural("hold {n} second each time", "hold {n} seconds each time", "Part of a dose: the end position is held in each repetition."),
    "dose.side_both": Phrase("each side", "Part of a dose: the full number on the left and on the right."),
    "dose.side_one_side_first": Phrase("each side, all sets on one side first", "Part of a dose: the full number on one side, then the full number on the other."),
    "dose.side_one": Phrase("on the side we agreed", "Part of a dose: only on the side that the clinician named to this patient."),
    "dose.side_alternating": Phrase("changing sides each time", "Part of a dose: left, right, left, right."),
    "dose.side_alternating_each": Plural("changing sides, {n} on each side", "changing sides, {n} on each side", "Part of a dose: left, right, left, right. {n} is the repetitions that each side gets."),
    "dose.weight": Phrase("with {weight}", "Part of a dose. {weight} is '2 kg', in the hand or on the ankle."),
    "dose.band": Phrase("band: {band}", "Part of a dose. {band} is how strong the resistance band is: light, medium, heavy."),
    "dose.days": Plural("{n} day a week", "{n} days a week", "How often."),
    "dose.every_day": Phrase("every day", "How often: 7 days a week."),
    "dose.times": Plural("once a day", "{n} times a day", "How often on each of those days."),
    "dose.rest_seconds": Plural("rest {n} second between sets", "rest {n} seconds between sets", "Part of a dose."),
    "dose.rest_minutes": Plural("rest {n} minute between sets", "rest {n} minutes between sets", "Part of a dose."),
    "dose.effort": Phrase("effort {n} out of 10", "How hard it should feel, on a scale from 0 to 10."),
    "dose.effort_scale": Phrase("{effort} (0 rest, 10 the most you can do)", "{effort} is 'effort 4 to 6 out of 10'; then the ends of the scale in words."),
    "dose.effort_span": Phrase("effort {low} to {high} out of 10", "How hard it should feel, on a scale from 0 to 10."),
    "dose.tempo": Phrase("Tempo: {parts}", "How fast to move. {parts} is '2 seconds to move, 1 second hold, 3 seconds back'."),
    "dose.tempo_go": Plural("{n} second to move", "{n} seconds to move", "Part of the tempo: from the start position (picture 1) to the end position (picture 2)."),
    "dose.tempo_hold": Plural("{n} second hold", "{n} seconds hold", "Part of the tempo: staying in the end position."),
    "dose.tempo_back": Plural("{n} second back", "{n} seconds back", "Part of the tempo: back to the start position."),
    "dose.tempo_pause": Plural("{n} second pause", "{n} seconds pause", "Part of the tempo: waiting in the start position."),
    "dose.range": Phrase("{low}–{high}", "Two numbers as a range, in figures, no words."),
    "dose.span_sets": Plural("{low} to {n} set", "{low} to {n} sets", "A range: how many sets are allowed. {n} is the higher number."),
    "dose.span_reps": Plural("{low} to {n} time", "{low} to {n} times", "A range: how many repetitions in a set are allowed."),
    "dose.span_seconds": Plural("{low} to {n} second", "{low} to {n} seconds", "A range of time."),
    "dose.span_minutes": Plural("{low} to {n} minute", "{low} to {n} minutes", "A range of time."),
    "dose.span_meters": Plural("{low} to {n} meter", "{low} to {n} meters", "A range of distance."),
    "dose.span_days": Plural("{low} to {n} day a week", "{low} to {n} days a week", "A range: how many days a week."),
    "dose.span_times": Plural("{low} to {n} time a day", "{low} to {n} times a day", "A range: how many times a day."),
    "dose.span_kg": Phrase("{low} to {high} kg", "A range of weight in kilograms."),
    "dose.word_sets": Plural("set", "sets", "Small word under a large numeral on the sheet. Do not write the number."),
    "dose.word_reps": Plural("time", "times", "Small word under a large numeral: how many times to do the movement in a set. Do not write the number."),
    "dose.word_holds": Plural("hold", "holds", "Small word under a large numeral: how often the position is held. Do not write the number."),
    "dose.word_hold_seconds": Plural("second hold", "seconds hold", "Small word under a large numeral: how many seconds to stay in the end position. Do not write the number."),
    "dose.word_seconds": Plural("second", "seconds", "Small word under a large numeral. Do not write the number."),
    "dose.word_minutes": Plural("minute", "minutes", "Small word under a large numeral. Do not write the number."),
    "dose.word_meters": Plural("meter", "meters", "Small word under a large numeral. Do not write the number."),
    "dose.word_rest_seconds": Plural("second rest", "seconds rest", "Small word under a large numeral: the rest between sets. Do not write the number."),
    "dose.word_rest_minutes": Plural("minute rest", "minutes rest", "Small word under a large numeral: the rest between sets. Do not write the number."),
    "dose.word_days": Plural("day a week", "days a week", "Small word under a large numeral. Do not write the number."),
    "dose.word_times": Plural("time a day", "times a day", "Small word under a large numeral. Do not write the number."),
    "dose.word_effort": Phrase("effort out of 10", "Small word under a large numeral such as '4–6': how hard it should feel. Do not write the number."),
    "dose.word_kg": Phrase("kg", "Small word under a large numeral: kilograms."),
}
