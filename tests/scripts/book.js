/** A small book of the clinician's page, for tests of what is done with bundles. */

const exercise = (dose, range, position, before = []) => ({
  slug: "", title: "", dose, range, former: [], marked: {}, position, before, after: [], easier: [], harder: [], equipment: [], cautions: [],
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
  withdrawn: {},
  papers: ["letter", "a4"],
  sizes: ["standard", "large"],
  tongues: [{ tag: "en" }, { tag: "es" }],
  clinic: { locations: [{ slug: "hill" }, { slug: "mill" }] },
  exercises: {
    RAIS: exercise({ sets: 3, reps: 10, side: "both", rest: 60, times: 1, days: 3 }, { sets: [1, 4], reps: [5, 15] }, "standing", ["STND"]),
    STND: exercise({ sets: 3, reps: 10, side: "together", rest: 60, times: 1 }, { sets: [1, 3] }, "sitting"),
    WALK: exercise({ sets: 1, time: 1200, side: "together", rest: 0, times: 1 }, { time: [300, 7200] }, "standing"),
  },
  limits: [{ slug: "hip", name: "New hip", says: "", source: "", phases: [{ name: "first", found: {} }, { name: "then", found: { STND: "bends too far" } }] }],
};
