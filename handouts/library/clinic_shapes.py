"""What ``clinic.yaml`` may hold: locations, languages, policies, and the words that only the clinic can write."""

from __future__ import annotations

from handouts import model
from handouts.library.dose_shapes import SECONDS
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

LANGUAGE_PATTERN = "[a-z]{2,3}(?:-[A-Z][a-z]{3})?(?:-(?:[A-Z]{2}|[0-9]{3}))?"
"""A BCP 47 tag: language, optional script, optional region."""

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
CLINIC = RecordOf(
    model.Clinic,
    "the clinic",
    {
        "name": field_of(Text(80), "name of the clinic", "name"),
        "invented": optional(Flag(), "yes where the clinic is made up; every page then says so", "invented"),
        "about": field_of(Prose(600), "a few sentences about the clinic", "about"),
        "site": field_of(
            Text(
                60,
                r"https://[a-z0-9][a-z0-9.-]*(?::[0-9]{1,5})?/(?:[a-z0-9_-][a-z0-9._-]*/)*",
                "an address that begins with https:// and ends with /",
            ),
            "the address at which the site is published; QR codes lead there",
            "site",
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
                },
            ),
            "limits and times of one session",
            "session",
        ),
        "pain rule": field_of(Prose(400), "what the clinic teaches about pain during exercise", "pain_rule"),
        "defer": field_of(
            RecordOf(
                model.Defer,
                "the deferrals",
                {
                    "surgeon": field_of(Prose(200), "that the surgeon's protocol comes first", "surgeon"),
                    "clinician": field_of(
                        Prose(300), "that the sheet does not replace the clinician's advice", "clinician"
                    ),
                },
            ),
            "sentences that put the sheet below licensed practice",
            "defer",
        ),
    },
)
