import { createRandom } from '../../../examples/lib/demo/random.js';
import type { Samples } from '../../../src/signal/samples.js';

/** A turn of the signal: half of it a voice, then noise, then what is left of the room. */
const TURN_SECONDS = 0.8;
const VOICE_SECONDS = 0.5;
const NOISE_SECONDS = 0.12;
const PARTIALS = 12;

/**
 * A signal with something for every feature: a gliding tone of twelve partials, a burst of bright noise, a rest with a faint floor,
 * again and again with the glide and the noise drawn anew. The same call gives the same samples.
 */
export function mixedSignal(seconds: number, sampleRateHz: number): Samples {
  const random = createRandom(1);
  const out = new Float32Array(Math.round(seconds * sampleRateHz));
  const turn = Math.round(TURN_SECONDS * sampleRateHz);
  for (let start = 0; start < out.length; start += turn) {
    const from = random.uniform(110, 330);
    const to = from * random.uniform(0.8, 1.25);
    let phase = 0;
    let earlier = 0;
    for (let n = 0; n < turn && start + n < out.length; n++) {
      const at = n / sampleRateHz;
      let x = 1e-4 * random.uniform(-1, 1);
      if (at < VOICE_SECONDS) {
        phase += (2 * Math.PI * (from + ((to - from) * at) / VOICE_SECONDS)) / sampleRateHz;
        // Σ sin(kφ)·0.7^k by the recurrence of sines: one sine a sample instead of twelve.
        const twice = 2 * Math.cos(phase);
        let before = 0;
        let sine = Math.sin(phase);
        let weight = 0.1;
        for (let k = 1; k <= PARTIALS; k++) {
          x += weight * sine;
          weight *= 0.7;
          [before, sine] = [sine, twice * sine - before];
        }
      } else if (at < VOICE_SECONDS + NOISE_SECONDS) {
        const now = random.uniform(-1, 1);
        // The difference of white noise rises by 6 dB an octave: bright.
        x += 0.15 * (now - earlier);
        earlier = now;
      }
      out[start + n] = x;
    }
  }
  return out;
}
