import type { FrequencyBand } from '../features/frequency-band.js';
import type { SibilantSound } from './region-level.js';

/**
 * Band in which hisses are told apart: from above the voice in a z to the upper end of the published figures. At 16 kHz
 * it is cut off at 8 kHz, which moves the lower edge of a hiss little and its centroid much: hence the edge.
 */
export const HISS_BAND: FrequencyBand = Object.freeze({ lowHz: 1500, highHz: 11_025 });
/** Share of a hiss's power below its lower edge. */
export const HISS_EDGE_SHARE = 0.2;

/**
 * Border of the two lower edges where nothing is known of the voice. Spectra made to the published moments of s and sh
 * have theirs at 4.63 and 2.81 kHz (computed from published figures), so the middle is 3.6 kHz; labelled voices lie a little higher.
 */
const BORDER_HZ = 3700;
/** How far the borders of voices lie apart, in octaves (one standard deviation). */
const BORDER_SPREAD = 0.15;
/** Distance of the two edges in one voice, in octaves: that of the published moments (computed from published figures). */
const DISTANCE = 0.72;
/** Spread of each within one voice, in octaves. */
const SPREAD = 0.25;
/** Share of s-like ones among sibilants: s, z and ts are about twice as frequent as sh, zh, ch and j. */
const S_SHARE = 0.65;
/** Weight of a hiss that is neither, so that one stray edge does not move the border. */
const STRAY = 1e-3;
/** Borders that are tried, in octaves about BORDER_HZ. */
const REACH = 0.8;
const STEP = 0.02;

/**
 * Tells the s-like from the sh-like by their lower edges. Voices differ more than the two hisses do (a bright singer's
 * sh may lie above a dark one's s), so the border is this take's own: where two bell curves, 0.72 octave apart, fit its
 * edges best, while a third curve holds it near 3.7 kHz. Few sibilants leave it about there; two plain groups move it
 * between them; many of one sort alone are taken for s. The weak case is a few sibilants of a very bright or dark voice.
 *
 * @param edgesHz Lower edge of each sibilant in Hz, null for anything else, which gives null.
 * @see Jongman, Wayland and Wong, "Acoustic characteristics of English fricatives", 2000 (from notes on it): first moments
 * 6133 and 4229 Hz, second 2.92 and 3.38 MHz². Border, spreads and shares: measured on 14 folders of labelled voices.
 */
export function sibilantSounds(edgesHz: readonly (number | null)[]): readonly (SibilantSound | null)[] {
  const octaves = edgesHz.map((hz) => (hz === null ? null : Math.log2(hz / BORDER_HZ)));
  const border = likeliestBorder(octaves.filter((x) => x !== null));
  return octaves.map((x) => (x === null ? null : x < border ? 'sh-like' : 's-like'));
}

/** The border, in octaves about BORDER_HZ, that makes these edges likeliest. */
function likeliestBorder(edges: readonly number[]): number {
  let best = 0;
  let greatest = Number.NEGATIVE_INFINITY;
  // Counted in steps, so that 0 is hit exactly.
  for (let step = -Math.round(REACH / STEP); step * STEP <= REACH; step++) {
    const border = step * STEP;
    let logarithm = Math.log(bell(border / BORDER_SPREAD));
    for (const edge of edges) {
      const s = S_SHARE * bell((edge - border - DISTANCE / 2) / SPREAD);
      const sh = (1 - S_SHARE) * bell((edge - border + DISTANCE / 2) / SPREAD);
      logarithm += Math.log(s + sh + STRAY);
    }
    if (logarithm > greatest) {
      greatest = logarithm;
      best = border;
    }
  }
  return best;
}

function bell(x: number): number {
  return Math.exp((-x * x) / 2);
}
