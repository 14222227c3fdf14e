import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadCorpus } from '../../bench/lib/corpus.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { voicedTrack } from '../../src/levels/voiced-level.js';
import type { RegionKind } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { demoLead } from '../lib/demo-lead.js';
import { whiteNoise } from '../lib/random.js';
import { hiss, silence, sine, take, vowel } from './sounds.js';

const S = { m1Hz: 6133, m2Hz2: 2.92e6 };
const plus = (a: Samples, b: Samples): Samples => a.map((x, n) => x + (b[n] as number));

/** A second of voice, an s, half a second of voice, a second of silence; the voice alone lasts 1.5 s. */
function phrase(sampleRateHz: number, pitchHz: number, change: (samples: Samples) => Samples = (x) => x) {
  const { samples, list } = take(sampleRateHz, [
    { samples: vowel(sampleRateHz, 1, 0.1, pitchHz) },
    { kind: 'sibilant', samples: hiss(sampleRateHz, 0.1, 0.05, S) },
    { samples: vowel(sampleRateHz, 0.5, 0.1, pitchHz) },
    { samples: silence(sampleRateHz, 1) },
  ]);
  const changed = change(samples);
  const { blockSamples, power } = voicedTrack([changed], list);
  const voicedAt = (from: number, to: number) => {
    const blocks = [...power].slice(Math.ceil(from * 100), Math.floor(to * 100));
    return blocks.filter((p) => p > 0).length / blocks.length;
  };
  expect(blockSamples).toBe(Math.round(sampleRateHz / 100));
  return {
    voicedAt,
    voiceDbfs: measureLevels(changed, list).voiceDbfs,
    level: measureLevels(changed, list).byId.get(1)!,
  };
}

describe('voiced sound', () => {
  it.each([
    [8000, 120],
    [11_025, 250],
    [16_000, 80],
    [22_050, 440],
    [44_100, 90],
    [48_000, 200],
    // A soprano's high C: its period repeats, though one alone is shorter than the pitches looked for.
    [48_000, 1047],
    [96_000, 300],
    [192_000, 150],
  ])('is found at %i Hz at a pitch of %i Hz, and in no noise and no silence', (rate, pitch) => {
    const { voicedAt, voiceDbfs } = phrase(rate, pitch);
    // Blocks at an edge see noise or silence in their surroundings: at most two of each side.
    expect(voicedAt(0.02, 0.97)).toBe(1);
    expect(voicedAt(1.13, 1.57)).toBe(1);
    expect(voicedAt(1, 1.1)).toBe(0);
    expect(voicedAt(1.63, 2.6)).toBe(0);
    // At 80 Hz a block holds less than a period, so that half of the blocks lie some tenths of a dB off.
    expect(Math.abs(voiceDbfs! + 20)).toBeLessThan(0.6);
  });

  const rate = 48_000;
  const clean = phrase(rate, 200);
  it.each<[string, number, (samples: Samples) => Samples]>([
    // Shift of its measured level that the change itself explains, in dB, and 0.1 for blocks at the limits.
    ['an offset of the converter, as great as the voice', 0, (x) => x.map((v) => v + 0.1)],
    [
      'mains hum 35 dB below it, with its partials',
      10 * Math.log10(1 + 10 ** -3.5),
      (x) => plus(x, hum(x.length, 0.1 * 10 ** (-35 / 20))),
    ],
    ['noise 20 dB below it', 10 * Math.log10(1.01), (x) => plus(x, whiteNoise(4, x.length, 0.01))],
    ['a gain of −60 dB', -60, (x) => x.map((v) => v / 1000)],
  ])('is found under %s', (_, shiftDb, change) => {
    const { voicedAt, voiceDbfs, level } = phrase(rate, 200, change);
    expect(voicedAt(0.02, 0.97)).toBe(1);
    expect(voicedAt(1.63, 2.6)).toBe(0);
    expect(Math.abs(voiceDbfs! - clean.voiceDbfs! - shiftDb)).toBeLessThan(0.1);
    // White noise at −40 dBFS adds to the s at −26: 0.17 dB.
    expect(Math.abs(level.sibilanceDb! - clean.level.sibilanceDb!)).toBeLessThan(0.25);
  });

  it('is found in a bright singer, whose vowels carry half as much breath as voice', () => {
    const bright = phrase(rate, 300, (x) =>
      plus(
        x,
        hiss(rate, x.length / rate, 0.1 / Math.SQRT2, S).map((v, n) => (x[n] === 0 ? 0 : v)),
      ),
    );
    // Two thirds of the energy repeat, on average; a few blocks fall below the half.
    expect(bright.voicedAt(0.02, 0.97)).toBeGreaterThan(0.9);
  });

  it('is not found in regions, hand-marked ranges apart', () => {
    const voiced = vowel(rate, 0.5, 0.1);
    const share = (kind: RegionKind) => {
      const { samples, list } = take(rate, [{ kind, samples: voiced }]);
      const { power } = voicedTrack([samples], list);
      return power.filter((p) => p > 0).length;
    };
    expect(share('noise')).toBe(0);
    expect(share('sibilant')).toBe(0);
    expect(share('custom')).toBe(50);
  });

  it('is not hum between phrases, however steady', () => {
    const { samples, list } = take(rate, [
      { samples: vowel(rate, 0.5, 0.1) },
      { samples: hum(5 * rate, 0.1 * 10 ** (-32 / 20)) },
    ]);
    const { power } = voicedTrack([samples], list);
    expect([...power].slice(52).every((p) => p === 0)).toBe(true);
  });

  it('of the demonstration lies in its vowels, nasals and glides', () => {
    const { samples, sampleRateHz, phones } = demoLead();
    const list = detectConsonants(samples, { sampleRateHz });
    const { voiced, found, wrong } = shares([samples], list, phones);
    expect(wrong / voiced).toBeLessThan(0.02);
    expect(found).toBeGreaterThan(0.9);
  });
});

function hum(length: number, amplitude: number): Samples {
  const tones = [50, 100, 200, 300].map((hz, i) =>
    sine(48_000, length / 48_000, hz, amplitude / (i === 0 ? 2 : i)),
  );
  return tones.reduce(plus);
}

type Labels = ReturnType<typeof demoLead>['phones'];

/** Blocks that are voiced, those of them whose middle lies in a voiceless sound or silence, and the share found of sonorants. */
function shares(channels: readonly Samples[], list: Parameters<typeof voicedTrack>[1], labels: Labels) {
  const { blockSamples, power } = voicedTrack(channels, list);
  let voiced = 0;
  let wrong = 0;
  let sonorant = 0;
  let hit = 0;
  for (let b = 0, at = 0; b < power.length; b++) {
    const seconds = ((b + 0.5) * blockSamples) / list.sampleRateHz;
    while (at < labels.length && labels[at]!.endSeconds <= seconds) at++;
    const label = labels[at];
    if (label === undefined || label.startSeconds > seconds) continue;
    const isVoiced = (power[b] as number) > 0;
    if (isVoiced) voiced++;
    if (isVoiced && !label.voiced) wrong++;
    if (label.phoneClass === 'sonorant') {
      sonorant++;
      if (isVoiced) hit++;
    }
  }
  return { voiced, wrong, found: hit / sonorant };
}

const CORPUS = fileURLToPath(new URL('../../../shared/corpus', import.meta.url));

describe.skipIf(!existsSync(CORPUS))('real voices', () => {
  // Labels by forced alignment lie 15 to 50 ms beside the sound, so some of a vowel's blocks lie in the label of the
  // consonant beside it: with twelve such edges a second and 5 ms of each lost, 6 %.
  it.each(['pjs_singing', 'kathleen_en48k', 'an4'])(
    'of %s are voiced where the labels say voice',
    (folder) => {
      let voiced = 0;
      let wrong = 0;
      let found = 0;
      const clips = loadCorpus(join(CORPUS, folder)).filter((_, i) => i % 6 === 0);
      for (const { channels, sampleRateHz, labels } of clips) {
        const list = placeEdges(detectConsonants(channels, { sampleRateHz }), channels);
        const clip = shares(channels, list, labels);
        voiced += clip.voiced;
        wrong += clip.wrong;
        found += clip.found / clips.length;
      }
      expect(wrong / voiced).toBeLessThan(0.08);
      // Enough of the voice to compare with: what is missed are soft ends and creak.
      expect(found).toBeGreaterThan(0.75);
    },
  );
});
