/** Reads instructions aloud with a voice on the device itself; never with one that sends the text away. */

/** Ends the reading that is under way. */
let silence = () => {};

/**
 * A local voice of a language, or null.
 * @param {string} language
 * @returns {SpeechSynthesisVoice | null}
 */
function localVoice(language) {
  const voices = globalThis.speechSynthesis?.getVoices().filter((voice) => voice.localService) ?? [];
  const tag = (/** @type {SpeechSynthesisVoice} */ voice) => voice.lang.replace("_", "-").toLowerCase();
  const wanted = language.toLowerCase();
  return voices.find((voice) => tag(voice) === wanted) ?? voices.find((voice) => tag(voice).split("-")[0] === wanted.split("-")[0]) ?? null;
}

/**
 * Shows a button wherever there is a voice; it reads the texts below an element, one after the other, and marks them.
 * @param {HTMLButtonElement} button
 * @param {HTMLElement} area
 * @param {string} language
 * @param {{read: string, stop: string}} words
 */
export function offerReading(button, area, language, words) {
  const synthesis = globalThis.speechSynthesis;
  button.hidden = !localVoice(language);
  if (!synthesis) return;
  synthesis.addEventListener?.("voiceschanged", () => {
    button.hidden = !localVoice(language);
  });
  let reading = 0;
  let active = false;
  const end = () => {
    reading += 1;
    synthesis.cancel();
    for (const marked of area.querySelectorAll(".read")) marked.classList.remove("read");
    button.textContent = words.read;
    active = false;
  };
  button.addEventListener("click", () => {
    if (active) return end();
    silence();
    silence = end;
    button.textContent = words.stop;
    active = true;
    const turn = reading;
    const texts = Array.from(area.querySelectorAll("[data-read]"));
    const readNext = (/** @type {number} */ at) => {
      for (const marked of area.querySelectorAll(".read")) marked.classList.remove("read");
      const voice = localVoice(language);
      if (turn !== reading) return;
      if (at >= texts.length || !voice || !area.isConnected) return end();
      texts[at].classList.add("read");
      const said = new SpeechSynthesisUtterance(texts[at].textContent ?? "");
      said.voice = voice;
      said.lang = voice.lang;
      said.addEventListener("end", () => readNext(at + 1));
      said.addEventListener("error", () => turn === reading && end());
      synthesis.speak(said);
    };
    readNext(0);
  });
}

/** Falls silent, wherever it was. */
export function stopReading() {
  silence();
  silence = () => {};
}
