/** Shows the log as a code, for the clinic: loaded at the tap that asks for it, and by nothing else. */

import { groupCode } from "../bundle/code.js";
import { makeQrPicture } from "../bundle/dom.js";
import { setsOfStages, writeLog } from "../bundle/log_code.js";
import { drawLogQr } from "../bundle/qr.js";
import { today } from "../day.js";
import { part } from "../page.js";
import { shownLog } from "./shown_log.js";

/**
 * @param {import("./more.js").MyPage} page
 * @param {import("./log.js").Log} log
 * @param {string} plan  the bundle code, clean
 * @param {string} firstDay  empty where it is not known
 * @param {import("./shown_log.js").PlanPick[]} picks
 */
function showLogCode({ speech }, log, plan, firstDay, picks) {
  const code = writeLog(plan, setsOfStages(picks.map(({ doses }) => doses)), shownLog(log, picks, firstDay, today()));
  const modules = drawLogQr(code);
  part("shown-qr", HTMLElement).replaceChildren(...(modules ? [makeQrPicture(modules, speech.say("phone.shown_qr"))] : []));
  part("shown-code", HTMLElement).textContent = groupCode(code);
  part("shown", HTMLElement).hidden = false;
  part("shown-title", HTMLElement).focus();
}

/** @type {any} */ (globalThis).handoutsShow = showLogCode;
