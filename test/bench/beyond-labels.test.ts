import { describe, expect, it } from 'vitest';
import { beyondLabels } from '../../bench/lib/beyond-labels.js';
import type { LabelledClip, LabelledPhone } from '../../bench/lib/corpus.js';
import { phoneFacts } from '../../bench/lib/phone-map.js';
import { scoreClips } from '../../bench/lib/score-folder.js';
import { soundingCutSeconds, voiceInsideDb } from '../../bench/lib/sounding-cut.js';
import type { RegionKind } from '../../src/regions/region.js';
import { gaussian, mulberry32 } from '../lib/random.js';

const RATE = 16_000;

/** Hiss from 0.2 to 0.6 s, then a voice of 200 Hz and its partials to 1.2 s; noise 50 dB below beneath all of it. */
function hissThenVoice(): Float32Array {
  const normal = gaussian(mulberry32(3));
  let before = 0;
  return Float32Array.from({ length: 1.4 * RATE }, (_, n) => {
    const t = n / RATE;
    const white = normal();
    // A difference of neighbours tilts the hiss upwards, as an s is.
    const hiss = white - before;
    before = white;
    const partial = (k: number): number => Math.sin(2 * Math.PI * 200 * k * t) / k;
    if (t >= 0.6 && t < 1.2) return 0.2 * (partial(1) + partial(2) + partial(3));
    return (t >= 0.2 && t < 0.6 ? 0.1 : 0.001) * hiss;
  });
}

function clip(...phones: readonly (readonly [number, number, string])[]): LabelledClip {
  const labels = phones.map(
    ([startSeconds, endSeconds, phone]): LabelledPhone => ({
      startSeconds,
      endSeconds,
      label: phone,
      phone,
      ...phoneFacts(phone, 'latin'),
    }),
  );
  return {
    name: 'a',
    folder: 'singer',
    voice: 'singer',
    voices: ['singer'],
    recordings: ['singer/a'],
    sampleRateHz: RATE,
    channels: [hissThenVoice()],
    durationSeconds: 1.4,
    labels,
  };
}

/** A step of 2.5 ms, and half of the 10 ms whose level is read. */
const TOLERANCE_SECONDS = 0.0075;

describe('soundingCutSeconds', () => {
  // The vowel is labelled 0.1 s early, as forced alignments do.
  const early = clip([0.2, 0.5, 's'], [0.5, 1.2, 'a']);
  const cut = (startSeconds: number, endSeconds: number): number =>
    soundingCutSeconds(early, [{ startSeconds, endSeconds }]);

  it('counts no hiss that is labelled as a vowel', () => {
    expect(cut(0.2, 0.59)).toBe(0);
  });

  it('counts the vowel itself', () => {
    expect(Math.abs(cut(0.2, 0.7) - 0.1)).toBeLessThan(TOLERANCE_SECONDS);
    expect(Math.abs(cut(0.8, 0.9) - 0.1)).toBeLessThan(TOLERANCE_SECONDS);
  });

  it('leaves out what reaches no further than 20 ms into a voiced label', () => {
    expect(cut(1.181, 1.4)).toBe(0);
    expect(cut(1.17, 1.4)).toBeGreaterThan(0.02);
  });
});

describe('voiceInsideDb', () => {
  const spoken = clip([0.2, 0.6, 's'], [0.6, 1.2, 'a']);
  const voiceIn = (startSeconds: number, endSeconds: number) =>
    voiceInsideDb(spoken, { startSeconds, endSeconds });

  it('is about 0 in a steady voice, and far below it in hiss and in pauses', () => {
    // A window of 10 ms holds two periods of the voice: it is as loud everywhere but for the phase, well under 1 dB.
    expect(Math.abs(voiceIn(0.8, 0.9)!)).toBeLessThan(1);
    expect(voiceIn(0.3, 0.4)).toBeLessThan(-12);
    expect(voiceIn(0, 0.1)).toBeLessThan(-40);
  });

  it('is what it is through half of a region', () => {
    // 80 ms of 180 are voice, and the window reaches 5 ms ahead.
    expect(voiceIn(0.5, 0.68)).toBeLessThan(-12);
    expect(Math.abs(voiceIn(0.55, 0.75)!)).toBeLessThan(1);
  });

  it('is unknown where no voice is labelled', () => {
    expect(voiceInsideDb(clip([0.2, 0.6, 's']), { startSeconds: 0.3, endSeconds: 0.4 })).toBeNull();
  });
});

describe('beyondLabels', () => {
  const region = (startSeconds: number, endSeconds: number, kind: RegionKind) => ({
    kind,
    confidence: 0.9,
    startSample: Math.round(startSeconds * RATE),
    endSample: Math.round(endSeconds * RATE),
    onsetSample: Math.round(startSeconds * RATE),
    offsetSample: Math.round(endSeconds * RATE),
  });

  it('takes stops that are released into a sibilant apart from the others', () => {
    // "six" and a k before a vowel: of the two k, one has a burst of its own.
    const spoken = clip([0.2, 0.3, 'k'], [0.3, 0.6, 's'], [0.6, 0.8, 'a'], [0.8, 0.9, 'k'], [0.9, 1.2, 'a']);
    const detect = () => [region(0.25, 0.6, 'sibilant'), region(0.85, 0.93, 'burst')];
    const [voice, stops] = rows([scoreClips('singer', [spoken], detect)]);
    // Cut: 80 ms of 1.4 s, 50 of them on the k: 30 ms in the second a, all of which sounds.
    expect(voice).toEqual(['singer', '1286', '1286', '0.0', '0.0']);
    expect(stops).toEqual(['singer', '1', '1', '1.000', '1.000']);
  });

  it('tells regions in the wrong place that sound from those that lie on a noise', () => {
    // The hiss is labelled as a pause; a region lies on it and another in the vowel.
    const spoken = clip([0, 0.6, 'sil'], [0.6, 1.2, 'a']);
    const detect = () => [region(0.3, 0.4, 'burst'), region(0.8, 0.9, 'sibilant')];
    expect(rows([scoreClips('singer', [spoken], detect)])[0]!.slice(3)).toEqual(['100.0', '50.0']);
  });

  it('counts what is found beside its label, each find for one label', () => {
    // Two s whose finds lie 40 and 60 ms behind them, and an s of which there is nothing.
    const spoken = clip([0.1, 0.2, 's'], [0.2, 0.3, 'a'], [0.4, 0.5, 's'], [0.5, 0.9, 'a'], [0.9, 1, 's']);
    const detect = () => [region(0.24, 0.3, 'sibilant'), region(0.56, 0.62, 'sibilant')];
    const [, , moved] = rows([scoreClips('singer', [spoken], detect)]);
    // Three missed, one found beside: of three labels and two regions one pair, 2 of 5.
    expect(moved).toEqual(['singer', '3', '1', '0.400', '3', '1', '0.333']);
  });
});

/** The cells of the last row of each table. */
function rows(scores: Parameters<typeof beyondLabels>[0]): string[][] {
  return beyondLabels(scores)
    .split('\n\n')
    .filter((block) => block.startsWith('|'))
    .map((block) =>
      (block.split('\n').at(-1) as string)
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );
}
