/**
 * The main job on speech whose phone times come from outside: eSpeak NG speaks sentences and says when each phone begins. It is a
 * formant synthesiser: its vowels and noises are plainer, shorter and more abrupt than a person's, its upper formants strong.
 * So this says that the right sounds are found in the right places, in voices and languages that nobody trained on, and not how well a
 * real singer is served: docs/accuracy.md does that.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { thresholdRule } from '../../bench/lib/threshold-rule.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { type PhoneFigures, phoneFigures } from '../../src/evaluation/phone-figures.js';
import { type PhoneTally, phoneTally } from '../../src/evaluation/phone-tally.js';
import { quantile } from '../../src/evaluation/quantile.js';
import { type MeasuredRegion, regionEvents } from '../../src/evaluation/region-events.js';
import { highPass } from '../../src/signal/biquad-design.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import { rms } from '../../src/signal/meters.js';
import { whiteNoise } from '../lib/random.js';
import { createSpeaker, type Speech } from '../lib/speak.js';

/** Our own sentences, by voice of the synthesiser. */
const SENTENCES: readonly (readonly [voice: string, text: string])[] = [
  ['en-us', 'The last seven swans crossed a misty lake, and such a silence settled on the shore.'],
  ['en-us+f4', 'Watch this cheap silk shirt: she washed it twice and it still shines.'],
  ['en-gb-x-rp', 'Six fish chase the seaside bus past a church of dusty glass.'],
  ['de', 'Sieben Schwestern suchen zwischen Schnee und Eis ein Schloss.'],
  ['pl+f1', 'Cisza szumi w szczelinach, a Zosia czesze szary las.'],
  ['it', 'Senza sale la zuppa sa di sasso, disse la zia scesa a cena.'],
  ['es+m3', 'Sus seis hermanas cosen sacos de lana gris.'],
  ['fr', 'Ces six saucissons secs sont sous cette chaise sans dossier.'],
  ['ja', 'すずしい あさ の しずかな うみ に ちいさな ふね が すすむ'],
];

/** Vowels, nasals and glides alone. */
const SMOOTH = ['en-gb-scotland+m3', 'Only Noel may know why we mourn a long, low moan.'] as const;

let speeches: readonly Speech[] = [];
let smooth: Speech;

beforeAll(async () => {
  const speak = await createSpeaker();
  speeches = SENTENCES.map(([voice, text], k) => inRoom(speak(text, { voice }), k + 1));
  smooth = inRoom(speak(SMOOTH[1], { voice: SMOOTH[0] }), 99);
});

/**
 * A speech as a microphone in a quiet room would have it: with noise of -60 dBFS. The synthesiser puts digital silence between its
 * phones, which no recording has.
 */
function inRoom(speech: Speech, seed: number): Speech {
  const room = whiteNoise(seed, speech.samples.length, 0.001);
  return { ...speech, samples: speech.samples.map((x, i) => x + (room[i] as number)) };
}

const find = ({ samples, sampleRateHz }: Speech): readonly MeasuredRegion[] =>
  detectConsonants(samples, { sampleRateHz }).regions;

function tallies(detect: (speech: Speech) => readonly MeasuredRegion[]): readonly PhoneTally[] {
  return speeches.map((speech) =>
    phoneTally(speech.phones, regionEvents(detect(speech), speech.sampleRateHz), speech.durationSeconds),
  );
}

/**
 * Where the noise above 2.5 kHz begins, re the start of its label, in seconds: going back from its inside, the first place where its level
 * over 2 ms is under a third of that inside (10 dB, which the scatter of 2 ms of noise does not reach).
 */
function noiseStart({ samples, sampleRateHz }: Speech, startSeconds: number): number {
  const filter = highPass({ sampleRateHz, frequencyHz: 2500 });
  const hiss = filterSamples(samples, [filter, filter]);
  const between = (from: number, to: number): number =>
    rms(
      hiss.subarray(Math.round(Math.max(0, from) * sampleRateHz), Math.round(Math.max(0, to) * sampleRateHz)),
    );
  const inside = between(startSeconds + 0.01, startSeconds + 0.05);
  for (let t = 0.02; t > -0.02; t -= 0.0005)
    if (between(startSeconds + t - 0.001, startSeconds + t + 0.001) < inside / 3) return t;
  return Number.NEGATIVE_INFINITY;
}

describe('the synthesiser', () => {
  it('says the same at every start, so that nothing here hangs on chance', async () => {
    const speak = await createSpeaker();
    for (const [k, [voice, text]] of SENTENCES.entries()) {
      const again = inRoom(speak(text, { voice }), k + 1);
      expect(Buffer.from(again.samples.buffer).equals(Buffer.from(speeches[k]!.samples.buffer)), voice).toBe(
        true,
      );
    }
  });

  it('gives times that are those of its sound: nine in ten s begin within 2 ms of their label', () => {
    // The measure sees 2 ms at a time, and events come in whole milliseconds. Only after a vowel or a pause is there an edge to see, and in a
    // few places the vowel's upper formants hide it.
    const starts = speeches.flatMap((speech) =>
      speech.phones.flatMap((phone, k) =>
        phone.label === 's' && (speech.phones[k - 1]?.phoneClass ?? 'sonorant') === 'sonorant'
          ? [Math.abs(noiseStart(speech, phone.startSeconds))]
          : [],
      ),
    );
    expect(starts.length).toBeGreaterThan(40);
    expect(quantile(starts, 0.9)).toBeLessThanOrEqual(0.002);
  });
});

describe('the sibilants of spoken sentences', () => {
  let all: readonly PhoneTally[] = [];
  let figures: PhoneFigures;
  let rule: PhoneFigures;
  beforeAll(() => {
    all = tallies(find);
    figures = phoneFigures(all);
    rule = phoneFigures(tallies(({ samples, sampleRateHz }) => thresholdRule([samples], sampleRateHz)));
    const line = (name: string, f: PhoneFigures): string =>
      `${name.padEnd(12)} labels ${f.sibilantLabels}, strict precision ${show(f.strictPrecision)}, recall ${show(f.strictRecall)}, F1 ${show(f.strictF1)}, unvoiced recall ${show(f.unvoicedRecall)}, in the wrong place ${show(f.wrongPlace)}`;
    console.info(
      [
        ...all.map((tally, k) =>
          line((SENTENCES[k] as readonly string[])[0] as string, phoneFigures([tally])),
        ),
        line('all', figures),
        line('plain rule', rule),
      ].join('\n'),
    );
  });
  const show = (value: number | null): string => (value === null ? '-' : value.toFixed(3));

  it('are found: s, sh, ch and ts, as any harsh kind', () => {
    // 0.93 is what is asked on recordings of people; some 85 labels scatter by √(0.93·0.07/85) = 0.028, so 1.64 of these below it.
    expect(figures.unvoicedLabels).toBeGreaterThanOrEqual(80);
    expect(figures.unvoicedRecall).toBeGreaterThanOrEqual(0.88);
  });

  it('are told as sibilants, the voiced ones too', () => {
    // 0.80 is asked of the hardest folders of people; 95 labels scatter by 0.041.
    expect(figures.strictF1).toBeGreaterThanOrEqual(0.8 - 1.64 * 0.041);
  });

  it('are found better than by the plain two-threshold rule', () => {
    expect(figures.strictF1).toBeGreaterThan(rule.strictF1 as number);
    expect(figures.unvoicedRecall).toBeGreaterThan(rule.unvoicedRecall as number);
  });

  it('are not seen in vowels: at most 4 % of the sibilant regions lie on a vowel, nasal or glide', () => {
    const sibilants = all.flatMap((tally, k) =>
      tally.harshPlaces
        .filter(({ region }) => region.label === 'sibilant')
        .map(({ region, misplaced }) => ({ voice: SENTENCES[k]?.[0], at: region.startSeconds, misplaced })),
    );
    const wrong = sibilants.filter(({ misplaced }) => misplaced === 'sonorant');
    console.info(`on vowels: ${wrong.length} of ${sibilants.length} sibilant regions`);
    // The reach of bench/lib/goals.ts for regions in the wrong place.
    expect(wrong.length / sibilants.length).toBeLessThanOrEqual(0.04);
  });

  it('are not seen in a sentence of vowels, nasals and glides', () => {
    expect(
      smooth.phones.filter(({ phoneClass }) => phoneClass !== 'sonorant' && phoneClass !== 'silence'),
    ).toEqual([]);
    expect(smooth.phones.length).toBeGreaterThan(20);
    expect(find(smooth).filter(({ kind }) => kind === 'sibilant')).toEqual([]);
  });

  it('have their edges where the synthesiser put them, in the median to 4 ms', () => {
    // The reach of bench/lib/goals.ts for edges that are known to the sample. Ends count only before a vowel: elsewhere the pause that
    // follows belongs to the label.
    const errors = all.flatMap((tally, k) => {
      const phones = (speeches[k] as Speech).phones;
      return tally.sibilants.flatMap(({ label, region }) => {
        if (label === null || region === null || label.label.includes('+')) return [];
        const at = phones.findIndex((phone) => phone.startSeconds === label.startSeconds);
        const start = Math.abs(region.startSeconds - label.startSeconds);
        const end = Math.abs(region.endSeconds - label.endSeconds);
        return phones[at + 1]?.phoneClass === 'sonorant' ? [start, end] : [start];
      });
    });
    console.info(
      `edges: ${errors.length}, median ${(1000 * quantile(errors, 0.5)).toFixed(1)} ms, nine in ten within ${(1000 * quantile(errors, 0.9)).toFixed(1)} ms`,
    );
    expect(errors.length).toBeGreaterThan(80);
    expect(quantile(errors, 0.5)).toBeLessThanOrEqual(0.004);
  });
});
