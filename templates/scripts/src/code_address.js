/** The address of a printed code, as a person may type it. */

/** A code's page below its language; its letters in any case, with or without what a host adds. */
const CODE = /^(.*\/code\/)([0-9A-Za-z]{2,8})(?:\/(?:index\.html)?)?$/;

/**
 * @param {string} path of an address that leads nowhere
 * @returns {string} the path with the code in capital letters; empty where it has no code, or has it so already
 */
export function correctCode(path) {
  const [, before, code] = CODE.exec(path) ?? [];
  const capital = code?.toUpperCase();
  return code && capital !== code ? `${before}${capital}/` : "";
}
