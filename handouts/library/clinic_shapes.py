"""What a clinic says of itself: locations, languages, policies and tiers."""

from __future__ import annotations

from handouts import model
from handouts.figure.body.people import PEOPLE
from handouts.library.base_shapes import BASE_FIELDS
from handouts.library.dose_shapes import METRES, SECONDS
from handouts.library.shapes import (
    Choice,
    Flag,
    ListOf,
    Number,
    Prose,
    Quantity,
    RecordOf,
    Slug,
    Text,
    Whole,
    field_of,
    optional,
)
from handouts.library.stage_shapes import GROWTH, SESSION_CUES

LANGUAGE_PATTERN = "[a-z]{2,3}(?:-[A-Z][a-z]{3})?(?:-(?:[A-Z]{2}|[0-9]{3}))?"
"""A BCP 47 tag: language, optional script, optional region."""

TIERS = ListOf(
    RecordOf(
        model.Tier,
        "a tier",
        {
            "slug": field_of(Slug(), "the name by which exercises refer to it", "slug"),
            "name": field_of(Prose(40, "a name"), "what readers see", "name"),
            "means": field_of(Prose(300), "what the tier means", "means"),
        },
    ),
    1,
    12,
)

_LOCATION = RecordOf(
    model.Location,
    "a location",
    {
        "slug": field_of(Slug(), "its short name", "slug"),
        "name": field_of(Text(60), "what readers see", "name"),
        "address": field_of(Text(160), "street and town", "address"),
        "phone": field_of(Text(30, r"[0-9+() .-]{3,30}", "a phone number"), "phone number", "phone"),
        "hours": optional(Prose(160), "when someone answers", "hours"),
    },
)
_SITE = Text(
    60,
    r"https://[a-z0-9][a-z0-9.-]*(?::[0-9]{1,5})?/(?:[a-z0-9_-][a-z0-9._-]*/)*",
    "an address that begins with https:// and ends with /",
)
_FONT_FILE = r"[A-Za-z0-9][A-Za-z0-9._-]*\.(?:ttf|otf)"
_FONT = RecordOf(
    model.OwnFont,
    "a font",
    {
        "languages": field_of(
            ListOf(Text(12, LANGUAGE_PATTERN, "a language tag such as hi"), 1, 12), "the languages that it is for", "languages"
        ),
        "regular": field_of(Text(80, _FONT_FILE, "the name of a TTF or OTF file"), "the font, in the folder `fonts`", "regular"),
        "bold": field_of(Text(80, _FONT_FILE, "the name of a TTF or OTF file"), "its bold weight, a file of its own", "bold"),
        "licence": field_of(Text(80), "the name of its licence, which must allow to embed it", "licence"),
        "licence file": field_of(
            Text(80, r"[A-Za-z0-9][A-Za-z0-9._-]*\.(?:txt|md)", "the name of a text file"),
            "the text of the licence, in the folder `fonts`",
            "licence_file",
        ),
        "source": field_of(Text(160), "where the font comes from", "source"),
    },
)
CLINIC = RecordOf(
    model.Clinic,
    "the clinic",
    {
        "name": field_of(Text(80), "name of the clinic", "name"),
        "invented": optional(Flag(), "yes where the clinic is made up; every page then says so", "invented"),
        "about": field_of(Prose(600), "a few sentences about the clinic", "about"),
        "site": field_of(_SITE, "the address at which the site is published; QR codes lead there", "site"),
        "units": optional(
            RecordOf(
                model.Units,
                "the units",
                {
                    "weight": field_of(
                        Choice(("kg", "lb"), model.WeightUnit),
                        "the unit in which readers see weights; left out with 'units': kg",
                        "weight",
                    ),
                },
            ),
            "units that readers see, whatever an exercise is written in",
            "units",
        ),
        "people": optional(
            ListOf(Choice(tuple(sorted(PEOPLE))), 1, 5),
            "whom figures show, by turns, where an exercise does not say; left out: someone of no age or gender",
            "people",
        ),
        "former sites": optional(
            ListOf(_SITE, 0, 10),
            "addresses that the site had before; links and codes made there still open",
            "former_sites",
        ),
        "locations": field_of(ListOf(_LOCATION, 1, 60), "the clinic's addresses", "locations"),
        "emergency": field_of(
            RecordOf(
                model.Emergency,
                "the emergency number",
                {
                    "number": field_of(Text(12, "[0-9]{2,6}", "a number to dial"), "local emergency number", "number"),
                    "text": field_of(Prose(300), "when to call it", "text"),
                },
            ),
            "the local emergency number",
            "emergency",
        ),
        "languages": field_of(
            RecordOf(
                model.Languages,
                "languages",
                {
                    "source": field_of(
                        Text(12, LANGUAGE_PATTERN, "a language tag such as en or es-MX"),
                        "the language you write in",
                        "source",
                    ),
                    "also": optional(
                        ListOf(Text(12, LANGUAGE_PATTERN, "a language tag such as es"), 0, 40), "translations", "also"
                    ),
                    "papers": optional(
                        Choice(("all", "first")),
                        "papers for the sheets of translations: all, or the first only",
                        "papers",
                    ),
                },
            ),
            "languages of the library",
            "languages",
        ),
        "papers": field_of(ListOf(Choice(("letter", "a4")), 1, 2), "papers to print on, the usual one first", "papers"),
        "folded booklets": optional(
            Flag(), "yes where the site also has the booklet of each programme to be printed on both sides and folded", "folded_booklets"
        ),
        "type sizes": field_of(ListOf(Choice(("standard", "large")), 1, 2), "type sizes to print in", "type_sizes"),
        "accent": field_of(Text(7, "#[0-9a-fA-F]{6}", 'a colour such as "#0f5e6b"'), "the clinic's colour", "accent"),
        "reading level": field_of(Number(1, 18), "highest US school grade of patient text", "reading_level"),
        "review": field_of(
            RecordOf(
                model.ReviewPolicy,
                "the review policy",
                {
                    "months": field_of(Whole(1, 60), "months for which a review stands", "months"),
                    "notice days": field_of(
                        Whole(0, 365), "days before its end from which it is pointed out", "notice_days"
                    ),
                    "grace days": field_of(Whole(0, 365), "days after its end for which content stays", "grace_days"),
                    "unreviewed translations": optional(
                        Choice(("show", "hold back"), model.Unreviewed), "what to do with them", "unreviewed"
                    ),
                    "older translations": optional(
                        Choice(("show", "hold back"), model.OlderTranslations),
                        "where steps or hints changed: show the last whole version, or hold back",
                        "older",
                    ),
                },
            ),
            "review policy",
            "review",
        ),
        "session": field_of(
            RecordOf(
                model.SessionPolicy,
                "the session policy",
                {
                    "minutes": field_of(
                        Whole(1, 240), "longest session that the clinic advises, in minutes", "minutes"
                    ),
                    "exercises": field_of(Whole(1, 30), "most exercises that the clinic advises", "exercises"),
                    "change of position": field_of(
                        Quantity(SECONDS, 0, 600), "time to change position", "change_seconds"
                    ),
                    "between exercises": field_of(
                        Quantity(SECONDS, 0, 600), "rest between two exercises", "between_seconds"
                    ),
                    "class minutes": optional(Whole(1, 240), "longest class, in minutes; 'minutes' where left out", "class_minutes"),
                },
            ),
            "limits and times of one session",
            "session",
        ),
        "pain rule": field_of(Prose(400), "what the clinic teaches about pain during exercise", "pain_rule"),
        "pain bounds": optional(
            RecordOf(
                model.PainBounds,
                "the pain bounds",
                {
                    "fine up to": field_of(Whole(0, 10), "highest answer at which one carries on", "fine"),
                    "less up to": field_of(Whole(0, 10), "highest answer at which one does less; above it one stops", "less"),
                },
            ),
            "the numbers of the pain rule, on the scale from 0 to 10",
            "pain_bounds",
        ),
        "next dose": optional(
            RecordOf(
                model.NextDose,
                "the rule for the next dose",
                {
                    "after sessions": field_of(
                        Whole(1, 20),
                        "how many of the latest sessions had all sets done, pain up to 'fine up to', and effort no higher than asked for",
                        "sessions",
                    ),
                    "reps": optional(Whole(1, 20), "repetitions that are added to a set", "reps"),
                    "hold": optional(Quantity(SECONDS, 1, 60), "what is added to a hold", "hold_seconds"),
                    "time": optional(Quantity(SECONDS, 1, 600), "what is added to a time", "time_seconds"),
                    "distance": optional(Quantity(METRES, 1, 1000), "what is added to a distance", "distance_metres"),
                    "sets": optional(Whole(1, 3), "sets that are added where what is counted can grow no more", "sets"),
                },
            ),
            "when a log that is shown lets the clinician's page propose more, and how much; never past an exercise's dose range",
            "next_dose",
        ),
        "effort scale": optional(
            Prose(80), "the scale of effort with its name and the words at 0 and 10; left out: the program's own words", "effort_scale"
        ),
        "growth": optional(GROWTH, "how much a plan over weeks may grow a week before it is pointed out", "growth"),
        "session cues": optional(
            SESSION_CUES, "what a patient can hang the session on, for the clinician to choose from", "session_cues"
        ),
        "flare plan": optional(
            ListOf(
                RecordOf(
                    model.FlareStep,
                    "a step of the flare plan",
                    {
                        "when": field_of(Prose(80), "how much worse, or for how long", "when"),
                        "do": field_of(Prose(120), "what to do then", "do"),
                    },
                ),
                0,
                5,
            ),
            "what to do when it gets worse, the mildest first",
            "flare_plan",
        ),
        "defer": field_of(
            RecordOf(
                model.Defer,
                "the deferrals",
                {
                    "surgeon": field_of(Prose(200), "that the surgeon's protocol comes first", "surgeon"),
                    "clinician": field_of(
                        Prose(300), "that the exercises do not replace the clinician's advice", "clinician"
                    ),
                },
            ),
            "sentences that put pages and sheets below licensed practice: each stands on both, so it names neither",
            "defer",
        ),
        "approval": optional(
            Choice(tuple(each.value for each in model.ApprovalRule), model.ApprovalRule),
            "required: a build refuses what no role has approved ('handouts ledger update --approved-by')",
            "approval",
        ),
        "taken off": optional(
            ListOf(
                RecordOf(
                    model.TakenOff,
                    "what is taken off the site",
                    {
                        "address": field_of(
                            Text(
                                120,
                                "[A-Za-z0-9_-]+(?:/[A-Za-z0-9_-]+)*/?",
                                "an address below the site, such as vi or en/bundles/first-days",
                            ),
                            "a language or a page, as it stands in the address",
                            "address",
                        ),
                        "why": field_of(Text(200), "why readers lose it", "why"),
                    },
                ),
                0,
                200,
            ),
            "addresses that were published and may lead nowhere; a build refuses to lose any other",
            "taken_off",
        ),
        "fonts": optional(
            ListOf(_FONT, 0, 12), "fonts of the library's own, for languages in whose letters no font of the program writes", "fonts"
        ),
        **BASE_FIELDS,
    },
)
