import type { Samples } from '../../../src/signal/samples.js';
import type { Random } from './random.js';

/** How a singer's vocal folds move. */
export interface Glottis {
  /** Share of each period in which the folds are open, 0.4 (pressed) to 0.8 (breathy). */
  readonly openQuotient: number;
  /** Above this the pulses lose no more than their slope does, in Hz: a loud voice closes with a sharp edge. */
  readonly edgeHz: number;
  /** Corner of the first-order roll-off that a soft closure adds, in Hz. */
  readonly tiltHz: number;
  /** Level of the air noise beside the pulses, 0 to 0.2. */
  readonly airiness: number;
}

export interface GlottalSource {
  /** What drives the tract: the slope of the air flow, so lip radiation is in it already. */
  readonly flow: Samples;
  /** 1 where the folds stand most open, 0 at the middle of the closed part: air noise follows it. */
  readonly opening: Samples;
}

/**
 * Pulses of the polynomial kind that Klatt and Klatt, JASA 87 (1990) 820, describe (from memory): while open, flow
 * is a·t² − b·t³, so its slope is u·(2 − 3u) over the open part u = 0 to 1 and jumps from −1 to 0 at closure. The
 * spectrum of the flow falls 12 dB an octave, the roll-off takes 6 more above its corner. The jump is rounded over two
 * samples by its band-limited residual, else it would alias into a whistle beside the harmonics.
 *
 * @param pitchHz Pitch at each sample.
 */
export function glottalSource(
  pitchHz: Samples,
  sampleRateHz: number,
  glottis: Glottis,
  random: Random,
): GlottalSource {
  const { openQuotient, airiness } = glottis;
  const flow = new Float32Array(pitchHz.length);
  const opening = new Float32Array(pitchHz.length);
  const pole = Math.exp((-2 * Math.PI * glottis.tiltHz) / sampleRateHz);
  const edge = sampleRateHz / (2 * Math.PI * glottis.edgeHz);
  let phase = 0;
  let previous = 0;
  let smoothed = 0;
  let jitter = 1;
  let shimmer = 1;
  for (let i = 0; i < flow.length; i++) {
    const step = (pitchHz[i]! / sampleRateHz) * jitter;
    phase += step;
    if (phase >= 1) {
      phase -= 1;
      // A healthy voice varies by about half a per cent in period and a few per cent in size (common practice).
      jitter = 1 + 0.003 * random.normal();
      shimmer = 1 + 0.025 * random.normal();
    }
    const u = phase / openQuotient;
    const slope = u < 1 ? u * (2 - 3 * u) : 0;
    const pulse = slope + stepResidual((phase - openQuotient) / step);
    opening[i] = 0.5 - 0.5 * Math.cos(2 * Math.PI * (phase - openQuotient / 2 + 0.5));
    const source = shimmer * pulse + airiness * opening[i]! * random.normal();
    const sharpened = source + edge * (source - previous);
    previous = source;
    smoothed = sharpened + pole * (smoothed - sharpened);
    flow[i] = smoothed;
  }
  return { flow, opening };
}

/** What a band-limited unit step differs by from a plain one, `t` samples after it: zero beyond one sample. */
function stepResidual(t: number): number {
  if (t <= -1 || t >= 1) return 0;
  return t < 0 ? (t + 1) ** 2 / 2 : -((1 - t) ** 2) / 2;
}
