/** A small book of the clinician's page, for tests of what is done with bundles. */

const exercise = (title, dose, range, position, before = []) => ({
  slug: "", title, dose, range, former: [], marked: {}, position, before, after: [], easier: [], harder: [], equipment: [], cautions: [], ask: [], criteria: [], whole: true,
});

export const BOOK = {
  language: "en",
  languages: { EN2: "en", ES2: "es" },
  locations: { HPP: "hill", MPP: "mill" },
  bands: {},
  site: "STE",
  formerSites: [],
  programmes: {},
  bundles: {},
  withdrawn: { GNE2: { title: "Gone", by: null }, GNE3: { title: "Replaced", by: "STND" } },
  cues: {},
  papers: ["letter", "a4"],
  sizes: ["standard", "large"],
  tongues: [
    { tag: "en", name: "English", unreviewed: false, lacks: [], lost: [] },
    { tag: "es", name: "Spanish", unreviewed: true, lacks: ["WALK"], lost: [] },
  ],
  policy: { exercises: 2, minutes: 60, change: 30, between: 20 },
  origins: { programmes: {}, bundles: {} },
  terms: { equipment: {}, bands: {} },
  cautions: {},
  starts: [
    { title: "First days", group: "bundle", weeks: 2, picks: [{ code: "WALK", change: {} }] },
    { title: "Empty", group: "tier", weeks: 0, picks: [] },
    { title: "Step 1", group: "tier", weeks: 0, picks: [{ code: "STND", change: {} }, { code: "RASE", change: {} }] },
  ],
  clinic: { locations: [{ slug: "hill" }, { slug: "mill" }] },
  exercises: {
    RASE: exercise("Raise", { sets: 3, reps: 10, side: "both", rest: 60, times: 1, days: 3 }, { sets: [1, 4], reps: [5, 15] }, "standing", ["STND"]),
    STND: exercise("Stand", { sets: 3, reps: 10, side: "together", rest: 60, times: 1 }, { sets: [1, 3] }, "sitting"),
    WALK: exercise("Walk", { sets: 1, time: 1200, side: "together", rest: 0, times: 1 }, { time: [300, 7200] }, "standing"),
  },
  limits: [{ slug: "hip", name: "New hip", says: "", source: "", phases: [{ name: "first", found: {} }, { name: "then", found: { STND: "bends too far" } }] }],
};

/** A voice that says what it was asked to say: the phrase and its values. */
export const VOICE = {
  inPounds: false,
  say: (id, values = {}) => [id, ...Object.values(values)].join(" "),
  count: (id, n, values = {}) => [id, n, ...Object.values(values)].join(" "),
  number: String,
  join: (items) => items.join(" and "),
  nameOf: (language) => language,
};
