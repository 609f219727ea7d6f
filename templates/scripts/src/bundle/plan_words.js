/**
 * How people write a dose in the languages of the interface, as patterns over folded text (fold.js: no case, no accents).
 * All languages at once, since a plan is typed as it is said, and English abbreviations are used everywhere.
 */

const BEFORE = "(?<![\\p{L}\\p{N}])";
const AFTER = "(?![\\p{L}\\p{N}])";

/** Numbers that are written as words. @type {Record<string, number>} */
const NUMBER_WORDS = {
  one: 1, two: 2, three: 3, four: 4, five: 5, six: 6, seven: 7, eight: 8, nine: 9, ten: 10, twelve: 12, fifteen: 15, twenty: 20, thirty: 30,
  una: 1, dos: 2, tres: 3, cuatro: 4, cinco: 5, seis: 6, siete: 7, ocho: 8, diez: 10, doce: 12, quince: 15, veinte: 20, treinta: 30,
  deux: 2, trois: 3, quatre: 4, cinq: 5, sept: 7, huit: 8, dix: 10, quinze: 15, vingt: 20, trente: 30,
};
/** Words that say a number and what it counts. @type {Record<string, number>} */
const HOW_OFTEN = { once: 1, twice: 2, "una vez": 1, "une fois": 1, "مره واحده": 1, مرتين: 2, مرتان: 2 };
/** How often a day, as the trade abbreviates it. @type {Record<string, number>} */
const TIMES_A_DAY = { bid: 2, tid: 3, qid: 4 };

/** The bounds stand once around all words: a browser takes 0.05 ms to read each class of letters, and a number stands in 25 places. */
const NUMBER = `\\d+(?:[.,]\\d+)?|${BEFORE}(?:${Object.keys(NUMBER_WORDS).join("|")})${AFTER}`;
const N = `(?<n>${NUMBER})`;
const M = `(?<m>${NUMBER})`;
const TWICE = `(?<often>${Object.keys(HOW_OFTEN).join("|")})`;
const TIMES_SIGN = "\\s*[x×*✕✖]\\s*";
const SECONDS = "(?<seconds>s|secs?|seconds?|segundos?|seg|secondes?|ثانيه|ثواني|ثوان|ثانيتين|giay|秒钟?|\"|″)";
const MINUTES = "(?<minutes>mins?|minutes?|minutos?|دقيقه|دقايق|دقائق|دقيقتين|phut|分钟?)";
const METERS = "(?<meters>m|meters?|metres?|metros?|mts|متر|امتار|met|米)";
const REPS = "(?<reps>reps?|repetitions?|repeticiones|repeticion|times|veces|fois|تكرارات?|مرات|مره|lan|次|下)";
const UNIT = `(?:-?\\s*(?:${SECONDS}|${MINUTES}|${METERS}|${REPS})(?![a-z\\u0600-\\u06ff]))?`;
const SETS = "(?:sets?|series?|مجموعات|مجموعه|مجموعتان|مجموعتين|hiep|组)";
const HOLD = "(?:hold(?:ing)?|held|mantener|mantenga|manteniendo|sostener|sostenga|tenir|tenez|maintenir|maintenez|اثبت|ثبات|ثبت|مع الثبات|giu|保持)";
const REST = "(?:rest(?:ing)?|descanso|descansar|descanse|repos|pause|راحه|استرح|nghi|休息)";
const OF = "(?:\\s*(?:of|de|por|x|من|في|,|:)\\s*|\\s+|(?<=组))";
const WEEK = "(?:weeks?|wks?|w|semana|semaine|الاسبوع|اسبوع|اسبوعيا|tuan|周|星期)";
const WEEKS = "(?:weeks?|wks?|w|semanas?|semaines?|اسابيع|اسبوعا|اسبوعين|اسبوع|tuan|周|星期|个星期)";
const DAY = "(?:day|d|dia|jour|اليوم|يوميا|يوم|ngay|天|日)";
const DAYS = "(?:days?|d|dias?|jours?|ايام|يوم|ngay|天|日)";
const PER = "\\s*(?:/|a\\s|per\\s|each\\s|every\\s|por\\s|al\\s|a la\\s|par\\s|في\\s|كل\\s|moi\\s|每)\\s*";
const OFTEN = "(?:\\s*(?:x|×|times?|days?|d|vez|veces|dias?|fois|jours?|مرات|ايام|مره|lan|ngay|次|天))?";
const SIDE = "(?:sides?|legs?|arms?|feet|foot|lados?|piernas?|brazos?|cotes?|jambes?|bras|جانب|رجل|ذراع|ben|chan|tay|侧|边|腿)";
const ALONE = "(?![\\p{L}\\p{N}-])";
const ON_THE = "(?:(?:on|to|with|a|al|del|con|sur|du|de)\\s+)?(?:(?:the|la|el|le)\\s+)?";
/** "on the left", "left leg", "izquierda", "(L)"; a word for the side that stands before it may be of a title ("on your side left"): `namesBeforeSide` */
const sided = (/** @type {string} */ name, /** @type {string} */ words, /** @type {string} */ letters) =>
  `(?<${name}>${ON_THE}(?:${words})(?:\\s*${SIDE})?(?:\\s+(?:only|solamente|seulement))?${ALONE}|(?:${letters})${ALONE})`;
const LEFT = sided("left", "left|izquierd[oa]s?|gauches?|(?:ال)?(?:يسري|ايسر|يسار)|trai|左", "lt?");
const RIGHT = sided("right", "right|derech[oa]s?|droite?s?|(?:ال)?(?:يمني|ايمن|يمين)|phai|右", "rt?");

/**
 * What a piece of a plan may say, the longer patterns first.  `says` names fields of a dose; "amount" is what one set holds, in
 * the unit that stands behind it; "weeks" belongs to the whole plan.
 * @type {{says: string[], pattern: RegExp}[]}
 */
export const PATTERNS = [
  { says: ["tempo"], pattern: `(?:tempo|ritmo|rythme|pace|ايقاع|nhip|节奏)\\s*:?\\s*(?<tempo>\\d+(?:[-/]\\d+){2,3})` },
  { says: ["effort"], pattern: `(?:effort|rpe|esfuerzo|جهد|suc|用力)\\s*:?\\s*(?<effort>\\d+(?:\\s*(?:-|–|to|a)\\s*\\d+)?)(?:\\s*(?:/\\s*10|out of 10|de 10|sur 10))?` },
  { says: ["times"], pattern: `(?:${N}${OFTEN}|${TWICE})${PER}${DAY}${AFTER}|${N}\\s*(?:x|times)\\s*daily|(?<often2>${Object.keys(HOW_OFTEN).join("|")})\\s+(?:daily|يوميا)|(?<abbreviated>${Object.keys(TIMES_A_DAY).join("|")})|每天${N}次` },
  { says: ["days"], pattern: `(?:${N}${OFTEN}|${TWICE})${PER}${WEEK}${AFTER}|${N}\\s*(?:x|times|days)\\s*weekly|每[周星期]+${N}[天次]|(?<daily>every day|daily|todos los dias|cada dia|a diario|diario|tous les jours|chaque jour|كل يوم|يوميا|moi ngay|hang ngay|每天)` },
  { says: ["rest"], pattern: `${REST}\\s*(?:for|de|of|:)?\\s*${N}${UNIT}(?:\\s*(?:between|entre|بين|giua)\\s+(?:the\\s+|les\\s+)?(?:sets|series|المجموعات|hiep))?|${N}${UNIT}\\s*${REST}` },
  { says: ["hold"], pattern: `${HOLD}\\s*(?:for|it|de|during|durante|pendant|:)?\\s*${N}${UNIT}(?:\\s+each(?: time)?)?|${N}${UNIT}\\s*-?${HOLD}${AFTER}` },
  { says: ["sets", "amount"], pattern: `${N}${TIMES_SIGN}${M}${UNIT}|${N}\\s*${SETS}${OF}${M}${UNIT}|${N}\\s*holds?${OF}${M}${UNIT}|${M}\\s*${REPS}\\s*[x×]\\s*${N}\\s*${SETS}` },
  { says: ["sets"], pattern: `${N}\\s*(?:${SETS}|holds)${AFTER}|[x×]\\s*${N}\\s*${SETS}` },
  { says: ["weeks"], pattern: `(?:for\\s+|x\\s*|during\\s+|durante\\s+|pendant\\s+|لمده\\s+|trong\\s+)?${N}\\s*-?${WEEKS}${AFTER}` },
  { says: ["weight"], pattern: `(?:with\\s+|con\\s+|avec\\s+)?${N}\\s*(?<unit>kg|kgs|kilos?|kilogram(?:o|me)?s?|lbs?|pounds?|libras?|livres?|كغ|كجم|公斤|千克)${AFTER}` },
  { says: ["amount"], pattern: `${N}\\s*-?(?:${SECONDS}|${MINUTES}|${METERS}|${REPS})(?![a-z\\u0600-\\u06ff])|[x×]\\s*${N}${AFTER}` },
  { says: ["side"], pattern: `(?<alternating>alternat(?:e|ing)(?:\\s+${SIDE})?|alternando|en alternant|بالتناوب|luan phien|交替)|(?<first>one side first|all sets on one side first)|(?<both>(?:each|both|per|every|cada|ambos|ambas|chaque|les deux|كل|كلا|moi|hai|每|两)\\s*${SIDE})|(?<single>one side(?: only)?)|${LEFT}|${RIGHT}` },
].map(({ says, pattern }) => ({ says, pattern: new RegExp(renumber(pattern), "gu") }));

const SIDE_WORD = new RegExp(`^(?:ال)?${SIDE}$`, "u");
const BEFORE_SIDE = new Set(["on", "with", "to", "the", "a", "al", "del", "con", "de", "la", "el", "du", "sur", "avec", "le"]);

/**
 * What may be the name where "left" or "right" stood behind it: the whole of it, then with ever fewer of the words that may belong to
 * the side ("clamshell du côté", "clamshell du", "clamshell"); empty where they all may.
 * @param {string} name
 * @returns {string[]}
 */
export function namesBeforeSide(name) {
  const words = name.split(" ");
  const ofSide = [...words].reverse().findIndex((word) => !SIDE_WORD.test(word) && !BEFORE_SIDE.has(word));
  const most = ofSide < 0 ? words.length : ofSide;
  return Array.from({ length: most + 1 }, (_, fewer) => words.slice(0, words.length - fewer).join(" "));
}

/** Words that say nothing by themselves. */
export const FILLERS = new Set(["and", "then", "with", "of", "for", "in", "on", "x", "the", "a", "do", "at", "y", "con", "de", "en", "et", "avec", "puis", "و", "ثم", "مع", "va", "和", "print", "sheet"]);

/**
 * A pattern in which no two groups have one name, though its alternatives say the same.
 * @param {string} pattern
 * @returns {string}
 */
function renumber(pattern) {
  let count = 0;
  const bounded = pattern.replace(/\(\?<([a-z]+)(\d*)>/g, (_, name) => `(?<${name}_${(count += 1)}>`);
  return `(?<![\\p{L}\\p{N}.])(?:${bounded})`;
}

/**
 * @param {Record<string, string | undefined>} groups
 * @returns {Record<string, string>} by the name that the pattern gave it
 */
export function namesOf(groups) {
  return Object.fromEntries(Object.entries(groups).flatMap(([name, text]) => (text === undefined ? [] : [[name.split("_")[0], text]])));
}

/**
 * @param {string} text  digits, or a number as a word
 * @returns {number}
 */
export function numberOf(text) {
  return NUMBER_WORDS[text] ?? HOW_OFTEN[text] ?? TIMES_A_DAY[text] ?? Number(text.replace(",", "."));
}
