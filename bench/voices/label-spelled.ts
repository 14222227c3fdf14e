import { highPass, lowPass } from '../../src/signal/biquad-design.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import type { Samples } from '../../src/signal/samples.js';

/** One label: seconds and phone. */
export interface SpelledLabel {
  readonly startSeconds: number;
  readonly endSeconds: number;
  readonly phone: string;
}

/** The stretch worth keeping, in samples, and its labels, in seconds from its start. */
export interface SpelledExcerpt {
  readonly from: number;
  readonly to: number;
  readonly labels: readonly SpelledLabel[];
}

const STEP_SECONDS = 0.0025;
const WINDOW_SECONDS = 0.005;
const VOICE_WINDOW_SECONDS = 0.01;
/** Speech is what lies this much above the quiet of the file, and at most so far below its loudest. */
const ABOVE_QUIET_DB = 8;
const BELOW_LOUDEST_DB = 38;
/** Voice is where the fundamental and first formant are this near to their loudest. */
const BELOW_VOICE_DB = 15;
/** A pause longer than this ends the letter. */
const LONGEST_PAUSE_SECONDS = 0.2;
const LEAST_LENGTH_SECONDS = 0.05;
const LEAST_HISS_SECONDS = 0.04;
const LONGEST_STOP_SECONDS = 0.2;
const LEAST_GAP_SECONDS = 0.03;
/** What is kept of the stillness around. */
const MARGIN_SECONDS = 0.3;

/**
 * Says where the sounds of one recorded letter or syllable lie, of which it is known what they are: an obstruent ends where the voice
 * begins, or begins where it ends. Null where the recording does not look like these sounds.
 */
export function labelSpelled(
  samples: Samples,
  sampleRateHz: number,
  phones: readonly string[],
): SpelledExcerpt | null {
  const below = lowPass({ sampleRateHz, frequencyHz: 900 });
  const audible = filterSamples(samples, [highPass({ sampleRateHz, frequencyHz: 70 })]);
  const low = filterSamples(audible, [below, below, highPass({ sampleRateHz, frequencyHz: 100 })]);
  const loudness = levels(audible, sampleRateHz, WINDOW_SECONDS);
  const speech = loudestRun(loudness);
  if (speech === null || speech.end - speech.start < LEAST_LENGTH_SECONDS / STEP_SECONDS) return null;
  const voiceLevels = levels(low, sampleRateHz, VOICE_WINDOW_SECONDS);
  const voiced = stepsAbove(voiceLevels, speech, BELOW_VOICE_DB);
  if (voiced.length === 0) return null;
  const labels = layOut(phones, speech, voiced);
  if (labels === null) return null;
  return excerpt(labels, samples.length, sampleRateHz);
}

interface Steps {
  readonly start: number;
  readonly end: number;
}

const timeOf = (step: number): number => step * STEP_SECONDS + WINDOW_SECONDS / 2;

function layOut(
  phones: readonly string[],
  speech: Steps,
  voiced: readonly number[],
): readonly SpelledLabel[] | null {
  const start = timeOf(speech.start) - 0.005;
  const end = timeOf(speech.end) + 0.01;
  const label = (from: number, to: number, phone: string): SpelledLabel => ({
    startSeconds: from,
    endSeconds: to,
    phone,
  });
  const [first = '', second = '', third = ''] = phones;
  const firstVoice = timeOf(voiced[0] as number);
  const lastVoice = timeOf(voiced[voiced.length - 1] as number) + 0.005;
  if (phones.length === 1) return [label(start, end, first)];
  if (first !== 'a') {
    const length = firstVoice - start;
    const isStop = /^[ptk]$/.test(first);
    if (isStop ? length > LONGEST_STOP_SECONDS : length < LEAST_HISS_SECONDS) return null;
    const change = Math.max(firstVoice, start + 0.012);
    return [label(start, change, first), label(change, end, second)];
  }
  if (phones.length === 2)
    return end - lastVoice < LEAST_HISS_SECONDS
      ? null
      : [label(start, lastVoice, first), label(lastVoice, end, second)];
  const gaps = voiced.slice(1).map((step, i) => step - (voiced[i] as number));
  const longest = gaps.indexOf(Math.max(...gaps));
  if (longest < 0 || (gaps[longest] as number) * STEP_SECONDS < LEAST_GAP_SECONDS) return null;
  const from = timeOf(voiced[longest] as number) + 0.005;
  const to = timeOf(voiced[longest + 1] as number);
  return [label(start, from, first), label(from, to, second), label(to, end, third)];
}

function excerpt(labels: readonly SpelledLabel[], length: number, sampleRateHz: number): SpelledExcerpt {
  const first = labels[0] as SpelledLabel;
  const last = labels[labels.length - 1] as SpelledLabel;
  const from = Math.max(0, Math.round((first.startSeconds - MARGIN_SECONDS) * sampleRateHz));
  const to = Math.min(length, Math.round((last.endSeconds + MARGIN_SECONDS) * sampleRateHz));
  const seconds = (to - from) / sampleRateHz;
  const moved = labels.map(({ startSeconds, endSeconds, phone }) => ({
    startSeconds: Math.max(0, startSeconds - from / sampleRateHz),
    endSeconds: Math.min(seconds, endSeconds - from / sampleRateHz),
    phone,
  }));
  const starts = moved[0]?.startSeconds ?? 0;
  const ends = moved[moved.length - 1]?.endSeconds ?? 0;
  const still = (startSeconds: number, endSeconds: number): readonly SpelledLabel[] =>
    endSeconds - startSeconds > 0.02 ? [{ startSeconds, endSeconds, phone: 'sil' }] : [];
  return { from, to, labels: [...still(0, starts), ...moved, ...still(ends, seconds)] };
}

/** Levels in dB of windows a step apart. */
function levels(samples: Samples, sampleRateHz: number, windowSeconds: number): Float64Array {
  const width = Math.round(windowSeconds * sampleRateHz);
  const count = Math.max(0, Math.floor((samples.length - width) / sampleRateHz / STEP_SECONDS));
  return Float64Array.from({ length: count }, (_, step) => {
    const from = Math.round(step * STEP_SECONDS * sampleRateHz);
    let power = 0;
    for (let i = from; i < from + width; i++) power += (samples[i] as number) ** 2;
    return 10 * Math.log10(power / width + 1e-12);
  });
}

/** Of the runs of speech, parted by pauses, the one that holds most energy. */
function loudestRun(loudness: Float64Array): Steps | null {
  if (loudness.length === 0) return null;
  const sorted = [...loudness].sort((a, b) => a - b);
  const quiet = sorted[Math.floor(0.05 * sorted.length)] as number;
  const least = Math.max((sorted[sorted.length - 1] as number) - BELOW_LOUDEST_DB, quiet + ABOVE_QUIET_DB);
  let best: (Steps & { readonly energy: number }) | null = null;
  let run: { start: number; end: number; energy: number } | null = null;
  for (const [step, level] of loudness.entries()) {
    if (level <= least) continue;
    if (run === null || (step - run.end) * STEP_SECONDS > LONGEST_PAUSE_SECONDS)
      run = { start: step, end: step, energy: 0 };
    run.end = step;
    run.energy += 10 ** (level / 10);
    if (best === null || run.energy >= best.energy) best = run;
  }
  return best;
}

function stepsAbove(voice: Float64Array, { start, end }: Steps, belowDb: number): readonly number[] {
  const own = [...voice.subarray(start, end + 1)];
  const least = Math.max(...own) - belowDb;
  return own.flatMap((level, i) => (level > least ? [start + i] : []));
}
