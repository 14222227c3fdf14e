import fc from 'fast-check';
import * as g from '../../../src/gain/index.js';
import type { RegionList } from '../../../src/regions/region.js';
import type { Channels, Samples } from '../../../src/signal/samples.js';
import { listed } from '../arbitraries/clips.js';
import { pick } from '../arbitraries/edits.js';
import { options, within } from '../arbitraries/numbers.js';
import { clipsWithLists, idOf, lists } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

// A boost of 24 dB of 1e6 is far below what a 32-bit float holds.
const clipped = clipsWithLists({ mostSeconds: 0.05, mostChannels: 8 });
const plain = clipsWithLists({ mostSeconds: 0.05, mostChannels: 8 }, { bands: false });
const rolls = options({ preSeconds: within(0, 60), postSeconds: within(0, 60) });
const audio = { audio: [0, 'touched'] as const, weight: 0.5 };
const excerptOf = fc
  .tuple(clipped, pick, rolls)
  .map(([c, p, o]) => [c.channels, c.list, idOf(c.list, p), o] as const);
const unknownId = { mayRefuse: /must be ids of regions/ };

const like = (channels: Channels): Channels =>
  channels instanceof Float32Array
    ? new Float32Array(channels.length)
    : channels.map((x) => new Float32Array(x.length));
const isOpen = (list: RegionList, i: number): boolean =>
  list.regions.some((r) => !r.bypassed && r.gainDb !== 0 && i >= r.startSample && i < r.endSample);

/** Outside active regions every bit stays. */
function keepsOutside(result: Channels, input: Channels, list: RegionList): void {
  for (const [c, x] of listed(input).entries()) {
    const y = listed(result)[c]!;
    must(y.length === x.length, 'must be as long as the input', y.length);
    for (let i = 0; i < x.length; i++)
      if (!Object.is(x[i], y[i])) must(isOpen(list, i), 'a sample outside active regions must stay', i);
  }
}

/** Blocks give what the whole clip gives, whatever their lengths. */
function blockwise(result: Channels, channels: Channels, list: RegionList): void {
  keepsOutside(result, channels, list);
  if (list.regions.some((r) => r.band !== undefined && !r.bypassed && r.gainDb !== 0)) return;
  const renderer = g.createGainRenderer(list);
  const whole = listed(result);
  for (let at = 0, n = 1; at < list.lengthSamples; at += n, n = (n * 5) % 777) {
    const block = listed(channels).map((x) => x.subarray(at, at + n) as Samples);
    const out = block.map((x) => new Float32Array(x.length) as Samples);
    renderer.pushInto(out, block);
    for (const [c, y] of out.entries())
      must(
        y.every((v, i) => Object.is(v, whole[c]![at + i])),
        'a whole clip must equal its blocks',
        at,
      );
  }
}

/** The same for regions with a band, whose renderer is late by a stated number of samples. */
function bandBlockwise(renderer: g.BandGainRenderer, list: RegionList): void {
  const length = Math.min(list.lengthSamples, 4000);
  if (length === 0 || length < list.lengthSamples) return;
  const x = Float32Array.from({ length }, (_, i) => Math.sin(i * i * 0.01));
  const whole = g.renderGain(x, list);
  const late = renderer.latencySamples;
  const padded = new Float32Array(length + late);
  padded.set(x);
  const out = new Float32Array(padded.length);
  for (let at = 0, n = 1; at < padded.length; at += n, n = (n * 5) % 777)
    renderer.pushInto(out.subarray(at, at + n), padded.subarray(at, at + n));
  for (let i = 0; i < length; i++)
    // The kernel is summed in another order: 1e-6 of full scale is 17 steps of a 24-bit file.
    must(Math.abs(out[late + i]! - whole[i]!) < 1e-6, 'a whole clip must equal its blocks', i);
}

/** Rendering: whole clips, blocks, bands, excerpts. */
export const RENDERING: Properties = {
  renderGain: property(
    (channels: Channels, list: RegionList) => g.renderGain(channels, list),
    clipped.map((c) => [c.channels, c.list] as const),
    { ...audio, check: blockwise },
  ),
  renderGainInto: property(
    g.renderGainInto,
    clipped.map((c) => [like(c.channels), c.channels, c.list] as const),
    {
      audio: [1, 'touched'],
      outputs: [0],
      weight: 0.5,
      check: (_, out, channels, list) => keepsOutside(out, channels, list),
    },
  ),
  renderGainBlockInto: property(
    g.renderGainBlockInto,
    fc.tuple(plain, fc.nat(), fc.nat(400)).map(([c, at, n]) => {
      const startSample = at % (c.lengthSamples + 1);
      const block = listed(c.channels).map((x) => x.subarray(startSample, startSample + n) as Samples);
      return [like(block), block, c.list, { startSample }] as const;
    }),
    { audio: [1, 'touched'], outputs: [0], weight: 0.5 },
  ),
  createGainRenderer: property(
    g.createGainRenderer,
    fc.tuple(lists({ bands: false }), options({ startSample: fc.nat(1e6) })),
    { repeats: false, check: (renderer) => renderer.seek(0) },
  ),
  createBandGainRenderer: property(
    g.createBandGainRenderer,
    lists({}, true).map((list) => [list] as const),
    { repeats: false, weight: 0.2, check: bandBlockwise },
  ),
  createBandChange: property(
    g.createBandChange,
    lists({}, true).map((list) => [list] as const),
    {
      repeats: false,
      weight: 0.2,
      check: (change, list) => {
        const out = new Float64Array(Math.min(500, list.lengthSamples));
        change.into(out, 0, (i) => Math.sin(i));
        must(out.every(Number.isFinite), 'must be finite');
      },
    },
  ),
  removedSignal: property(
    (channels: Channels, list: RegionList) => g.removedSignal(channels, list),
    clipped.map((c) => [c.channels, c.list] as const),
    { ...audio },
  ),
  excerpt: property(
    (a: Channels, b: RegionList, c: number, o: g.ExcerptOptions) => g.excerpt(a, b, c, o),
    excerptOf,
    {
      ...audio,
      ...unknownId,
    },
  ),
  beforeAndAfter: property(
    (a: Channels, b: RegionList, c: number, o: g.ExcerptOptions) => g.beforeAndAfter(a, b, c, o),
    excerptOf,
    { ...audio, ...unknownId },
  ),
  edgeClicks: property(
    g.edgeClicks,
    fc
      .tuple(
        clipped,
        options({
          leastRatioDb: within(-40, 120),
          nearSeconds: within(0.002, 0.05),
          sameEventSeconds: within(0, 0.002),
        }),
      )
      .map(([c, o]) => [c.channels, g.renderGain(c.channels, c.list), c.list, o] as const),
    // The documented ratio where all around is straight.
    { ...audio, infinite: 'any' },
  ),
};
