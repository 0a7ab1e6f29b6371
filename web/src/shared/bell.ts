/** One bell for timers: a struck bell's few partials, fading. Silenced per device. */

const kSilenced = 'stillroom.bell';
// Hum, prime, tierce, quint and nominal of a bell, as ratios to the prime (common practice in bell founding).
const partials: readonly (readonly [ratio: number, strength: number, seconds: number])[] = [
  [0.5, 0.35, 3.2],
  [1, 0.5, 2.4],
  [1.2, 0.3, 1.8],
  [1.5, 0.15, 1.2],
  [2, 0.4, 1.5],
];
const kPrimeHz = 660;

let audio: AudioContext | null = null;

/** Browsers let a page sound only after a touch: call once from the first one. */
export function readyBell(): void {
  try {
    audio ??= new AudioContext();
    if (audio.state === 'suspended') void audio.resume();
  } catch {
    audio = null; // no sound on this device: the timer still says so in words
  }
}

export const bellSilenced = (): boolean => localStorage.getItem(kSilenced) === 'off';
export function silenceBell(off: boolean): void {
  localStorage.setItem(kSilenced, off ? 'off' : 'on');
}

export function ringBell(): void {
  if (!audio || bellSilenced()) return;
  for (const stroke of [0, 0.9, 1.8]) strike(audio, audio.currentTime + stroke);
}

function strike(context: AudioContext, at: number): void {
  for (const [ratio, strength, seconds] of partials) {
    const tone = context.createOscillator();
    const gain = context.createGain();
    tone.frequency.value = kPrimeHz * ratio;
    gain.gain.setValueAtTime(0.0001, at);
    gain.gain.exponentialRampToValueAtTime(0.3 * strength, at + 0.01);
    gain.gain.exponentialRampToValueAtTime(0.0001, at + seconds);
    tone.connect(gain).connect(context.destination);
    tone.start(at);
    tone.stop(at + seconds);
  }
}
