/** Tones and vibration during a session; both can be turned off, and a phone without them stays silent. */

/** @type {AudioContext | null} */
let audio = null;

/** Readies the sound; browsers allow it only after a tap. */
export function wakeSound() {
  try {
    audio ??= new AudioContext();
    if (audio.state === "suspended") audio.resume().catch(() => {});
  } catch {
    audio = null;
  }
}

/**
 * @param {number} pitch hertz
 * @param {number} seconds
 */
function playTone(pitch, seconds) {
  if (!audio || audio.state !== "running") return;
  const [tone, loudness, now] = [audio.createOscillator(), audio.createGain(), audio.currentTime];
  tone.frequency.value = pitch;
  // Rises and falls within some milliseconds, so that nothing clicks.
  loudness.gain.setValueAtTime(0, now);
  loudness.gain.linearRampToValueAtTime(0.4, now + 0.01);
  loudness.gain.setValueAtTime(0.4, now + seconds - 0.03);
  loudness.gain.linearRampToValueAtTime(0, now + seconds);
  tone.connect(loudness).connect(audio.destination);
  tone.start(now);
  tone.stop(now + seconds);
}

/** @typedef {"count" | "go" | "turn" | "end"} Cue  Last seconds; a step begins; a phase changes; the session ends. */

/** Pitch in hertz, length in seconds, vibration in milliseconds. */
const CUES = {
  count: { pitch: 440, seconds: 0.12, shake: [60] },
  turn: { pitch: 587, seconds: 0.12, shake: [40] },
  go: { pitch: 784, seconds: 0.35, shake: [220] },
  end: { pitch: 523, seconds: 0.6, shake: [180, 120, 180] },
};

/**
 * @param {Cue} cue
 * @param {{sound: boolean, vibration: boolean}} wanted
 */
export function giveCue(cue, wanted) {
  const { pitch, seconds, shake } = CUES[cue];
  if (wanted.sound) playTone(pitch, seconds);
  if (wanted.vibration) navigator.vibrate?.(shake);
}

/** @returns {boolean} */
export function canVibrate() {
  return "vibrate" in navigator;
}
