import { schedule } from '../../examples/lib/demo/schedule.js';
import { SINGERS } from '../../examples/lib/demo/singers.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { Channels, Samples } from '../../src/signal/samples.js';
import type { Take, TakeId } from '../../src/takes/take.js';
import { whiteNoise } from '../lib/random.js';

/** A take of mono or more channels with regions; 48 kHz, at 0, fader at 0 dB. */
export function takeOf(
  id: TakeId,
  channels: Channels,
  drafts: readonly RegionDraft[],
  place: Partial<Pick<Take, 'offsetSamples' | 'gainDb'>> = {},
): Take {
  const lengthSamples = channels instanceof Float32Array ? channels.length : channels[0]!.length;
  const list = insertRegions(createRegionList({ sampleRateHz: 48_000, lengthSamples }), drafts);
  return { id, channels, list, offsetSamples: 0, gainDb: 0, ...place };
}

/** Takes that are silent, for what asks for regions alone: sibilants at these samples. */
export function silentTake(
  id: TakeId,
  spans: readonly (readonly [number, number])[],
  length = 480_000,
): Take {
  const drafts = spans.map(([startSample, endSample]) => ({
    kind: 'sibilant' as const,
    startSample,
    endSample,
  }));
  return takeOf(id, new Float32Array(length), drafts);
}

/** Noise whose RMS over [start, end) is exactly 0.05, as far as 32 bits go. */
export function evenNoise(seed: number, length: number): Samples {
  const noise = whiteNoise(seed, length);
  const rms = Math.sqrt(noise.reduce((sum, x) => sum + x * x, 0) / length);
  return noise.map((x) => (0.05 * x) / rms);
}

/** Takes 0 to `count` − 1, each one sibilant of the same length at the same time; `same`: all of one and the same noise. */
export function choir(count: number, lengthSamples: number, same = false): readonly Take[] {
  const draft = { kind: 'sibilant' as const, startSample: 0, endSample: lengthSamples };
  return Array.from({ length: count }, (_, t) =>
    takeOf(t, evenNoise(same ? 1 : 1 + t, lengthSamples), [draft]),
  );
}

/** Level of the sum over the lead's own, from whole rendered clips: another way than the library's. */
export function overLeadDb(takes: readonly Take[], from: number, to: number, leadId: TakeId): number {
  const power = (signal: (sample: number) => number): number => {
    let sum = 0;
    for (let s = from; s < to; s++) sum += signal(s) ** 2;
    return sum;
  };
  const parts = takes.map(({ id, channels, list, offsetSamples, gainDb }) => {
    const rendered = renderGain(channels as Samples, list);
    const fader = 10 ** (gainDb / 20);
    return { id, at: (sample: number) => fader * (rendered[sample - offsetSamples] ?? 0) };
  });
  const lead = parts.find(({ id }) => id === leadId)!;
  return 10 * Math.log10(power((s) => parts.reduce((sum, { at }) => sum + at(s), 0)) / power(lead.at));
}

/** The demonstration's singers with other seeds: who sings what when, without a sound. Region n of each take is the n-th sibilant of the song. */
export function sungStack(seed: number): readonly Take[] {
  return SINGERS.map((singer) => {
    const phones = schedule({ ...singer, seed: singer.seed + 100 * seed }, 48_000);
    const drafts = phones
      .filter(({ phone }) => phone.kind === 'sibilant')
      .map(({ startSample, endSample }) => ({
        kind: 'sibilant' as const,
        startSample,
        endSample,
        onsetSample: startSample,
        offsetSample: endSample,
      }));
    return takeOf(singer.name, new Float32Array(phones.at(-1)!.endSample), drafts);
  });
}
