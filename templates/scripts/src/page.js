/** Finding parts of a page, with their kind checked. */

/**
 * @template {Element} T
 * @param {string} id
 * @param {new () => T} kind
 * @returns {T}
 */
export function part(id, kind) {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new Error(`this page has no ${id}`);
  return found;
}
