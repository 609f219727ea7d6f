"""A catalogue with every kind of dose, a former dose and withdrawn exercises; random bundles; both readers' answers in one form."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import Any
from zlib import crc32

from handouts.bundle.catalogue import (
    BundleCatalogue,
    ExerciseEntry,
    Serving,
    Withdrawn,
    catalogue_json,
    dose_json,
    dose_mark,
    name_mark,
    pack_tempo,
    read_number,
    write_number,
)
from handouts.bundle.code import decode_bundle, encode_bundle
from handouts.bundle.fields import FIELDS, LAYOUTS, MovableField, changed_fields, drop_unchanged, sides_allowed
from handouts.bundle.fields import SIDES as FORMER_SIDES
from handouts.bundle.values import CODE_PLACE, OpenedBundle, Origin, PickedBundle, Refusal
from handouts.dose.arithmetic import change_dose
from handouts.dose.parts import fits_rounds
from handouts.dose.stages import staged_fields
from handouts.dose.weight import weight_of
from handouts.model import (
    Counted,
    Dose,
    DoseChange,
    DoseRange,
    DoseStage,
    Limb,
    PartKind,
    Pick,
    Ref,
    Side,
    Span,
    Tempo,
    WorkKind,
)
from handouts.problems import Place
from tests.scripts.node import ask_script

HERE = Path(__file__).parent
PLACE = Place("test")

HEEL_RAISE = Dose(place=PLACE, sets=3, reps=10, side=Side.BOTH, limb=Limb.LEG, tempo=Tempo(2, 1, 3), rest_seconds=60, days=3, effort=Span(4, 6))
OPEN = Dose(place=PLACE, sets=0)
"""The author has none: the clinician sets every field that the range offers."""
DOSES: dict[str, tuple[str, Dose, DoseRange | None]] = {
    "H7K2": ("heel-raise", HEEL_RAISE, DoseRange(place=PLACE, sets=Span(1, 4), reps=Span(5, 15), days=Span(2, 5), rest_seconds=Span(30, 120),
                                           tempo=(Tempo(2, 1, 3), Tempo(1, 0, 1), Tempo(4, 2, 4), Tempo(15, 15, 15, 7)), times=Span(1, 4), effort=Span(3, 7),
                                           side=(Side.BOTH, Side.ONE_SIDE_FIRST, Side.ONE))),
    "CV86": ("sit-to-stand", Dose(place=PLACE, sets=3, reps=10, rest_seconds=60, days=3), DoseRange(place=PLACE, sets=Span(1, 3), reps=Span(5, 15), days=Span(2, 5), rest_seconds=Span(30, 120))),
    "ST22": ("calf-stretch", Dose(place=PLACE, sets=4, hold_seconds=30, side=Side.ONE, days=7, times=2), DoseRange(place=PLACE, sets=Span(1, 5), hold_seconds=Span(10, 60), days=Span(1, 7))),
    "WK33": ("hill-walk", Dose(place=PLACE, time_seconds=1200, days=3), DoseRange(place=PLACE, time_seconds=Span(300, 7200))),
    "PC44": ("heel-to-toe-walk", Dose(place=PLACE, sets=2, distance_metres=10, days=3, pace_metres_per_second=0.13), DoseRange(place=PLACE, distance_metres=Span(5, 20000))),
    "BN55": ("band-row", Dose(place=PLACE, sets=2, reps=12, hold_seconds=5, side=Side.ALTERNATING, band=Ref("light", PLACE), days=2), DoseRange(place=PLACE, reps=Span(8, 100), hold_seconds=Span(1, 300))),
    "WT66": ("curl", Dose(place=PLACE, sets=2, reps=12, weight_kg=1, rest_seconds=90, days=2), DoseRange(place=PLACE, weight_kg=Span(0.25, 12.5), rest_seconds=Span(0, 600))),
    "PN88": ("open", OPEN, DoseRange(place=PLACE, sets=Span(1, 4), reps=Span(5, 15), hold_seconds=Span(1, 20), days=Span(2, 7), tempo=(Tempo(2, 0, 3), Tempo(1, 0, 1)), side=(Side.BOTH, Side.ONE),
                          effort=Span(2, 6), weight_kg=Span(0.5, 5), rest_seconds=Span(0, 90), times=Span(1, 3))),
    "PN99": ("open-hold", OPEN, DoseRange(place=PLACE, sets=Span(1, 10), hold_seconds=Span(5, 60), days=Span(1, 7), rest_seconds=Span(15, 60), times=Span(2, 4))),
    "RN22": ("walk-run", Dose(place=PLACE, sets=8, time_seconds=60, rest_seconds=120, work=WorkKind.RUN_WALK, pace_words=Ref("easy", PLACE), warm_up_seconds=300,
                              cool_down_seconds=300, days=3, rest_days=1, effort=Span(3, 4)),
             DoseRange(place=PLACE, sets=Span(4, 10), time_seconds=Span(60, 300), rest_seconds=Span(15, 180), days=Span(2, 3))),
    "HP33": ("hop", Dose(place=PLACE, sets=3, reps=10, reps_to=12, counted=Counted.CONTACTS, rate=70, side=Side.BOTH, limb=Limb.LEG, rest_seconds=60, days=2, rest_days=2),
             DoseRange(place=PLACE, sets=Span(1, 4), reps=Span(5, 20))),
    "BR44": ("breathe-out", Dose(place=PLACE, sets=1, reps=5, counted=Counted.BREATHS, occasion=Ref("breathless", PLACE)), None),
    "MV55": ("move-often", Dose(place=PLACE, sets=1, reps=10, tempo=Tempo(1, 0, 1), every_minutes=30, side=Side.EACH_OR_BOTH, days=7), DoseRange(place=PLACE, reps=Span(5, 15), side=(Side.EACH_OR_BOTH, Side.BOTH))),
    "EZ66": ("easy-run", Dose(place=PLACE, sets=1, distance_metres=3000, work=WorkKind.RUN, pace_metres_per_second=2.5, pace_words=Ref("brisk", PLACE), days=2), DoseRange(place=PLACE, distance_metres=Span(500, 5000))),
    "FX77": ("fixed", Dose(place=PLACE, reps=10), None),
}
SERVING = (
    Serving("band-towel", "band", ("BN55",)), Serving("band-stocking", "band", ("BN55",)), Serving("chair-bench", "chair", ("H7K2", "CV86", "ST22", "BN55")),
)
"""What is taken in place of things: two serve for one thing."""
FORMER = replace(HEEL_RAISE, sets=2, effort=Span(3, 5))
TOO_MUCH_FORMER = replace(HEEL_RAISE, reps=30)


def make_sample(h7k2: Dose = HEEL_RAISE, former: Sequence[Dose] = (FORMER, TOO_MUCH_FORMER)) -> BundleCatalogue:
    """The sample catalogue, with another library's dose of H7K2 where wanted."""
    entries = {code: ExerciseEntry(code, slug, dose, allowed) for code, (slug, dose, allowed) in DOSES.items()}
    entries["H7K2"] = replace(entries["H7K2"], dose=h7k2, former=tuple(former))
    names = (("en", "es", "zh-Hans"), ("market-street", "mill-lane"), ("light", "medium", "heavy"))
    languages, locations, bands = ({name_mark(name): name for name in group} for group in names)
    withdrawn = {"GN88": Withdrawn("Neck circles", "CV86"), "GN99": Withdrawn("Sit-ups")}
    return BundleCatalogue(entries, languages, locations, bands, withdrawn, site=name_mark("https://clinic.example/"),
                     former_sites=(name_mark("https://old.example/"),), programmes={"P222": "knee"}, bundles={"BW9X": "first-days"},
                     cues={"ABC": "after breakfast", "222": "at noon"},
                     paces={name_mark(name): name for name in ("easy", "brisk")}, occasions={name_mark("breathless"): "breathless"},
                     serving={name_mark(each.slug): each for each in SERVING}, given={"LF22": "leaflets/pace", "TS33": "tests/stand", "LF44": "leaflets/sleep"})


SAMPLE = make_sample()


def change_of(**values: Any) -> DoseChange:
    """A change of a dose."""
    return DoseChange(place=PLACE, **values)


def pick_of(slug: str, **values: Any) -> Pick:
    """A pick, with what differs."""
    return Pick(place=PLACE, exercise=Ref(slug, PLACE), change=change_of(**values) if values else None)


def bundle_of(*picks: Pick, language: str = "es", location: str = "market-street", weeks: int = 6) -> PickedBundle:
    """A bundle of some picks."""
    return PickedBundle(language, location, weeks, picks)


def random_change(entry: ExerciseEntry, catalogue: BundleCatalogue, random: Random) -> DoseChange | None:
    """Some of the fields that may be moved, each somewhere in its range, its ends included often."""
    values: dict[str, Any] = {}
    for field in FIELDS:
        if random.random() < 0.4 and not entry.dose.is_open:
            continue
        span = getattr(entry.dose_range, field.attribute, None)
        if field.attribute == "tempo":
            if span is not None and (entry.dose.is_open or entry.dose.tempo is not None):
                values["tempo"] = random.choice(span)
        elif field.attribute == "side" and sides_allowed(entry.dose, entry.dose_range):
            values["side"] = random.choice(sides_allowed(entry.dose, entry.dose_range))
        elif field.attribute == "effort":
            if span is not None and (entry.dose.is_open or entry.dose.effort is not None):
                low = random.choice((span.low, random.randint(int(span.low), int(span.high))))
                values["effort"] = Span(low, random.choice((span.high, low)))
        elif field.attribute == "band" and entry.dose.band is not None:
            values["band"] = Ref(random.choice(list(catalogue.bands.values())), PLACE)
        elif span is not None and field.attribute == "weight_kg":
            low, high = round(span.low * 100), round(span.high * 100)
            values["weight_kg"] = random.choice((random.randint(low, high) / 100, weight_of(random.randint(3 * low, 2 * high), True)))
        elif span is not None:
            values[field.attribute] = random.choice((int(span.low), int(span.high), random.randint(int(span.low), int(span.high))))
    return change_of(**values) if values else None


def random_bundle(random: Random, catalogue: BundleCatalogue = SAMPLE) -> PickedBundle:
    """A bundle that must be accepted."""
    entries = random.sample(sorted(catalogue.entries.values(), key=lambda entry: entry.code), random.randint(1, min(12, len(catalogue.entries))))
    picks = (Pick(place=PLACE, exercise=Ref(entry.slug, PLACE), change=random_change(entry, catalogue, random)) for entry in entries)
    return PickedBundle(random.choice(sorted(catalogue.languages.values())), random.choice(sorted(catalogue.locations.values())), random.randint(1, 6), tuple(picks))


def random_plan(random: Random, catalogue: BundleCatalogue = SAMPLE) -> PickedBundle:
    """A bundle over weeks that must be accepted: stages, a cue, more weeks than the earlier versions hold, or none of these."""
    bundle, weeks = random_bundle(random, catalogue), random.choice((6, 7, 12, random.randint(2, 12)))
    picks = tuple(replace(pick, stages=_random_stages(pick, weeks, random, catalogue)) for pick in bundle.picks)
    return replace(bundle, weeks=weeks, picks=picks, cue=random.choice(("", "ABC", "222")))


def _random_stages(pick: Pick, weeks: int, random: Random, catalogue: BundleCatalogue) -> tuple[DoseStage, ...]:
    entry = _entry_of(pick, catalogue)
    dose, week, stages = change_dose(entry.dose, pick.change), 1, []
    for _ in range(random.choice((0, 0, 1, 2, 7))):
        values: dict[str, Any] = {}
        for name in random.sample(staged_fields(dose), random.randint(1, 3)):
            span = getattr(entry.dose_range, name, None)
            if span is None or getattr(dose, name) is None:
                continue
            values[name] = random.randint(round(span.low * 100), round(span.high * 100)) / 100 if name == "weight_kg" else random.randint(int(span.low), int(span.high))
        change = drop_unchanged(change_of(**values) if values else None, dose)
        start = random.choice((week + 1, week + 2, 0)) if (stages and stages[-1].week) or not stages else 0
        if change is None or start > weeks:
            break
        stages.append(DoseStage(place=PLACE, week=start, change=change))
        dose, week = change_dose(dose, change), start
    return tuple(stages)


def random_addition(bundle: PickedBundle, random: Random, catalogue: BundleCatalogue = SAMPLE) -> PickedBundle:
    """The same with something taken in place of things, parts of the session, tests and leaflets, or none of these."""
    picks = []
    for pick in bundle.picks:
        entry, taken = _entry_of(pick, catalogue), dict[str, str]()
        for serving in random.sample(list(catalogue.serving.values()), random.randint(0, len(catalogue.serving))):
            if entry.code in serving.codes:
                taken[serving.thing] = serving.slug
        dose = change_dose(entry.dose, pick.change)
        parts = [None] if dose.is_by_occasion else [None, *(part for part in PartKind if part is not PartKind.ROUNDS or fits_rounds(dose))]
        marks = sorted(taken.values(), key=lambda slug: read_number(name_mark(slug)))
        picks.append(replace(pick, substitutes=tuple(Ref(slug, CODE_PLACE) for slug in marks), part=random.choice(parts)))
    given = tuple(random.sample(list(catalogue.given), random.randint(0, len(catalogue.given))))
    rounds = any(pick.part is PartKind.ROUNDS for pick in picks)
    if random.random() < 0.3:
        picks, rounds = list(bundle.picks), False
    return replace(bundle, picks=tuple(picks), round_rest_seconds=random.choice((0, 45, 90, random.randint(0, 600))) if rounds else 0, given=given)


FORMER_FIELDS = {version: [field for fields in layout for field in fields] for version, layout in LAYOUTS.items()}


def random_former(random: Random, version: int, catalogue: BundleCatalogue = SAMPLE) -> tuple[str, Any]:
    """A code of version 1 or 2, written here by the tables of the specification, and what a reader must answer."""
    while True:
        bundle = random_bundle(random, catalogue)
        picks = tuple(_as_former(pick, version, catalogue) for pick in bundle.picks if not _entry_of(pick, catalogue).dose.is_open)
        if picks and (version == 1 or any(pick.change and pick.change.tempo for pick in picks)):
            break
    bundle = replace(bundle, picks=picks)
    body = write_number(version, 1) + name_mark(bundle.language) + name_mark(bundle.location) + write_number(bundle.weeks, 1)
    for pick in picks:
        entry, bits, values = _entry_of(pick, catalogue), 0, ""
        for number, fields in enumerate(LAYOUTS[version]):
            field = next((each for each in fields if getattr(entry.dose, each.attribute) is not None), fields[0])
            value = getattr(pick.change, field.attribute, None)
            if value is not None:
                bits, values = bits | 1 << number, values + _former_value(value, field)
        body += entry.code + dose_mark(entry.dose) + write_number(bits, 2) + values
    doses = tuple(change_dose(_entry_of(pick, catalogue).dose, pick.change) for pick in picks)
    return body + write_number(crc32(body.encode()), 7), answer_json(OpenedBundle(bundle, doses), catalogue)


def each_digit_changed(code: str) -> list[str]:
    """The code with each digit but the first changed to some others, and the check digits that fit."""
    bodies = (code[:at] + digit + code[at + 1 : -7] for at in range(1, len(code) - 7) for digit in "29AZ")
    return [body + write_number(crc32(body.encode()), 7) for body in bodies]


def _entry_of(pick: Pick, catalogue: BundleCatalogue) -> ExerciseEntry:
    return catalogue.entries[catalogue.code_of(pick.exercise.slug) or ""]


def _as_former(pick: Pick, version: int, catalogue: BundleCatalogue) -> Pick:
    """A pick without what the version cannot hold."""
    names = {field.attribute for field in FORMER_FIELDS[version]}
    kept = {field.attribute: value for field in changed_fields(pick.change) if field.attribute in names and (value := getattr(pick.change, field.attribute)) is not None}
    if kept.get("side") not in FORMER_SIDES:
        kept.pop("side", None)
    if "weight_kg" in kept and round(kept["weight_kg"] * 100) / 100 != kept["weight_kg"]:
        del kept["weight_kg"]
    return replace(pick, change=drop_unchanged(change_of(**kept), _entry_of(pick, catalogue).dose))


def _former_value(value: Any, field: MovableField) -> str:
    if isinstance(value, Ref):
        return name_mark(value.slug)
    number = FORMER_SIDES.index(value) if isinstance(value, Side) else pack_tempo(value) if isinstance(value, Tempo) else value
    return write_number(round(number * 100) if field.attribute == "weight_kg" else number, field.digits)


def bundle_json(bundle: PickedBundle, catalogue: BundleCatalogue = SAMPLE) -> dict[str, Any]:
    """A bundle as the browser holds it."""
    picks = [{"code": catalogue.code_of(pick.exercise.slug) or pick.exercise.slug, "change": _change_json(pick.change)}
             | ({"base": dose_json(pick.base)} if pick.base else {})
             | ({"stages": [{"week": stage.week, "change": _change_json(stage.change)} for stage in pick.stages]} if pick.stages else {})
             | ({"substitutes": [name_mark(ref.slug) for ref in pick.substitutes]} if pick.substitutes else {})
             | ({"part": pick.part.value} if pick.part else {}) for pick in bundle.picks]
    more = ({"roundRest": bundle.round_rest_seconds} if bundle.round_rest_seconds else {}) | ({"given": list(bundle.given)} if bundle.given else {})
    origin = {"origin": _origin_json(bundle.origin)} if bundle.origin else {}
    return {"language": bundle.language, "location": bundle.location, "weeks": bundle.weeks, "picks": picks} | origin | more | ({"cue": bundle.cue} if bundle.cue else {})


def _origin_json(origin: Origin) -> dict[str, Any]:
    return {"kind": origin.kind, "slug": origin.slug, "step": origin.step} | ({"mark": origin.mark} if origin.mark else {})


def _change_json(change: DoseChange | None) -> dict[str, Any]:
    return {field.name: _plain(getattr(change, field.attribute)) for field in changed_fields(change)}


def _plain(value: Any) -> Any:
    if isinstance(value, Span):
        return f"{value.low:g}-{value.high:g}"
    if isinstance(value, Side):
        return value.value
    if isinstance(value, Tempo):
        return pack_tempo(value)
    return value.slug if isinstance(value, Ref) else value


def answer_json(answer: str | OpenedBundle | Refusal, catalogue: BundleCatalogue = SAMPLE) -> Any:
    """What either reader or writer gave, as plain JSON."""
    if isinstance(answer, str):
        return answer
    if isinstance(answer, Refusal):
        named = {"kind": answer.kind.value, "exercise": answer.exercise, "field": answer.field, "value": answer.value,
                 "low": answer.low, "high": answer.high, "replacedBy": answer.replaced_by}
        return {name: value for name, value in named.items() if value is not None}
    doses = [{field.name: _of_dose(value) for field in FIELDS if (value := getattr(dose, field.attribute)) is not None} for dose in answer.doses]
    return {"bundle": bundle_json(answer.bundle, catalogue), "doses": doses, "former": list(answer.former)}


def by_script(encode: Sequence[PickedBundle], decode: Sequence[str], catalogue: BundleCatalogue = SAMPLE) -> tuple[list[Any], list[Any]]:
    """What the browser's side makes of bundles and of codes."""
    given = {"catalogue": catalogue_json(catalogue), "encode": [bundle_json(bundle, catalogue) for bundle in encode], "decode": list(decode)}
    got = ask_script("codes", given)
    return got["encoded"], got["decoded"]


def by_python(encode: Sequence[PickedBundle], decode: Sequence[str], catalogue: BundleCatalogue = SAMPLE) -> tuple[list[Any], list[Any]]:
    """What this side makes of bundles and of codes."""
    encoded = [answer_json(encode_bundle(bundle, catalogue), catalogue) for bundle in encode]
    return encoded, [answer_json(decode_bundle(text, catalogue), catalogue) for text in decode]


def _of_dose(value: Any) -> Any:
    if isinstance(value, Span):
        return [value.low, value.high]
    return [value.go, value.hold, value.back, value.pause] if isinstance(value, Tempo) else _plain(value)


def damage(code: str, random: Random) -> str:
    """The code with one accident: a character changed, lost, added, two swapped, or the end cut."""
    at = random.randrange(len(code))
    other = random.choice("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-#%é")
    kind = random.randrange(5)
    if kind == 0:
        return code[:at] + other + code[at + 1 :]
    if kind == 1:
        return code[:at] + code[at + 1 :]
    if kind == 2:
        return code[:at] + other + code[at:]
    if kind == 3:
        return code[:at] + code[at : at + 2][::-1] + code[at + 2 :]
    return code[:at]




def random_dose(random: Random) -> Dose:
    """Any dose that a library may have."""
    kind = random.choice(("reps", "hold_seconds", "time_seconds", "distance_metres"))
    most = {"reps": 100, "hold_seconds": 300, "time_seconds": 7200, "distance_metres": 20_000}[kind]
    values: dict[str, Any] = {kind: random.choice((random.randint(1, most), random.randint(1, min(most, 30))))}
    if kind == "reps":
        if random.random() < 0.7:
            values["tempo"] = Tempo(*(random.choice((random.randint(0, 3), random.randint(0, 99))) for _ in range(3)), random.choice((0, 0, 2, 99)))
        if random.random() < 0.3:
            values["hold_seconds"] = random.randint(1, 300)
    low = random.randint(0, 10)
    return Dose(
        place=PLACE, sets=random.randint(1, 10), side=random.choice(tuple(Side)), rest_seconds=random.choice((0, 30, 60, random.randint(0, 600))),
        days=random.choice((None, *range(1, 8))), times=random.choice((1, 1, random.randint(1, 12))),
        effort=random.choice((None, Span(low, random.randint(low, 10)), Span(random.randint(0, 500) / 100, random.randint(500, 1000) / 100))),
        weight_kg=random.choice((None, None, random.randint(1, 10_000) / 100, weight_of(random.randint(1, 22_046), True))),
        band=random.choice((None, None, Ref("light", PLACE), Ref("heavy", PLACE))), **values,
    )  # fmt: skip


def random_dose_change(random: Random) -> DoseChange:
    """A change of one or two fields to those of any dose."""
    other = random_dose(random)
    names = random.sample([field.attribute for field in FIELDS], random.choice((1, 1, 2)))
    return change_of(**{name: getattr(other, name) for name in names})


WIDE = DoseRange(place=PLACE, sets=Span(1, 10), reps=Span(1, 100), hold_seconds=Span(1, 300), time_seconds=Span(10, 7200), distance_metres=Span(1, 20_000), days=Span(1, 7),
                 rest_seconds=Span(0, 600), weight_kg=Span(0, 100), times=Span(1, 12), effort=Span(0, 10), side=(Side.BOTH, Side.ONE, Side.ONE_SIDE_FIRST))
DOSE_FIELDS = [field.attribute for field in FIELDS]


def read_pairs(count: int, random: Random) -> Counter[str]:
    """How codes made on one dose are read by a library that has another one now, with or without the first in its ledger."""
    tally: Counter[str] = Counter()
    for _ in range(count):
        old = random_dose(random)
        new = change_dose(old, random_dose_change(random)) if random.random() < 0.7 else random_dose(random)
        allowed = random.choice((None, WIDE))
        before = replace(SAMPLE, entries={"H7K2": ExerciseEntry("H7K2", "heel-raise", old, None)})
        knows = random.random() < 0.5
        after = replace(SAMPLE, entries={"H7K2": ExerciseEntry("H7K2", "heel-raise", new, allowed, (old,) if knows and old != new else ())})
        code = encode_bundle(bundle_of(pick_of("heel-raise")), before)
        assert isinstance(code, str)
        codes = {"version 3": code}
        if knows:
            body = "3" + name_mark("es") + name_mark("market-street") + "8" + "H7K2" + dose_mark(old) + "22"
            codes["version 1"] = body + write_number(crc32(body.encode()), 7)
        for version, text in codes.items():
            answer = decode_bundle(text, after)
            if isinstance(answer, Refusal):
                tally[f"{version}: refused"] += 1
            else:
                right = all(getattr(answer.doses[0], name) == getattr(old, name) for name in DOSE_FIELDS)
                tally[f"{version}: given" if right else "wrong"] += 1
                tally["same mark"] += dose_mark(old) == dose_mark(new) and old != new
    return tally
