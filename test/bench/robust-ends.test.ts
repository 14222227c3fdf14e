import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LabelledClip, loadCorpus } from '../../bench/lib/corpus.js';
import { changeTempo } from '../../bench/lib/ends/change-tempo.js';
import { joinFolders } from '../../bench/lib/ends/choose-clips.js';
import { conditionText, happening } from '../../bench/lib/ends/condition-text.js';
import { clipped, levelJumps, silentPauses } from '../../bench/lib/ends/edits.js';
import { falsetto } from '../../bench/lib/ends/falsetto.js';
import { hiHatStrokes } from '../../bench/lib/ends/hi-hat-strokes.js';
import { linearPrediction } from '../../bench/lib/ends/linear-prediction.js';
import { popThumps } from '../../bench/lib/ends/pop-thumps.js';
import { withReach } from '../../bench/lib/ends/reach-variant.js';
import { convolve, inRoom } from '../../bench/lib/ends/room.js';
import { type ConditionScore, scoreCondition } from '../../bench/lib/ends/score-condition.js';
import { costShares } from '../../bench/lib/ends/stage-costs.js';
import { hiss, mainsHum } from '../../bench/lib/ends/steady-noise.js';
import { driven, source, vocalTract } from '../../bench/lib/ends/vocal-tract.js';
import { voiceRms } from '../../bench/lib/ends/voice-level.js';
import { WAYS_OF_RECORDING } from '../../bench/lib/ends/ways-of-recording.js';
import { WAYS_OF_SINGING } from '../../bench/lib/ends/ways-of-singing.js';
import { whisper } from '../../bench/lib/ends/whisper.js';
import type { ClipDetector } from '../../bench/lib/score-folder.js';
import { writeClip } from '../../bench/lib/write-clip.js';
import { createRandom } from '../../bench/train/random.js';
import { periodicity } from '../../src/features/periodicity.js';
import { stft } from '../../src/signal/stft.js';
import { ROOT } from '../lib/project.js';
import { whiteNoise } from '../lib/random.js';
import { createSpeaker } from '../lib/speak.js';

const rate = 16_000;
const ALL = [...WAYS_OF_SINGING, ...WAYS_OF_RECORDING];
const scratch = mkdtempSync(join(tmpdir(), 'ends-'));
afterAll(() => rmSync(scratch, { recursive: true }));

/** A sentence of a synthesiser that is none of ours, as a clip of a corpus. */
let spoken: LabelledClip;
beforeAll(async () => {
  const speak = await createSpeaker();
  const { samples, sampleRateHz, durationSeconds, phones } = speak('Pass six peas. She saw the sea.', {
    voice: 'en-us',
  });
  const voice = {
    name: 'spoken',
    folder: 'spoken',
    voice: 'spoken',
    voices: ['spoken'],
    recordings: ['spoken/spoken'],
  };
  const labels = phones.map((phone) => ({ ...phone, phone: phone.label }));
  spoken = { ...voice, sampleRateHz, channels: [samples], durationSeconds, labels };
});

const samplesOf = (clip: LabelledClip): Float32Array => clip.channels[0]!;
const rmsOf = (samples: Float32Array): number =>
  Math.sqrt(samples.reduce((sum, x) => sum + x * x, 0) / samples.length);
const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;

/** A vowel: pulses through two resonances, in closed form but for rounding. */
function vowel(pitchHz: number, seconds = 1, widthHz = 80): Float32Array {
  const out = new Float32Array(Math.round(seconds * rate));
  const period = rate / pitchHz;
  for (let k = 0; k * period < out.length; k++) {
    const start = Math.ceil(k * period);
    for (let i = start; i < Math.min(out.length, start + 800); i++) {
      const t = (i - k * period) / rate;
      for (const f of [600, 1700])
        out[i] = out[i]! + 0.1 * Math.exp(-Math.PI * widthHz * t) * Math.sin(2 * Math.PI * f * t);
    }
  }
  return out;
}

/** Power of one frequency in the middle of a sound (Goertzel's sum, written out). */
function powerAt(samples: Float32Array, frequencyHz: number): number {
  let re = 0;
  let im = 0;
  const from = Math.floor(samples.length / 4);
  const length = Math.floor(samples.length / 2);
  for (let i = 0; i < length; i++) {
    const w = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / length);
    re += w * samples[from + i]! * Math.cos((2 * Math.PI * frequencyHz * i) / rate);
    im += w * samples[from + i]! * Math.sin((2 * Math.PI * frequencyHz * i) / rate);
  }
  return re * re + im * im;
}

describe('linear prediction', () => {
  it('finds the poles of noise that was made by a known filter', () => {
    // x[n] = e[n] + 0.9·x[n−1] − 0.5·x[n−2]: by the step-down recursion k2 = 0.5, k1 = −0.9/1.5 = −0.6.
    const noise = whiteNoise(1, 60_000, 0.1);
    const x = new Float64Array(noise.length);
    for (let n = 0; n < x.length; n++) x[n] = noise[n]! + 0.9 * (x[n - 1] ?? 0) - 0.5 * (x[n - 2] ?? 0);
    const { reflections, gain } = linearPrediction(x, 4, x.length);
    // The deviation of an estimated coefficient is about 1/√60000 = 0.004; five of those.
    for (const [k, wanted] of [-0.6, 0.5, 0, 0].entries())
      expect(Math.abs(reflections[k]! - wanted)).toBeLessThan(0.02);
    expect(gain).toBeCloseTo(0.1, 2);
  });

  it('leaves silence silent', () => {
    expect(linearPrediction(new Float64Array(100), 6, 100).gain).toBe(0);
  });

  it('makes a sound again from its source and its tube', () => {
    const samples = samplesOf(spoken);
    const tract = vocalTract(samples, spoken.sampleRateHz);
    const again = driven(source(samples, tract), tract);
    const error = rmsOf(again.map((x, i) => x - samples[i]!));
    // The source is stored as 32-bit floats (2^−24 each); resonances raise that by some 40 dB at most.
    expect(error).toBeLessThan(1e-4 * rmsOf(samples));
  });
});

describe('a whisper', () => {
  const frames = (samples: Float32Array, sampleRateHz: number): number[] => {
    const length = Math.round(0.1 * sampleRateHz);
    const values: number[] = [];
    for (let k = 0; (k + 1) * length <= samples.length; k++)
      values.push(
        // Periods of speech and not of a resonance, which a noise through it has for a moment.
        periodicity(samples.slice(k * length, (k + 1) * length), sampleRateHz, {
          lowestHz: 70,
          highestHz: 250,
        }),
      );
    return values;
  };

  it('has no periodicity where the voice had much, and is as loud', () => {
    const voice = vowel(120, 2, 200);
    const air = whisper(voice, rate, createRandom(1));
    expect(median(frames(voice, rate))).toBeGreaterThan(0.8);
    // Noise through resonances of 200 Hz is like itself 4 ms later by e^(−π·200·0.004) = 0.08; a tenth of a second of it holds some
    // 80 independent values, so by chance 0.11 more, and the greatest of some 30 lags three times that.
    expect(median(frames(air, rate))).toBeLessThan(0.42);
    // Two seconds of noise in two bands of 200 Hz hold 1600 values: 2 %; the tube is read over 24 ms, so edges and its ripple add to that.
    expect(Math.abs(20 * Math.log10(rmsOf(air) / rmsOf(voice)))).toBeLessThan(2);
  });

  it('leaves what was noise as it was', () => {
    const noise = whiteNoise(3, rate, 0.1);
    const changed = whisper(noise, rate, createRandom(1)).map((x, i) => x - noise[i]!);
    expect(rmsOf(changed)).toBeLessThan(0.1 * rmsOf(noise));
  });
});

describe('another tempo', () => {
  it('keeps the pitch and changes the length', () => {
    const voice = vowel(120, 2);
    const fast = changeTempo(voice, rate, 1.6);
    expect(fast.length).toBe(Math.round(voice.length / 1.6));
    // A pitch 3 % off would fall between the harmonics of a half-second window (2 Hz a bin).
    for (const k of [4, 5, 14]) expect(powerAt(fast, 120 * k) / powerAt(fast, 124 * k)).toBeGreaterThan(10);
    expect(Math.abs(20 * Math.log10(rmsOf(fast) / rmsOf(voice)))).toBeLessThan(1);
  });

  it('changes nothing at tempo 1 but the two ends', () => {
    const voice = vowel(120);
    const same = changeTempo(voice, rate, 1);
    for (let i = 400; i < voice.length - 400; i++) expect(same[i]).toBeCloseTo(voice[i]!, 5);
  });
});

describe('falsetto', () => {
  it('doubles the pitch and keeps the resonances', () => {
    const high = falsetto(vowel(150, 1.5), rate);
    // 600 and 1500 Hz are harmonics of both pitches; 450 and 1650 Hz of the low one alone.
    expect(powerAt(high, 600) / powerAt(high, 450)).toBeGreaterThan(10);
    expect(powerAt(high, 1800) / powerAt(high, 1650)).toBeGreaterThan(10);
    // The valley between the resonances lies 20 dB under the first in the closed form.
    expect(powerAt(high, 600) / powerAt(high, 1200)).toBeGreaterThan(10);
    expect(powerAt(high, 1800) / powerAt(high, 1200)).toBeGreaterThan(1);
  });
});

describe('a room', () => {
  it('falls by 60 dB in its time, and is as loud beside the voice as stated', () => {
    const click = new Float32Array(rate);
    click[0] = 1;
    const heard = inRoom(click, rate, createRandom(5), { decaySeconds: 0.4, tailDb: -6 });
    const tail = heard.slice(1);
    expect(10 * Math.log10(tail.reduce((sum, x) => sum + x * x, 0))).toBeCloseTo(-6, 1);
    // 60 dB in 0.4 s are 30 in 0.2 s; 50 ms of noise have a mean power that is good to 1/√400 = 5 %, 0.2 dB; four of those.
    const level = (from: number): number => 20 * Math.log10(rmsOf(heard.slice(from, from + 800)));
    expect(Math.abs(level(800) - level(800 + 0.2 * rate) - 30)).toBeLessThan(0.8);
    expect(rmsOf(heard.slice(0.41 * rate))).toBeLessThan(1e-6);
  });

  it('convolves', () => {
    // (1 + 2z)(3 + 4z) = 3 + 10z + 8z².
    const product = convolve(Float32Array.of(1, 2, 0), Float64Array.of(3, 4));
    for (const [i, x] of [3, 10, 8].entries()) expect(product[i]).toBeCloseTo(x, 9);
  });
});

describe('sounds that are added', () => {
  it('have the level that is stated, beside the vowels', () => {
    for (const sound of [mainsHum(2 * rate, rate), hiss(2 * rate, createRandom(2))])
      expect(rmsOf(sound)).toBeCloseTo(1, 1);
    const strokes = hiHatStrokes(rate, rate, createRandom(1));
    // Eighths of 120 beats a minute: one each 0.25 s, the first half a step in.
    for (const start of [0.125, 0.375, 0.625])
      expect(rmsOf(strokes.slice(start * rate, (start + 0.02) * rate))).toBeCloseTo(1, 5);
    const down = ALL.find(({ name }) => name === 'hum and hiss, 20 dB down')!;
    const added = samplesOf(down.change(spoken, createRandom(1))).map((x, i) => x - samplesOf(spoken)[i]!);
    // Two sounds of −20 dB each that do not know of one another: −17 dB.
    expect(20 * Math.log10(rmsOf(added) / voiceRms(spoken))).toBeCloseTo(-17, 0);
  });

  it('thump before each p, far below any consonant', () => {
    const thumps = popThumps(spoken, createRandom(4));
    for (const { label, endSeconds } of spoken.labels.filter((phone) => phone.label === 'p')) {
      const at = Math.round((endSeconds - 0.03) * spoken.sampleRateHz);
      expect(rmsOf(thumps.slice(at, at + 1500)), label).toBeGreaterThan(0.2);
    }
    const table = stft(thumps, {
      sampleRateHz: spoken.sampleRateHz,
      frameSeconds: 0.05,
      hopSeconds: 0.05,
      window: 'hann',
    });
    const highest = Math.ceil(3000 / (spoken.sampleRateHz / 2 / (table.binCount - 1)));
    let [low, high] = [0, 0];
    for (let i = 0; i < table.values.length; i += 2) {
      const power = table.values[i]! ** 2 + table.values[i + 1]! ** 2;
      if ((i / 2) % table.binCount < highest) low += power;
      else high += power;
    }
    // Each starts with the bend of a sine that rises from 0: 12 dB an octave, over five octaves at least 60 dB.
    expect(high).toBeLessThan(1e-6 * low);
  });
});

describe('edits', () => {
  it('clip at full scale, driven by what is stated', () => {
    const sine = Float32Array.from({ length: rate }, (_, i) => 0.3 * Math.sin(0.1 * i));
    const flat = clipped(sine, 12);
    expect(Math.max(...flat)).toBe(1);
    // A sine of amplitude A is over 1 for 1 − (2/π)·asin(1/A) of the time; A = 12 dB = 3.981.
    const share = flat.filter((x) => Math.abs(x) === 1).length / flat.length;
    expect(share).toBeCloseTo(1 - (2 / Math.PI) * Math.asin(1 / 3.981), 2);
  });

  it('silence the pauses and nothing else', () => {
    const quiet = samplesOf(silentPauses(withPause()));
    expect(quiet.slice(rate, 2 * rate).every((x) => x === 0)).toBe(true);
    expect(quiet.slice(0, rate).every((x) => x === 0.5)).toBe(true);
    expect(quiet.slice(2 * rate).every((x) => x === 0.5)).toBe(true);
  });

  it('let the level jump in the middle of a pause', () => {
    const jumping = samplesOf(levelJumps(withPause(), 20));
    expect(jumping[1.5 * rate - 1]).toBe(0.5);
    expect(jumping[1.5 * rate]).toBe(5);
  });

  /** A second of sound, one of pause, one of sound; all samples 0.5. */
  function withPause(): LabelledClip {
    const phone = (label: string, at: number, phoneClass: 'sonorant' | 'silence') => ({
      label,
      phone: label,
      startSeconds: at,
      endSeconds: at + 1,
      phoneClass,
      voiced: phoneClass === 'sonorant',
      tongueStop: false,
    });
    const labels = [phone('a', 0, 'sonorant'), phone('sil', 1, 'silence'), phone('a', 2, 'sonorant')];
    const channels = [new Float32Array(3 * rate).fill(0.5)];
    return { ...spoken, sampleRateHz: rate, durationSeconds: 3, channels, labels };
  }
});

describe('every condition', () => {
  it('has a name of its own', () => {
    expect(new Set(ALL.map(({ name }) => name)).size).toBe(ALL.length);
  });

  it('leaves the clip alone, gives the same for the same chance, and keeps labels and length together', () => {
    const before = Float32Array.from(samplesOf(spoken));
    for (const { name, change } of ALL) {
      const changed = change(spoken, createRandom(9));
      expect(samplesOf(change(spoken, createRandom(9))), name).toEqual(samplesOf(changed));
      expect(
        samplesOf(changed).every((x) => Number.isFinite(x)),
        name,
      ).toBe(true);
      expect(changed.durationSeconds, name).toBe(samplesOf(changed).length / changed.sampleRateHz);
      // Lengths are rounded to a sample.
      for (const { endSeconds } of changed.labels)
        expect(endSeconds, name).toBeLessThanOrEqual(changed.durationSeconds + 1 / changed.sampleRateHz);
    }
    expect(samplesOf(spoken)).toEqual(before);
  });

  it('moves labels along with the sound where it is sped up', () => {
    for (const [name, factor] of [
      ['rap', 1.6],
      ['child', 1.3],
    ] as const) {
      const changed = ALL.find((condition) => condition.name === name)!.change(spoken, createRandom(1));
      expect(changed.durationSeconds).toBeCloseTo(spoken.durationSeconds / factor, 3);
      for (const [i, label] of changed.labels.entries())
        expect(label.startSeconds).toBeCloseTo(spoken.labels[i]!.startSeconds / factor, 9);
    }
  });

  it('is scored by the same figures as any clip', () => {
    const score = (name: string, regions: ReturnType<ClipDetector>): ConditionScore =>
      scoreCondition({ name, change: (clip) => clip }, [spoken], 1, () => regions);
    const nothing = score('nothing', []);
    expect(nothing.figures.strictRecall).toBe(0);
    expect(nothing.regionsPerMinute).toBe(0);
    const s = spoken.labels.find(({ phoneClass, voiced }) => phoneClass === 'sibilant' && !voiced)!;
    const onsetSample = Math.round(s.startSeconds * spoken.sampleRateHz);
    const offsetSample = Math.round(s.endSeconds * spoken.sampleRateHz);
    const one = score('one', [{ kind: 'sibilant', onsetSample, offsetSample, confidence: 1 }]);
    expect(one.figures.strictPrecision).toBe(1);
    expect(one.regionsPerMinute).toBeCloseTo(60 / spoken.durationSeconds, 9);
    expect(happening(nothing, one)).toMatch(/Recall falls from 0\.\d\d to 0\.00|recall falls/i);
    expect(happening(one, one)).toBe('It makes no difference beyond chance.');
  });

  it('is a paragraph of the page', () => {
    const condition = WAYS_OF_SINGING[0]!;
    expect(conditionText(condition, [])).toBe(`**Whispered.** ${condition.made} ${condition.advice}`);
  });
});

describe('joined folders', () => {
  it('hold the clips of each one after another, with their labels', () => {
    const other = { ...spoken, folder: 'other' };
    const [own, alone] = joinFolders([spoken, other, spoken]);
    expect(alone!.durationSeconds).toBe(spoken.durationSeconds);
    expect(own!.durationSeconds).toBeCloseTo(2 * spoken.durationSeconds, 9);
    const count = spoken.labels.length;
    expect(own!.labels[count]!.startSeconds).toBeCloseTo(
      spoken.labels[0]!.startSeconds + spoken.durationSeconds,
      9,
    );
    expect(samplesOf(own!).slice(samplesOf(spoken).length)).toEqual(samplesOf(spoken));
  });
});

describe('writeClip', () => {
  it('writes what the corpus reader reads', () => {
    writeClip(join(scratch, 'written'), 'a', spoken);
    const [clip] = loadCorpus(join(scratch, 'written'), { alphabet: 'ipa' });
    expect(samplesOf(clip!)).toEqual(samplesOf(spoken));
    expect(clip!.labels.map(({ phone, phoneClass }) => [phone, phoneClass])).toEqual(
      spoken.labels.map(({ phone, phoneClass }) => [phone, phoneClass]),
    );
  });
});

describe('another reach', () => {
  it('replaces the two constants of the detector, and refuses a text without them', () => {
    const scale = readFileSync(join(ROOT, 'src/detection/detection-scale.ts'), 'utf8');
    const changed = withReach(scale, { pastSlots: 7, aheadSlots: 5 });
    expect(changed).toMatch(/^export const PAST_SLOTS = 7;$/m);
    expect(changed).toMatch(/^export const AHEAD_SLOTS = 5;$/m);
    expect(changed.split('\n').filter((line, i) => line !== scale.split('\n')[i])).toHaveLength(2);
    expect(() => withReach('export const PAST_SLOTS = 3;', { pastSlots: 7, aheadSlots: 5 })).toThrow(
      /AHEAD_SLOTS/,
    );
  });
});

describe('costs', () => {
  it('are what each stage adds to the features', () => {
    const round = { features: 200, references: 250, network: 290, events: 300, detector: 310 };
    const shares = costShares([round, { ...round, events: 890, detector: 900 }, round]);
    expect(shares).toEqual({
      references: 25,
      network: 20,
      events: 5,
      calls: 5,
      classifier: 25,
      classifierOfInputs: 20,
    });
  });
});

describe('bench/robust-ends.ts', () => {
  it('says so plainly and succeeds where there is no corpus', () => {
    const args = ['--import', 'tsx', 'bench/robust-ends.ts', '--corpus', join(scratch, 'nowhere')];
    const run = spawnSync(process.execPath, args, { encoding: 'utf8' });
    expect(run.status).toBe(0);
    expect(run.stdout).toMatch(/^No labelled voices in .*nowhere: nothing is scored/);
  });
});
