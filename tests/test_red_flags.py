"""Stop rules of the demo against the sources they come from: sign, action and whom to call, in three languages.

Each row holds what the text must say, not how: a pattern a sign, a pattern an action.  Patterns of a translation are
their own list, read by hand beside the English ones.  Status: C, the source was read; S, read as others pass it on;
M, from memory; P, common practice with no source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Any

import pytest

from handouts.model import Call, Caution, CautionKind
from tests.words.demo import libraries

E, C, N = Call.EMERGENCY, Call.CLINIC, Call.NONE
EN, ES, AR = "en", "es", "ar"
NUMBER, NOW_911 = r"\b911\b", {EN: r"\b[Cc]all 911\b", ES: r"\b[Ll]lame al 911\b", AR: r"اتصل برقم 911"}


@dataclass(frozen=True)
class Flag:
    """One red flag: its caution, whom it calls, where it comes from, and what each language must say."""

    slug: str
    call: Call
    source: str
    status: str
    signs: dict[str, tuple[str, ...]]
    actions: dict[str, tuple[str, ...]]


STOP = {EN: r"^Stop\b", ES: r"^Pare\b", AR: r"^توقف\b"}
CALL_US = {EN: r"\bCall us\b", ES: r"\bLlámenos\b", AR: r"اتصل بنا"}


def actions(*, en: tuple[str, ...] = (), es: tuple[str, ...] = (), ar: tuple[str, ...] = (), call: Call = E) -> dict[str, tuple[str, ...]]:
    """Stop, the call, and what else must be said."""
    calls = NOW_911 if call is E else CALL_US
    return {language: (STOP[language], calls[language], *more) for language, more in ((EN, en), (ES, es), (AR, ar))}


SHEETS = "Royal Orthopaedic Hospital NHS, page on exercise after falls: stop for dizziness, chest pain, too breathless to speak"
CARD = "United Kingdom warning card and CSP 2024: saddle numbness or tingling, new bladder or bowel change, sexual feeling, both legs"
CLOT = "NHS advice on clots: one-sided swelling, throbbing, warmth, colour (harder to see on brown and black skin); with breathlessness or chest pain the emergency number"
STROKE = "Hospital pages on the signs of a stroke: sudden numbness or weakness of face, arm or leg, trouble speaking or seeing"
PRACTICE = "common practice, no source"

FLAGS = (
    Flag("chest-pain", E, SHEETS, "C",
         {EN: (r"\bpain\b", r"\bpressure\b", r"\bchest\b"), ES: (r"\bdolor\b", r"\bpresión\b", r"\bpecho\b"), AR: (r"ألم", r"ضغط", r"صدرك")},
         actions(en=(r"\bSit down\b",), es=(r"\bSiéntese\b",), ar=(r"اجلس",))),
    Flag("chest-pain-or-muscle", E, "NHS list of signs of a heart attack: pressure, spread to arm, jaw, neck or back, sweat, feeling sick", "S",
         {EN: (r"chest pain", r"not tired muscle", r"\bpresses\b", r"\bspreads\b", r"\barm\b", r"\bjaw\b", r"\bback\b", r"\bsweat\b", r"\bsick\b"),
          ES: (r"dolor en el pecho", r"no es de músculo cansado", r"\boprime\b", r"se extiende", r"\bbrazo\b", r"\bmandíbula\b", r"\bespalda\b", r"\bsuda\b", r"\bnáuseas\b"),
          AR: (r"ألم في صدرك", r"ليس ألم عضلة", r"يضغط", r"ينتشر", r"ذراعك", r"فكك", r"ظهرك", r"تعرق", r"غثيان")},
         actions(en=(r"\bSit down\b", r"even if you are not sure"), es=(r"\bSiéntese\b", r"aunque tenga dudas"), ar=(r"اجلس", r"حتى إن لم تكن متأكد"))),
    Flag("breathless", E, f"{SHEETS}; 5 minutes and when to begin again: {PRACTICE}", "C",
         {EN: (r"too out of breath to speak",), ES: (r"falta tanto el aire", r"no puede hablar"), AR: (r"تلهث", r"لا تستطيع الكلام")},
         actions(en=(r"\bsit down\b", r"not eased after 5 minutes, call 911", r"call us before you start again"),
                 es=(r"\bsiéntese\b", r"no mejora después de 5 minutos, llame al 911", r"llámenos antes de empezar"),
                 ar=(r"اجلس", r"لم تتحسن أنفاسك بعد 5 دقائق، فاتصل برقم 911", r"فاتصل بنا قبل أن تبدأ من جديد"))),
    Flag("dizziness", C, SHEETS, "C",
         {EN: (r"\bdizzy\b", r"\bfaint\b", r"\bsick\b"), ES: (r"\bmareo\b", r"\bdesmayar\b", r"\bnáuseas\b"), AR: (r"دوار", r"الإغماء", r"غثيان")},
         actions(en=(r"\bSit or lie down until it has passed\b", r"before you start again"), es=(r"\bSiéntese o acuéstese hasta que se le pase\b", r"antes de empezar"), ar=(r"اجلس أو استلقِ حتى يزول", r"قبل أن تبدأ"), call=C)),
    Flag("sharp-pain", C, "Silbernagel 2007: pain up to 5 of 10 is allowed in exercise", "C",
         {EN: (r"sharp pain", r"above 5 out of 10"), ES: (r"dolor agudo", r"más de 5 sobre 10"), AR: (r"ألم حاد", r"أشد من 5 من 10")},
         actions(en=(r"Leave this one out", r"\bbefore you try it again\b"), es=(r"Deje este ejercicio", r"antes de intentarlo"), ar=(r"اترك هذا التمرين", r"قبل أن تجربه"), call=C)),
    Flag("calf-swelling", C, f"{CLOT}; where to go after hours: {PRACTICE}", "C",
         {EN: (r"\bOne calf\b", r"\bswells\b", r"\bhurts\b", r"\bthrobs\b", r"\bhot\b", r"changes color", r"brown or black skin", r"harder to see"),
          ES: (r"\bUna pantorrilla\b", r"se hincha", r"le duele", r"punzadas", r"caliente", r"cambia de color", r"piel morena o negra", r"se nota menos"),
          AR: (r"إحدى ساقيك", r"تورم", r"ألم أو", r"نبض مؤلم", r"سخونة", r"تغير في اللون", r"السمراء أو السوداء", r"يصعب")},
         actions(en=(r"Do not rub it", r"Call us now", r"If we are closed, go to urgent care today"), es=(r"No la frote", r"Llámenos ahora", r"Si está cerrado, vaya hoy a urgencias"),
                 ar=(r"لا تدلّك", r"اتصل بنا الآن", r"إذا كانت العيادة مغلقة، فاذهب اليوم إلى مركز رعاية عاجلة"), call=C)),
    Flag("sudden-breathless", E, f"{CLOT}; a clot in the lung often shows no sign in the leg (NHS text as others pass it on)", "S",
         {EN: (r"suddenly short of breath", r"\bor your chest hurts\b", r"\btight\b", r"with or without a sore calf"), ES: (r"De repente le falta el aire", r"\bo le duele\b", r"\bo le oprime el pecho\b", r"con o sin dolor en la pantorrilla"),
          AR: (r"فجأة بضيق في التنفس", r"أو بألم أو شد في صدرك", r"سواء كانت ساقك تؤلمك من الخلف أم لا")},
         actions(en=(r"\bSit down\b",), es=(r"\bSiéntese\b",), ar=(r"اجلس",))),
    Flag("numb-saddle", E, CARD, "C",
         {EN: (r"any one of these", r"\bnumbness or tingling between your legs\b", r"trouble passing urine", r"not feeling it pass", r"lose control of bladder or bowel", r"sex feels different", r"both legs go weak or numb"),
          ES: (r"una sola de estas", r"se le duerme o le hormiguea la zona entre las piernas", r"cuesta orinar", r"no lo siente al orinar", r"Pierde el control de la orina o las heces", r"al tener sexo", r"se le debilitan o se le duermen las dos piernas"),
          AR: (r"واحدًا من هذه", r"خدر أو وخز بين فخذيك", r"صعوبة في التبول", r"عدم الإحساس به", r"تفقد التحكم في البول أو البراز", r"إحساسك عند الجماع", r"تضعف رجلاك معًا أو يصيبهما الخدر")},
         actions(en=(r"\bnow, even at night\b",), es=(r"ahora, aunque sea de noche",), ar=(r"الآن، حتى في الليل",))),
    Flag("leg-weakness", C, f"IFOMPT 2020 (JOSPT), groups of serious spinal disease; {CARD}; {STROKE}", "C",
         {EN: (r"\bOne leg\b", r"\bweak\b", r"\bnumb\b"), ES: (r"\bUna pierna\b", r"pierde fuerza", r"se le duerme"), AR: (r"رجل واحدة", r"بضعف", r"خدر")},
         actions(en=(r"Lie down", r"Call us now", r"If we are closed, go to urgent care", r"If it came suddenly, or in both legs, call 911"),
                 es=(r"Acuéstese", r"Llámenos ahora", r"Si está cerrado, vaya a urgencias", r"Si empezó de repente o en las dos piernas, llame al 911"),
                 ar=(r"استلقِ", r"اتصل بنا الآن", r"إذا كانت العيادة مغلقة، فاذهب إلى مركز رعاية عاجلة", r"فجأة، أو في الرجلين معًا، فاتصل برقم 911"), call=C)),
    Flag("stroke", E, STROKE, "C",
         {EN: (r"\barm\b", r"\bleg\b", r"one side of your face", r"suddenly weak or numb", r"suddenly have trouble speaking or seeing"),
          ES: (r"\bbrazo\b", r"\bpierna\b", r"un lado de la cara", r"se le debilita o se le duerme de repente", r"de repente le cuesta hablar o ver"),
          AR: (r"ذراع", r"رجل", r"جانب واحد من وجهك", r"فجأة بضعف أو خدر", r"فجأة صعوبة في الكلام أو الرؤية")},
         actions(en=(r"\bnow\b", r"Do not wait for it to pass"), es=(r"\bahora\b", r"No espere a que se le pase"), ar=(r"الآن", r"لا تنتظر حتى يزول"))),
    Flag("bad-fall", E, f"Ambulance and hospital advice after a fall: hit head, blood thinners, cannot get up or bear weight, new pain; put together: {PRACTICE}", "S",
         {EN: (r"\bfall\b", r"\bhit your head\b", r"take blood thinners", r"cannot stand", r"put weight on a leg", r"\bhip\b", r"\bback hurts"),
          ES: (r"Se cae", r"golpea la cabeza", r"anticoagulantes", r"no puede pararse", r"apoyar peso en una pierna", r"\bcadera\b", r"\bespalda\b"),
          AR: (r"تسقط", r"يصطدم رأسك", r"مميعات الدم", r"لا تستطيع الوقوف", r"وضع وزنك على رجل", r"وركك", r"ظهرك")},
         actions(en=(r"Stay where you are",), es=(r"Quédese donde está",), ar=(r"ابقَ في مكانك",))),
    Flag("near-fall", C, PRACTICE, "P",
         {EN: (r"\bYou fall\b", r"\bnearly fall\b"), ES: (r"Se cae", r"casi se cae"), AR: (r"تسقط", r"تكاد تسقط")},
         actions(en=(r"for today", r"even if you are not hurt"), es=(r"por hoy", r"aunque no se haya lastimado"), ar=(r"لهذا اليوم", r"حتى لو لم تُصب"), call=C)),
    Flag("cannot-step", C, "Stiell 1992, ankle rules (4 steps, bone tenderness); bones of the middle of the foot", "M",
         {EN: (r"cannot take 4 steps", r"bone of the ankle", r"middle of the foot", r"hurts when pressed"), ES: (r"No puede dar 4 pasos", r"hueso del tobillo", r"medio del pie", r"al apretarlo"),
          AR: (r"لا تستطيع أن تمشي 4 خطوات", r"عظم في الكاحل", r"وسط القدم", r"عند الضغط عليه")},
         actions(en=(r"Keep your weight off the foot", r"today"), es=(r"No apoye peso", r"hoy"), ar=(r"لا تضع وزنك", r"اليوم"), call=C)),
    Flag("arm-drops", C, PRACTICE, "P",
         {EN: (r"\bpop\b", r"cannot lift your arm"), ES: (r"chasquido", r"no puede levantar el brazo"), AR: (r"فرقعة", r"لا تستطيع رفع ذراعك")},
         actions(en=(r"Rest the arm", r"today"), es=(r"Descanse el brazo", r"hoy"), ar=(r"أرح الذراع", r"اليوم"), call=C)),
    Flag("arm-numb", C, f"{PRACTICE}; sudden weakness: {STROKE}", "C",
         {EN: (r"\barm or hand\b", r"\bnumb\b", r"\btingles\b", r"\bweak\b"), ES: (r"brazo o la mano", r"se duerme", r"hormiguea", r"pierde fuerza"), AR: (r"ذراعك أو يدك", r"خدر", r"وخز", r"ضعف")},
         actions(en=(r"before your next session", r"If the arm is suddenly weak, call 911"), es=(r"antes de su próxima sesión", r"pierde la fuerza de repente, llame al 911"), ar=(r"قبل جلستك التالية", r"ضعفت الذراع فجأة، فاتصل برقم 911"), call=C)),
    Flag("hot-joint", C, f"IFOMPT 2020: infection, ask about fever; for other joints: {PRACTICE}", "C",
         {EN: (r"\bhot and red\b", r"\bfever\b"), ES: (r"caliente y roja", r"fiebre"), AR: (r"ساخنًا وأحمر", r"الحمى")},
         actions(en=(r"today", r"If we are closed, go to urgent care"), es=(r"hoy", r"Si está cerrado, vaya a urgencias"), ar=(r"اليوم", r"إذا كانت العيادة مغلقة، فاذهب إلى مركز رعاية عاجلة"), call=C)),
    Flag("knee-gives-way", C, PRACTICE, "P",
         {EN: (r"\bknee\b", r"\bstuck\b", r"\bswells\b", r"gives way"), ES: (r"rodilla", r"se traba", r"se hincha", r"le falla"), AR: (r"تعلق ركبتك", r"تتورم", r"تنثني تحتك فجأة")},
         actions(en=(r"Sit down", r"before your next session"), es=(r"Siéntese", r"antes de su próxima sesión"), ar=(r"اجلس", r"قبل جلستك التالية"), call=C)),
    Flag("ankle-gives-way", C, PRACTICE, "P",
         {EN: (r"\bankle\b", r"rolls again", r"swells more than before"), ES: (r"se le dobla otra vez", r"se hincha más que antes"), AR: (r"يلتوي كاحلك مرة أخرى", r"يتورم أكثر من قبل")},
         actions(en=(r"Put the foot up", r"before your next session"), es=(r"Levante el pie", r"antes de su próxima sesión"), ar=(r"ضع القدم في مكان مرتفع", r"قبل جلستك التالية"), call=C)),
)  # fmt: skip

WEAK = {
    EN: r"\b(?:carry on|keep going|continue|go on|push through|only|severe|severely|badly|very|always|rest(?:ing)? first|try again|unless|whole day|do not (?:call|stop|sit)|no need|for \d+ days?)\b",
    ES: r"\b(?:siga|continúe|sigue|solo|sólo|grave|muy|siempre|salvo|excepto|no (?:llame|pare)|todo el día)\b",
    AR: r"(?:تابع|استمر|واصل|فقط|شديدًا|جدًا|دائمًا|إلا إذا|لا تتصل|لا تتوقف|طوال اليوم)",
}
"""Words that would weaken a sign or an action."""
OR = {EN: r"\b[Oo]r\b", ES: r"\b[OoUu]\b|\bni\b", AR: r"(?<!\w)أو(?!\w)"}
"""What joins signs of which one is enough."""
ORS = {
    # how often it stands in the sign, in English, Spanish and Arabic: an 'or' that turns into an 'and' asks for more
    "chest-pain": (1, 1, 1), "chest-pain-or-muscle": (4, 4, 5), "breathless": (0, 0, 0), "dizziness": (1, 1, 2), "sharp-pain": (1, 1, 1),
    "calf-swelling": (3, 3, 5), "sudden-breathless": (3, 3, 2), "numb-saddle": (5, 5, 8), "leg-weakness": (1, 1, 1), "stroke": (4, 4, 5),
    "bad-fall": (4, 4, 5), "near-fall": (1, 1, 1), "cannot-step": (2, 2, 2), "arm-drops": (0, 0, 0), "arm-numb": (2, 2, 3),
    "hot-joint": (1, 1, 1), "knee-gives-way": (1, 1, 2), "ankle-gives-way": (1, 1, 1),
}  # fmt: skip


def faults(flag: Flag, caution: Caution, language: str) -> list[str]:
    """What a caution lacks of its row."""
    found = [f"sign {sign}" for sign in flag.signs[language] if not re.search(sign, caution.when.text)]
    found += [f"action {action}" for action in flag.actions[language] if not re.search(action, caution.do.text)]
    found += [f"weak: {word}" for text in (caution.when, caution.do) for word in re.findall(WEAK[language], text.text, re.IGNORECASE)]
    ors = len(re.findall(OR[language], caution.when.text))
    found += [f"{ors} times 'or'"] if ors != ORS[flag.slug][(EN, ES, AR).index(language)] else []
    found += [f"call {caution.call}"] if caution.call is not flag.call else []
    return found + ([f"kind {caution.kind}"] if caution.kind is not CautionKind.STOP else [])


CASES = [(flag, language) for flag in FLAGS for language in (EN, ES, AR)]
IDS = [f"{flag.slug}-{language}" for flag, language in CASES]


def said(caution: Caution, **texts: str) -> Caution:
    """The caution with other texts."""
    return replace(caution, **{name: replace(getattr(caution, name), text=text) for name, text in texts.items()})


def test_every_stop_rule_has_its_row() -> None:
    """A new stop rule comes with its row."""
    rules = {caution.slug for caution in libraries()[EN].cautions if caution.kind is CautionKind.STOP}
    assert rules == {flag.slug for flag in FLAGS}
    assert all(flag.status in "CSMP" and (flag.status == "P") == (flag.source == PRACTICE) for flag in FLAGS)


@pytest.mark.parametrize(("flag", "language"), CASES, ids=IDS)
def test_red_flag(flag: Flag, language: str) -> None:
    """Sign, action and whom to call are those of the row."""
    assert faults(flag, libraries()[language].caution[flag.slug], language) == []


@pytest.mark.parametrize(("flag", "language"), CASES, ids=IDS)
def test_what_is_weakened_is_found(flag: Flag, language: str) -> None:
    """Each sign and each action taken out, each other call, another kind, "Carry on": every one of them is found."""
    caution = libraries()[language].caution[flag.slug]
    weaker: list[Caution] = [replace(caution, call=call) for call in Call if call is not flag.call]
    weaker += [replace(caution, kind=kind) for kind in CautionKind if kind is not CautionKind.STOP]
    weaker += [said(caution, when=re.sub(sign, "", caution.when.text)) for sign in flag.signs[language]]
    weaker += [said(caution, do=re.sub(action, "", caution.do.text)) for action in flag.actions[language]]
    joined = re.sub(OR[language], {EN: "and", ES: "y", AR: "مع"}[language], caution.when.text, count=1)
    weaker += [said(caution, when=joined)] if joined != caution.when.text else []
    nonsense = {EN: "Carry on when it is gone.", ES: "Siga cuando se le pase.", AR: "تابع عندما يزول ذلك."}[language]
    weaker += [said(caution, do=nonsense), replace(said(caution, do=nonsense), call=N), said(caution, do=f"{caution.do.text} {nonsense}")]
    assert all(faults(flag, each, language) for each in weaker)


def test_status_m_is_said_in_the_data() -> None:
    """What comes from memory says so beside its source; what has no source says that."""
    cautions = libraries()[EN].caution
    for flag in FLAGS:
        source = cautions[flag.slug].source.casefold()
        assert ("from memory" in source) == (flag.status == "M"), flag.slug
        assert ("passed on by others" in source or "put together here" in source) == (flag.status == "S"), flag.slug
        assert flag.status != "P" or source == PRACTICE


NUMBERS: tuple[tuple[str, str, str], ...] = (
    # caution, numbers of its sign, source
    ("new-hip", "12", "Eannucci 2019, HSS Journal 15:247: precautions for 6 to 12 weeks"),
    ("new-knee", "12", PRACTICE),
    ("shoulder-surgery", "6", "Thigpen 2016, JSES 25:521: the last phase ends at 26 weeks, 6 months"),
    ("back-surgery", "16", "hospital leaflets: 6 weeks to about 4 months"),
    ("broken-bone", "12", PRACTICE),
    ("pregnant", "16", "health-service texts: from 12, 16 or 19 weeks; the clinic uses 16"),
)


@pytest.mark.parametrize(("slug", "numbers", "source"), NUMBERS, ids=[row[0] for row in NUMBERS])
def test_numbers_of_what_to_ask_first(slug: str, numbers: str, source: str) -> None:
    """The weeks and months in which to ask first, in every language."""
    assert source
    for language in (EN, ES, AR):
        assert re.findall(r"\d+", libraries()[language].caution[slug].when.text) == [numbers], language


ASKED: dict[str, tuple[Call, str, str]] = {
    # what to ask first and what to take care with: whom it calls, the numbers of what to do, and the source of both
    **dict.fromkeys(("new-hip", "new-knee", "shoulder-surgery", "back-surgery", "broken-bone", "pregnant", "thin-bones", "old-band"), (C, "", PRACTICE)),
    **dict.fromkeys(("heart", "breathe-out", "floor-is-hard", "hold-on", "sore-wrist", "sore-knee", "numb-feet"), (N, "", PRACTICE)),
    "room-spins": (N, "1", "Bhattacharyya 2017, guideline on positional vertigo, from memory; sitting for 1 minute: common practice, no source"),
}  # fmt: skip


def test_every_caution_that_is_no_stop_rule_has_its_row() -> None:
    """A new one comes with its row."""
    assert set(ASKED) == {caution.slug for caution in libraries()[EN].cautions if caution.kind is not CautionKind.STOP}


@pytest.mark.parametrize("slug", ASKED)
def test_whom_to_ask_and_what_to_do(slug: str) -> None:
    """The call and the numbers of what to do, in every language."""
    call, numbers, source = ASKED[slug]
    assert source
    for language in (EN, ES, AR):
        caution = libraries()[language].caution[slug]
        assert (caution.call, " ".join(re.findall(r"\d+", caution.do.text))) == (call, numbers), language


WHERE: tuple[tuple[str, Any, frozenset[str], str], ...] = (
    # what, which exercises, the stop rules that each must carry, source
    ("calf", lambda exercise: "calf" in {ref.slug for ref in exercise.regions}, frozenset({"calf-swelling", "sudden-breathless"}), CLOT),
    ("fall", lambda exercise: "near-fall" in {ref.slug for ref in exercise.cautions}, frozenset({"bad-fall"}), PRACTICE),
    ("chest works", lambda exercise: "chest" in {ref.slug for ref in exercise.regions}, frozenset({"chest-pain-or-muscle"}), PRACTICE),
)


@pytest.mark.parametrize(("what", "applies", "rules", "source"), WHERE, ids=[row[0] for row in WHERE])
def test_rules_stand_where_they_belong(what: str, applies: Any, rules: frozenset[str], source: str) -> None:
    """Exercises of a part of the body carry the rules about it."""
    assert source
    exercises = [exercise for exercise in libraries()[EN].exercises if applies(exercise)]
    assert exercises, what
    for exercise in exercises:
        assert rules <= {ref.slug for ref in exercise.cautions}, exercise.slug


def test_programmes_carry_stroke_and_breath() -> None:
    """The signs of a stroke and of a heart or lung that fails are told in every programme, falls where the people are over 60."""
    for programme in libraries()[EN].programmes:
        held = {ref.slug for ref in programme.cautions}
        assert {"stroke", "breathless"} <= held, programme.slug
        assert held & {"chest-pain", "sudden-breathless"}, programme.slug
    (stairs,) = (each for each in libraries()[EN].programmes if "over 60" in each.suits.text)
    assert {"bad-fall", "near-fall", "dizziness", "heart"} <= {ref.slug for ref in stairs.cautions}
