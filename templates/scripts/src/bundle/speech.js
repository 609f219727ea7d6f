/**
 * The words of the interface in one language: phrases, counts, numbers, lists.  The twin of
 * handouts/words/wording.py; the texts come from the page's catalogue, plural rules from the browser.
 */

/** @typedef {{language: string, forms: Record<string, Record<string, string>>, names: Record<string, string>, pounds?: boolean}} Words */
/** @typedef {string | {name: string}} Piece  A text, or a placeholder that something else fills. */

export class Speech {
  /** @param {Words} words */
  constructor(words) {
    this.language = words.language;
    this.forms = words.forms;
    this.names = words.names;
    /** Whether weights are said in pounds. */
    this.inPounds = words.pounds === true;
    this.plural = new Intl.PluralRules(words.language);
    /** @type {Intl.NumberFormat | null} Made when it is needed: a slow phone takes long to load it. */
    this.figures = null;
  }

  /**
   * @param {string} id
   * @param {number} [n]
   * @returns {string}
   */
  form(id, n) {
    const forms = Object.hasOwn(this.forms, id) ? this.forms[id] : undefined;
    if (!forms) throw new Error(`the phrase ${id} cannot be said`);
    return n === undefined ? forms.other : (forms[this.plural.select(n)] ?? forms.other);
  }

  /**
   * @param {string} id
   * @param {Record<string, string>} [values]
   * @returns {string}
   */
  say(id, values = {}) {
    return fillPhrase(this.form(id), values);
  }

  /**
   * @param {string} id
   * @param {number} n
   * @param {Record<string, string>} [values]
   * @returns {string}
   */
  count(id, n, values = {}) {
    return fillPhrase(this.form(id, n), { ...values, n: this.number(n) });
  }

  /**
   * A phrase in pieces, for a sentence with fields in it.
   * @param {string} id
   * @param {number} [n]
   * @returns {Piece[]}
   */
  pieces(id, n) {
    return this.form(id, n)
      .split(/(\{[a-z_]+\})/)
      .filter((part) => part !== "")
      .map((part) => (/^\{[a-z_]+\}$/.test(part) ? { name: part.slice(1, -1) } : part));
  }

  /**
   * @param {number} value
   * @returns {string}
   */
  number(value) {
    // With these digits a small whole number looks the same in every language.
    if (Number.isInteger(value) && value >= 0 && value < 1000) return String(value);
    this.figures ??= new Intl.NumberFormat(this.language, { maximumFractionDigits: 2, numberingSystem: "latn" });
    return this.figures.format(value);
  }

  /**
   * @param {string[]} items
   * @returns {string}
   */
  join(items) {
    return items.length === 1 ? items[0] : new Intl.ListFormat(this.language, { type: "conjunction" }).format(items);
  }

  /**
   * @param {string} language
   * @returns {string}
   */
  nameOf(language) {
    return Object.hasOwn(this.names, language) ? this.names[language] : language;
  }
}

const FROM_RIGHT = /[\u0590-\u08ff\u200f]/;
const PLAIN_NUMBER = /^(?:\d*(?:[.,]\d+)?|\D+)$/;

/**
 * In a text read from the right a value such as 555-0141 is isolated; without that it would be shown as 0141-555.
 * @param {string} form
 * @param {Record<string, string>} values
 * @returns {string}
 */
function fillPhrase(form, values) {
  const isolated = FROM_RIGHT.test([form, ...Object.values(values)].join(" "));
  return form.replace(/\{([a-z_]+)\}/g, (_, name) => {
    if (!Object.hasOwn(values, name)) throw new Error(`a value is missing for ${name} in "${form}"`);
    return isolated ? isolate(values[name]) : values[name];
  });
}

/**
 * @param {string} value
 * @returns {string}
 */
function isolate(value) {
  return PLAIN_NUMBER.test(value) || FROM_RIGHT.test(value) ? value : `\u2066${value}\u2069`;
}
