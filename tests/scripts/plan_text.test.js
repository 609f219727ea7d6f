/** A plan as it is typed: what each of the sentences is read as, and what of it is said not to be understood. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { encodeBundle } from "../../templates/scripts/src/bundle/code.js";
import { emptyDraft } from "../../templates/scripts/src/bundle/draft.js";
import { codeInChart, isPlanText, namesIn, readPlan } from "../../templates/scripts/src/bundle/plan_text.js";
import { PATTERNS } from "../../templates/scripts/src/bundle/plan_words.js";
import { splitWords } from "../../templates/scripts/src/fold.js";
import { BOOK } from "./book.js";

const entry = (title, dose, range) => ({ ...BOOK.exercises.WALK, title, dose: { side: "together", rest: 60, times: 1, days: 3, ...dose }, range: { sets: [1, 4], rest: [30, 120], days: [2, 7], times: [1, 3], ...range } });
const EXERCISES = {
  STND: entry("Sit to stand", { sets: 3, reps: 10, tempo: [1, 3, 1, 0], effort: [3, 5] }, { reps: [5, 15], tempo: [2440, 4248], effort: [2, 7] }),
  BRGN: entry("Bridge on one leg", { sets: 2, reps: 6 }, { reps: [4, 8] }), // found first, but not so called
  BRDG: entry("Bridge", { sets: 2, reps: 10, hold: 3 }, { reps: [5, 15], hold: [2, 10] }),
  HEEL: entry("Heel raise", { sets: 3, reps: 12, tempo: [2, 1, 2, 0] }, { reps: [5, 20] }),
  CALF: entry("Calf stretch", { sets: 2, hold: 30, side: "both" }, { hold: [10, 60], side: ["both", "one-side-first"] }),
  WALK: entry("Walk", { sets: 1, time: 1200 }, { time: [300, 3600] }),
  SWNG: entry("Arm swing, leaning on a table", { sets: 1, time: 30 }, { time: [20, 90] }),
  CLAM: entry("Clamshell", { sets: 3, reps: 12, side: "one" }, { reps: [8, 15] }),
  TRNB: entry("Turn-out on your back", { sets: 3, reps: 12 }, { reps: [8, 15] }),
  TRNS: entry("Turn-out on your side", { sets: 3, reps: 12, side: "one" }, { reps: [8, 15] }),
  CVRL: entry("Curl", { sets: 3, reps: 10, weight: 2 }, { reps: [5, 15], weight: [0.5, 5] }),
  HALL: entry("Side steps", { sets: 2, distance: 10 }, { distance: [5, 30] }),
};
const LIBRARY = { ...BOOK, exercises: EXERCISES };
const CALLED = { languages: { spanish: "es", espanol: "es", english: "en" }, sheet: { a4: { paper: "a4" }, "large type": { size: "large" } } };
const EMPTY = emptyDraft(LIBRARY, "mill");
/** Every word must begin a word of the title: what a search does. */
const find = (name) => Object.keys(EXERCISES).filter((code) => splitWords(name, true).every((word) => splitWords(EXERCISES[code].title, false).some((other) => other.startsWith(word))));

/** A plan in short: exercises with what differs from the library's dose, weeks other than 4, language, then ? what was not understood, ! what is not allowed. */
function tell(text) {
  const { draft, unread } = readPlan(text, EMPTY, LIBRARY, find, CALLED);
  const picks = draft.bundle.picks.map(({ code, change }) => [code, ...Object.entries(change).map(([name, value]) => `${name}=${value}`)].join(" "));
  const { weeks, language } = draft.bundle;
  const { paper, size } = draft.sheet;
  const others = [weeks === 4 ? "" : `w${weeks}`, language === "en" ? "" : language, paper === "letter" ? "" : paper, size === "standard" ? "" : size].filter(Boolean);
  return [...picks, ...others, ...unread.map((one) => `${one.refusal ? "!" : "?"}${one.text}`)].join("; ");
}

/** By what they all are read as. */
const SENTENCES = {
  "STND reps=8": [
    "sit to stand 3x8", "3x8 sit to stand", "sit to stand 3 x 8", "sit to stand 3×8", "sit to stand 3*8", "Sit to stand: 3x8", "SIT TO STAND 3X8", "sit to stand 3 sets of 8",
    "sit to stand 3 sets 8 reps", "sit to stand three sets of eight", "sit to stand - 3x8 reps", "sit to stand 8 reps", "sit to stand x8", "sit to stand, 3 sets, 8 reps", "sit to stand 8 times",
    "sit to stand 8 repetitions", "8 reps x 3 sets sit to stand", "sit to stand; 3x8", "sit to stand\n3x8", "sit to stand (3x8)", "sit to stand 3 series de 8", "sit to stand 3 series de 8 repeticiones",
    "sit to stand 3 séries de 8", "sit to stand 3 مجموعات من 8", "sit to stand ٣x٨", "sit to stand 3 hiệp 8 lần", "sit to stand 3组8次", "sit to stand x 8", "sit to stand 3x8.", "do sit to stand 3x8",
    "STND 3x8", "stnd 3x8", "sit to stand  3 x8", "then sit to stand 3x8", "sit to stand with 3x8", "sit 3x8", "stand sit 3x8", "• sit to stand 3x8", "sit to stand, eight reps", "3 sets of 8 sit to stand",
  ],
  "BRDG; w3": [
    "bridge, 3 weeks", "bridge for 3 weeks", "bridge, 3 wks", "bridge 3w", "bridge x 3 weeks", "bridge, 3 semanas", "bridge durante 3 semanas", "bridge, 3 semaines", "bridge pendant 3 semaines", "bridge, 3 أسابيع",
    "bridge، لمدة 3 أسابيع", "bridge, 3 tuần", "bridge trong 3 tuần", "bridge，3周", "bridge, three weeks", "3 weeks: bridge", "bridge; 3 weeks", "bridge 3-week", "3 weeks, bridge",
  ],
  "BRDG hold=5": [
    "bridge hold 5", "bridge 2x10 hold 5", "bridge hold 5 s", "bridge hold for 5 seconds", "bridge 5 s hold", "bridge 5-second hold", "bridge 5 second hold", "bridge holding 5 seconds", "bridge hold 5 sec each time", "bridge, hold 5",
    "bridge 2x10, hold 5", "bridge mantener 5 segundos", "bridge tenir 5 secondes", "bridge giữ 5 giây", "bridge 保持5秒", "bridge مع الثبات 5 ثوان", "bridge 2x10 5s hold", "bridge hold 5\"", "hold 5 bridge", "bridge hold: 5",
  ],
  "CALF sets=3": ["calf stretch 3x30", "calf stretch 3x30s", "calf stretch 3 x 30 sec", "calf stretch 3 holds of 30 seconds", "calf stretch 3 sets", "calf stretch 3 sets of 30 s each side", "calf 3x30 both legs", "calf stretch 3x30 s per side", "calf stretch 3 holds", "calf stretch, 3 x 30 segundos, cada lado"],
  "CALF sets=3 hold=20": ["calf stretch 3x20", "calf stretch 3x20s", "calf stretch 3 sets hold 20", "calf stretch hold 20 s 3 sets", "3 sets of 20 seconds calf stretch"],
  "CALF hold=60": ["calf stretch 1 min", "calf stretch hold 1 minute", "calf stretch 60 s", "calf stretch 2x60", "calf stretch 2x1 min"],
  "CALF side=one-side-first": ["calf stretch one side first", "calf stretch, all sets on one side first"],
  "CLAM side=left": [
    "clamshell left", "clamshell 3x12 left", "clamshell left side", "clamshell left leg", "left clamshell", "clamshell (L)", "clamshell L", "L clamshell", "clamshell 3x12 L", "clamshell lt", "clamshell on the left", "clamshell on the left side only",
    "clamshell with the left leg", "clamshell, left", "clamshell 3x12, left side", "clamshell left side only", "clamshell a la izquierda", "clamshell, lado izquierdo", "clamshell pierna izquierda", "clamshell 3x12 izquierda", "clamshell à gauche", "clamshell côté gauche",
    "clamshell, jambe gauche", "clamshell du côté gauche seulement", "clamshell الجانب الأيسر", "clamshell 3x12 الساق، الرجل اليسرى".replace(" الساق،", ""), "clamshell يسار", "clamshell bên trái", "clamshell, chân trái", "clamshell 左侧", "clamshell，左腿", "clamshell 左",
  ],
  "CLAM side=right": [
    "clamshell right", "clamshell R", "clamshell (R) 3x12", "clamshell rt", "clamshell right arm", "clamshell on the right", "clamshell derecha", "clamshell lado derecho", "clamshell à droite", "clamshell côté droit", "clamshell الجانب الأيمن", "clamshell bên phải", "clamshell 右侧", "CLAM right",
  ],
  "TRNS side=left": ["turn-out on your side left", "turn-out on your side, left", "turn-out on your side left side", "left turn-out on your side", "turn-out on your side 3x12 (L)", "turn-out on your side lado izquierdo"],
  "CLAM side=both": ["clamshell each side", "clamshell both legs", "clamshell 3x12 each side", "clamshell, cada lado"],
  "WALK time=1800": ["walk 30 min", "walk 30 minutes", "walk 30 minutos", "30 min walk", "walk 1x30", "walk 1 set of 30 min", "walk 30 دقيقة", "walk 30 phút", "walk 30分钟", "walk 1800 s"],
  "HALL distance=20": ["side steps 20 m", "side steps 2x20", "side steps 2 x 20 meters", "side steps 20 metros", "side steps 20 mètres", "side steps 2x20m"],
  "SWNG time=60": ["arm swing, leaning on a table 60 s", "arm swing 1x60", "arm swing 60 seconds", "Arm swing, leaning on a table, 1 min"],
  "STND days=5": [
    "sit to stand 5 days a week", "sit to stand 5x/week", "sit to stand 5 x per week", "sit to stand 5 times a week", "sit to stand 5/wk", "sit to stand 5 d/w", "sit to stand 5 days/week", "sit to stand five days a week", "sit to stand 5x weekly",
    "sit to stand 5 días por semana", "sit to stand 5 veces a la semana", "sit to stand 5 jours par semaine", "sit to stand 5 fois par semaine", "sit to stand 5 أيام في الأسبوع", "sit to stand 5 ngày mỗi tuần", "sit to stand 每周5天", "sit to stand, 5 days per week",
  ],
  "STND days=7": ["sit to stand daily", "sit to stand every day", "sit to stand todos los días", "sit to stand tous les jours", "sit to stand كل يوم", "sit to stand mỗi ngày", "sit to stand 每天", "daily sit to stand"],
  "STND times=2": ["sit to stand 2x/day", "sit to stand twice a day", "sit to stand 2 times a day", "sit to stand 2x daily", "sit to stand bid", "sit to stand twice daily", "sit to stand 2 veces al día", "sit to stand 2 fois par jour", "sit to stand مرتين في اليوم", "sit to stand 2 lần mỗi ngày", "sit to stand 每天2次", "sit to stand 2 per day"],
  "STND rest=90": ["sit to stand rest 90", "sit to stand rest 90 s", "sit to stand rest 90 seconds between sets", "sit to stand 90 s rest", "sit to stand descanso 90 segundos", "sit to stand repos 90 secondes", "sit to stand راحة 90 ثانية", "sit to stand nghỉ 90 giây", "sit to stand 休息90秒", "sit to stand rest 1.5 min", "sit to stand rest 1,5 min"],
  "STND effort=4-6": ["sit to stand effort 4-6", "sit to stand rpe 4-6", "sit to stand effort 4 to 6 out of 10", "sit to stand, effort: 4-6/10"],
  "STND tempo=4248": ["sit to stand hold 1", "sit to stand tempo 2-1-3", "sit to stand, tempo: 2-1-3", "sit to stand tempo 2/1/3"],
  "CVRL weight=3": ["curl 3 kg", "curl with 3 kg", "curl 3x10 3kg", "curl 3x10, with 3 kilos", "curl 3 كغ"],
  "BRDG; es": ["bridge, Spanish", "bridge, in Spanish", "bridge in Spanish", "bridge, Español", "Spanish, bridge"],
  HEEL: ["heel raise hold 1", "heel raise 3x12"],
  "BRDG; a4": ["bridge, A4", "bridge on A4"],
  "BRDG; large": ["bridge, large type", "bridge in large type"],
  "STND reps=8; BRDG hold=5; HEEL; es": ["sit to stand 3x8, bridge 2x10 hold 5, heel raise, 4 weeks, Spanish", "Sit to stand 3 sets of 8; bridge hold 5 s; heel raise; in Spanish", "sit to stand 3x8\nbridge 2x10, 5 s hold\nheel raise 3x12\n4 weeks\nSpanish"],
  "HEEL reps=15 days=5; WALK time=1500 days=7; w6": ["heel raise 3x15 5 days a week, walk 25 min daily, 6 weeks", "6 weeks, heel raise 3x15, 5x/week, walk 25 min every day"],
  "STND; BRDG; HEEL": ["sit to stand, bridge, heel raise", "sit to stand; bridge; heel raise", "sit to stand\nbridge\nheel raise", "sit to stand، bridge، heel raise", "sit to stand、bridge、heel raise", "STND, BRDG, HEEL"],
};

/** What is wrong on purpose, and what is kept of it. */
const WRONG = {
  "floss 3x8": "?floss; ?3x8",
  "bridge, floss 3x8": "BRDG; ?floss; ?3x8",
  "heel raise hold 4": "HEEL; !hold 4",
  "3x8": "?3x8",
  "hold 5": "?hold 5",
  "sit to stand 3x30": "STND; !3x30",
  "sit to stand 9x8": "STND reps=8; !9x8",
  "sit to stand 0x8": "STND reps=8; !0x8",
  "sit to stand 3x0": "STND; !3x0",
  "sit to stand 3x8, 13 weeks": "STND reps=8; !13 weeks",
  "sit to stand, 0 weeks": "STND; !0 weeks",
  "sit to stand, 2.5 weeks": "STND; !2.5 weeks",
  "sit to stand 3x8, Klingon": "STND reps=8; ?Klingon",
  "bridge, brigde": "BRDG; ?brigde",
  "sit to stand hold 5": "STND; !hold 5",
  "sit to stand hold 0": "STND; !hold 0",
  "walk 3x10 reps": "WALK sets=3; !3x10 reps",
  "walk 300 min": "WALK; !300 min",
  "walk half an hour": "?walk half an hour",
  "calf stretch 3x5": "CALF sets=3; !3x5",
  "calf stretch left side": "CALF; !left side",
  "sit to stand left": "STND; !left",
  "left": "?left",
  "clamshell leftover": "?clamshell leftover",
  "clamshell rightly so": "?clamshell rightly so",
  "curl 50 kg": "CVRL; !50 kg",
  "curl 3 stone": "?curl 3 stone",
  "bridge 2 kg": "BRDG; !2 kg",
  "sit to stand tempo 9-9-9": "STND; !tempo 9-9-9",
  "sit to stand effort 9": "STND; !effort 9",
  "sit to stand 9 days a week": "STND; !9 days a week",
  "sit to stand 1 day a week": "STND; !1 day a week",
  "sit to stand 5 times a day": "STND; !5 times a day",
  "sit to stand rest 5 min": "STND; !rest 5 min",
  "sit to stand 2.5 reps": "STND; !2.5 reps",
  "sit to stand 3x8; see Dr. Who on Monday": "STND reps=8; ?see Dr. Who on Monday",
  "sit to stand one side first": "STND; !one side first",
  "bridge sit to stand": "?bridge sit to stand",
  "<img src=x onerror=alert(1)>, bridge": "BRDG; ?img src=x onerror=alert(1",
  "__proto__, constructor, bridge": "BRDG; ?proto; ?constructor",
  "side steps 200 m": "HALL; !200 m",
};

test("each sentence is read as it was meant", () => {
  const wrong = Object.entries(SENTENCES).flatMap(([wanted, texts]) => texts.filter((text) => tell(text) !== wanted).map((text) => `${text}  ->  ${tell(text)}  (${wanted})`));
  assert.deepEqual(wrong, []);
});

test("what is wrong is named, and the rest is kept", () => {
  const wrong = Object.entries(WRONG).filter(([text, wanted]) => tell(text) !== wanted).map(([text, wanted]) => `${text}  ->  ${tell(text)}  (${wanted})`);
  assert.deepEqual(wrong, []);
});

test("there are at least 200 sentences, 30 of them wrong on purpose", () => {
  const wrong = Object.keys(WRONG).length;
  assert.ok(wrong >= 30 && Object.values(SENTENCES).flat().length + wrong >= 200);
});

test("what was not understood is a piece of the text as it was typed", () => {
  for (const text of Object.keys(WRONG)) for (const { from, to, text: part } of readPlan(text, EMPTY, LIBRARY, find, CALLED).unread) assert.equal(text.slice(from, to), part);
  const text = "Émile ٣ 3x8, bridge";
  const [first] = readPlan(text, EMPTY, LIBRARY, find, CALLED).unread;
  assert.equal(text.slice(first.from, first.to), "Émile ٣");
});

test("one name alone is no plan but a search; the names are what a search is asked for", () => {
  assert.deepEqual(["bridge", "weak knees", "", "step 2", "bridge 2x10", "bridge, heel raise"].map((text) => isPlanText(text, LIBRARY)), [false, false, false, false, true, true]);
  const sided = ["left knee", "clamshell left", "left knee pain, bridge", "left shoulder 3x8", "CLAM R", "right clams"];
  assert.deepEqual(sided.map((text) => isPlanText(text, LIBRARY)), [false, true, true, true, true, false]);
  assert.deepEqual(namesIn("sit to stand 3x8, bridge hold 5; 4 weeks"), ["sit to stand", "bridge"]);
});

test("an exercise that is picked already takes its new dose; no more than twelve are picked", () => {
  const before = readPlan("bridge, heel raise", EMPTY, LIBRARY, find, CALLED).draft;
  const { draft } = readPlan("heel raise 2x8", before, LIBRARY, find, CALLED);
  assert.deepEqual(draft.bundle.picks, [{ code: "BRDG", change: {} }, { code: "HEEL", change: { sets: 2, reps: 8 } }]);
});

test("a text for the chart, pasted whole, gives the bundle of its code, in any language and any layout", () => {
  const { draft } = readPlan("sit to stand 3x8, bridge hold 5, 3 weeks", EMPTY, LIBRARY, find, CALLED);
  const code = encodeBundle(draft.bundle, LIBRARY);
  assert.equal(typeof code, "string", JSON.stringify(code));
  for (const text of [`Home exercises: Hill\n1. Sit to stand [STND]: 3 sets of 8\nBundle code: ${code}`, `Ejercicios\r\nCódigo: ${code}\r\n`, `x；代码：${code}`, `a; b: c; Code: ${code}; end`]) {
    assert.equal(codeInChart(text, LIBRARY), code, text);
  }
  const other = encodeBundle(readPlan("walk", EMPTY, LIBRARY, find, CALLED).draft.bundle, LIBRARY);
  assert.equal(codeInChart(`Last visit: ${other}\nBundle code: ${code}`, LIBRARY), code);
  assert.equal(codeInChart("sit to stand 3x8, bridge\nBundle code: 2222", LIBRARY), "");
  assert.equal(codeInChart("", LIBRARY), "");
});

test("the patterns name few classes of letters: a browser works out each of them anew, before the page can be used", () => {
  const counts = PATTERNS.map(({ pattern }) => pattern.source.split("\\p{").length - 1);
  assert.ok(Math.max(...counts) <= 50, `${counts}`);
});
