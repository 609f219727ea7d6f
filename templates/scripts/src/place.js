/**
 * Names of what a browser keeps, bound to the place of this site: another site or program on the same host has its own.
 */

/**
 * The name of a kept value, with the path of the site's root, to which each page names the way.
 * @param {string} name
 * @returns {string}
 */
export function ownName(name) {
  const root = new URL(document.documentElement.dataset.root ?? ".", location.href).pathname;
  return `handouts ${root} ${name}`;
}

/**
 * Takes over once what a former version kept under names that all sites of a host shared; the first site that is opened
 * has it.
 * @param {Storage} storage
 * @param {string} former  how those names begin
 * @param {string} own  how they begin now
 */
export function takeOverNames(storage, former, own) {
  const names = Array.from({ length: storage.length }, (_, at) => storage.key(at) ?? "");
  for (const name of names.filter((each) => each.startsWith(former))) {
    const now = own + name.slice(former.length);
    if (storage.getItem(now) === null) storage.setItem(now, storage.getItem(name) ?? "");
    storage.removeItem(name);
  }
}
