/**
 * How a text becomes search words: the same folding as in handouts/site/folding.py, held to the same
 * vectors (tests/site/folding_vectors.json). Knows nothing of exercises or pages.
 */

/** Letters that Unicode does not take apart, and Arabic forms that people type in each other's place. */
const LETTERS = new Map([
  ["đ", "d"], ["ð", "d"], ["ħ", "h"], ["ı", "i"], ["ł", "l"], ["ø", "o"], ["þ", "th"], ["ß", "ss"],
  ["æ", "ae"], ["œ", "oe"], ["ς", "σ"], ["ة", "ه"], ["ى", "ي"], ["ی", "ي"], ["ک", "ك"], ["ـ", ""],
]);

const MARKS = /[\u00ad'’ʼ\u0300-\u036f\u0591-\u05c7\u0610-\u061a\u064b-\u065f\u0670\u06d6-\u06ed\u200b-\u200f]/gu;

const RUNS =
  /([\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff\u{20000}-\u{3ffff}]+)|((?:(?![\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff\u{20000}-\u{3ffff}])[\p{L}\p{N}\p{M}])+)/gu;

const SHORTEST_PLURAL = 4;
const SHORTEST_BEFORE_ING = 3;
/** The article and what is written together with it; endings of two, many, 'her' and 'my'. */
const ARTICLES = ["وال", "بال", "كال", "فال", "لل", "ال"];
const ENDINGS = ["تين", "تان", "تها", "تي", "ها", "ات", "ان", "ون", "ين", "يه", "ه", "ي"];
const SHORTEST_STEM = 3;

/**
 * A text without case, accents and letter forms.
 * @param {string} text
 * @returns {string}
 */
export function fold(text) {
  const bare = text.normalize("NFKD").toLowerCase().replace(MARKS, "");
  return Array.from(bare, (character) => LETTERS.get(character) ?? character).join("");
}

/**
 * The folded words of a query (or, for tests, of an indexed text), in order.
 * @param {string} text
 * @param {boolean} forQuery
 * @returns {string[]}
 */
export function splitWords(text, forQuery) {
  /** @type {string[]} */
  const words = [];
  for (const [, unspaced, word] of fold(text).matchAll(RUNS)) {
    if (word) {
      words.push(word);
      continue;
    }
    const characters = Array.from(unspaced);
    for (let at = 0; at + 1 < characters.length; at += 1) words.push(characters[at] + characters[at + 1]);
    if (characters.length === 1 || !forQuery) words.push(characters[characters.length - 1]);
  }
  return words;
}

/**
 * The word and what stands for its other forms: in English its singular, and what is before -ing; in Spanish and French
 * its singular; in Arabic what is left without article and ending.
 * @param {string} word
 * @param {string} language
 * @returns {string[]}
 */
export function formsOf(word, language) {
  const other = OTHER_FORMS.get(language.split("-")[0])?.(word) ?? word;
  return other === word ? [word] : [word, other];
}

/**
 * @param {string} word
 * @returns {string}
 */
function english(word) {
  const before = word.slice(0, -3);
  if (!word.endsWith("ing") || before.length < SHORTEST_BEFORE_ING) return singularOf(word);
  return before.length > SHORTEST_BEFORE_ING && /([^lsfz])\1$/.test(before) ? before.slice(0, -1) : before;
}

/**
 * @param {string} word
 * @returns {string}
 */
function singularOf(word) {
  if (word.length < SHORTEST_PLURAL || !word.endsWith("s") || /(ss|us|is)$/.test(word)) return word;
  if (word.endsWith("ies") && word.length > SHORTEST_PLURAL) return word.slice(0, -3) + "y";
  if (/(sses|shes|ches|xes)$/.test(word)) return word.slice(0, -2);
  return word.slice(0, -1);
}

/**
 * @param {string} word
 * @returns {string}
 */
function spanish(word) {
  if (word.length < SHORTEST_PLURAL) return word;
  if (word.length > SHORTEST_PLURAL && /[dlnrz]es$/.test(word)) return word.slice(0, -2);
  return /[aeo]s$/.test(word) ? word.slice(0, -1) : word;
}

/**
 * @param {string} word
 * @returns {string}
 */
function french(word) {
  return word.length >= SHORTEST_PLURAL && /[sx]$/.test(word) && !word.endsWith("ss") ? word.slice(0, -1) : word;
}

/**
 * @param {string} word
 * @returns {string}
 */
function arabic(word) {
  const article = ARTICLES.find((each) => word.startsWith(each) && word.length - each.length >= SHORTEST_STEM) ?? "";
  const bare = word.slice(article.length);
  const ending = ENDINGS.find((each) => bare.endsWith(each) && bare.length - each.length >= SHORTEST_STEM) ?? "";
  return bare.slice(0, bare.length - ending.length);
}

const OTHER_FORMS = new Map([["en", english], ["es", spanish], ["fr", french], ["ar", arabic]]);
