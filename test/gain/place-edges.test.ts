import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_EDGE_OPTIONS } from '../../src/gain/edge-options.js';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { REGION_KINDS, type Region, type RegionKind, type RegionList } from '../../src/regions/region.js';
import { bits, listOf, noise, region } from './lists.js';

const rate = 48000;
const ms = (milliseconds: number): number => Math.round((milliseconds / 1000) * rate);

/** Pulses of a low voice (110 Hz) that ring at 600 Hz and die away: a vowel with troughs between its pulses. */
function vowel(length: number, amplitude: number): Float32Array<ArrayBuffer> {
  return new Float32Array(length).map((_, i) => {
    const since = (i % 436) / rate;
    return amplitude * Math.exp(-since * 150) * Math.sin(2 * Math.PI * 600 * since);
  });
}

/** Pieces one after another; where each begins is their known edge. */
function join(...pieces: Float32Array[]): Float32Array<ArrayBuffer> {
  const out = new Float32Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    out.set(piece, at);
    at += piece.length;
  }
  return out;
}

const hiss = (length: number, amplitude = 0.3): Float32Array<ArrayBuffer> =>
  noise(length).map((x) => amplitude * x);
const silence = (length: number): Float32Array<ArrayBuffer> => noise(length, 5).map((x) => 0.0005 * x);

/** A noise whose measured edges are known, as the detector hands it over: no fades, start and end on the edges. */
function measured(kind: RegionKind, onset: number, offset: number, fields: Partial<Region> = {}): Region {
  const edges = { onsetSample: onset, offsetSample: offset, startSample: onset, endSample: offset };
  return region({ kind, ...edges, gainDb: -6, ...fields });
}

const onset = ms(200);
const offset = ms(320);
/** 200 ms of room, 120 ms of hiss, 200 ms of a vowel 6 dB or so above it. */
const clip = join(silence(onset), hiss(offset - onset), vowel(ms(200), 0.8));
const cut = (channels: Float32Array<ArrayBuffer>, options = {}, kind: RegionKind = 'sibilant'): Region =>
  placeEdges(listOf(channels.length, measured(kind, onset, offset)), channels, options).regions[0] as Region;

describe('placeEdges on silence, hiss, vowel', () => {
  const unsnapped = { snapSeconds: 0 };

  it('runs the fade in the silence and completes it where the noise begins', () => {
    const r = cut(clip, unsnapped);
    expect(r.fadeInSamples).toBe(ms(3));
    expect(r.startSample + r.fadeInSamples).toBe(onset);
  });

  it('centres a short fade on the edge where a vowel abuts', () => {
    const r = cut(clip, unsnapped);
    expect(r.fadeOutSamples).toBe(ms(2));
    expect(r.endSample - r.fadeOutSamples / 2).toBe(offset);
  });

  it('stays complete and centred when it snaps, a quarter shorter at most', () => {
    const r = cut(clip);
    expect(r.startSample + r.fadeInSamples).toBe(onset);
    expect(r.fadeInSamples).toBeGreaterThanOrEqual((ms(3) * 3) / 4);
    expect(r.endSample - r.fadeOutSamples / 2).toBe(offset);
    expect(r.fadeOutSamples).toBeGreaterThanOrEqual(ms(1));
    expect(r.fadeOutSamples).toBeLessThanOrEqual(ms(2));
    for (const edge of [r.startSample, r.endSample])
      expect((clip[edge - 1] as number) * (clip[edge] as number)).toBeLessThanOrEqual(0);
  });

  it('mirrors: the same from a vowel into a hiss into silence', () => {
    const mirrored = clip.slice().reverse();
    const list = listOf(clip.length, measured('sibilant', clip.length - offset, clip.length - onset));
    const r = placeEdges(list, mirrored, unsnapped).regions[0] as Region;
    expect(r.startSample + r.fadeInSamples / 2).toBe(clip.length - offset);
    expect(r.endSample - r.fadeOutSamples).toBe(clip.length - onset);
  });

  it('leaves no sample of the noise uncut on the silent side', () => {
    const list = placeEdges(listOf(clip.length, measured('sibilant', onset, offset)), clip);
    for (let i = onset; i < offset - ms(1); i++) expect(gainAt(list, i)).toBe(10 ** (-6 / 20));
  });

  it('touches no vowel sample farther from the edge than half a fade, to the bit', () => {
    const list = placeEdges(listOf(clip.length, measured('sibilant', onset, offset)), clip);
    const out = renderGain(clip, list);
    expect(bits(out.slice(offset + ms(1)))).toEqual(bits(clip.slice(offset + ms(1))));
  });

  it('decides the same at any level, 40 dB up or down', () => {
    for (const gain of [0.01, 100, 0.37]) expect(cut(clip.map((x) => gain * x))).toEqual(cut(clip));
  });

  it('decides the same with an offset of the converter, and with the polarity turned', () => {
    expect(
      cut(
        clip.map((x) => x + 0.25),
        unsnapped,
      ),
    ).toEqual(cut(clip, unsnapped));
    expect(cut(clip.map((x) => -x))).toEqual(cut(clip));
  });

  it('takes the fade of each kind in quiet, never more than the abutting one beside a vowel', () => {
    for (const kind of REGION_KINDS) {
      const r = cut(clip, unsnapped, kind);
      const own = Math.round(DEFAULT_EDGE_OPTIONS.fadeSeconds[kind] * rate);
      expect(r.fadeInSamples).toBe(own);
      expect(r.fadeOutSamples).toBe(Math.min(own, ms(2)));
    }
  });

  // Common practice, no source: sibilant 2-5 ms, burst 1 ms, breath 10-30 ms, abutting 1-3 ms.
  it('has defaults within what engineers use', () => {
    const { fadeSeconds, abuttingFadeSeconds } = DEFAULT_EDGE_OPTIONS;
    expect(fadeSeconds.sibilant).toBeGreaterThanOrEqual(0.002);
    expect(fadeSeconds.sibilant).toBeLessThanOrEqual(0.005);
    expect(fadeSeconds.burst).toBe(0.001);
    expect(fadeSeconds.breath).toBeGreaterThanOrEqual(0.01);
    expect(fadeSeconds.breath).toBeLessThanOrEqual(0.03);
    expect(abuttingFadeSeconds).toBeGreaterThanOrEqual(0.001);
    expect(abuttingFadeSeconds).toBeLessThanOrEqual(0.003);
    expect(Object.isFrozen(DEFAULT_EDGE_OPTIONS) && Object.isFrozen(fadeSeconds)).toBe(true);
  });

  it('takes fades of length 0 and then starts on the noise', () => {
    const r = cut(clip, { fadeSeconds: { sibilant: 0 }, snapSeconds: 0 });
    expect([r.startSample, r.endSample, r.fadeInSamples, r.fadeOutSamples]).toEqual([onset, offset, 0, 0]);
  });

  it('sets the shape where it is told one', () => {
    expect(cut(clip).fadeShape).toBe('linear');
    expect(cut(clip, { fadeShape: 'decibel' }).fadeShape).toBe('decibel');
  });

  it('does not snap several channels, whose zero crossings do not meet', () => {
    const list = listOf(clip.length, measured('sibilant', onset, offset));
    expect(placeEdges(list, [clip, clip])).toEqual(placeEdges(list, clip, unsnapped));
  });

  it('hears a vowel that sounds on one channel of two', () => {
    const left = join(silence(onset), hiss(offset - onset), silence(ms(200)));
    const list = listOf(clip.length, measured('sibilant', onset, offset));
    const r = placeEdges(list, [left, clip]).regions[0] as Region;
    expect(r.endSample - r.fadeOutSamples / 2).toBe(offset);
    expect(placeEdges(list, [left, left]).regions[0]?.endSample).toBe(offset + ms(3));
  });
});

describe('placeEdges at other edges', () => {
  it('lets the fade run in the closure between a vowel and a burst', () => {
    const at = ms(140);
    const audio = join(vowel(ms(100), 0.8), silence(ms(40)), hiss(ms(10)), silence(ms(100)));
    const r = placeEdges(listOf(audio.length, measured('burst', at, at + ms(10))), audio)
      .regions[0] as Region;
    expect(r.startSample + r.fadeInSamples).toBe(at);
    expect(r.startSample).toBeGreaterThanOrEqual(at - ms(1));
  });

  it('takes the slow rise of an s along: the fade is over where the skirt has sunk by 15 dB', () => {
    // The hiss rises in a straight line over 24 ms; half of the amplitude, its measured onset, is 12 ms after its start.
    const rise = ms(24);
    const body = hiss(ms(144)).map((x, i) => x * Math.min(1, i / rise));
    const audio = join(silence(ms(100)), body, silence(ms(100)));
    const half = ms(112);
    const r = placeEdges(listOf(audio.length, measured('sibilant', half, ms(244))), audio)
      .regions[0] as Region;
    const complete = r.startSample + r.fadeInSamples;
    // A stretch of 10 ms that ends t ms into the rise has the power (t/24)²·t/30 of the body: 15 dB down at t = 8.2 ms
    // (computed from published figures). Steps of 1 ms from the onset at 12 ms give 8 ms, or one less where the hiss happens to be strong.
    expect(complete).toBeLessThanOrEqual(ms(100 + 8));
    expect(complete).toBeGreaterThanOrEqual(ms(100 + 7));
  });

  it('holds fades to a third of a short noise', () => {
    const audio = join(silence(4800), hiss(30), silence(4800));
    const r = placeEdges(listOf(audio.length, measured('burst', 4800, 4830)), audio, { snapSeconds: 0 });
    expect(r.regions[0]).toMatchObject({
      startSample: 4790,
      endSample: 4840,
      fadeInSamples: 10,
      fadeOutSamples: 10,
    });
  });

  it('stays inside the clip: a noise from the first sample to the last has no room for fades', () => {
    const audio = hiss(4800);
    const r = placeEdges(listOf(4800, measured('sibilant', 0, 4800)), audio).regions[0];
    expect(r).toMatchObject({ startSample: 0, endSample: 4800, fadeInSamples: 0, fadeOutSamples: 0 });
    const late = join(silence(48), hiss(4800));
    const cutLate = placeEdges(listOf(late.length, measured('sibilant', 48, late.length)), late)
      .regions[0] as Region;
    expect(cutLate).toMatchObject({ startSample: 0, fadeInSamples: 48 });
  });

  it('lets neighbours touch midway where their fades have no room', () => {
    const audio = join(silence(4800), hiss(4800), silence(100), hiss(4800), silence(4800));
    const list = listOf(audio.length, measured('sibilant', 4800, 9600), measured('sibilant', 9700, 14500));
    // 100 samples are under the 10 ms that make a closure, so the edges count as abutting and leave the gap alone.
    const [a, b] = placeEdges(list, audio, { snapSeconds: 0 }).regions as [Region, Region];
    expect([a.endSample, b.startSample]).toEqual([9648, 9652]);
    const [c, d] = placeEdges(list, audio, { quietSeconds: 0.002 }).regions as [Region, Region];
    expect([c.endSample, d.startSample, c.fadeOutSamples, d.fadeInSamples]).toEqual([9650, 9650, 50, 50]);
  });

  it('leaves locked, bypassed and unmeasured regions alone, and may touch them', () => {
    const audio = join(silence(4800), hiss(4800), silence(4800), hiss(4800), silence(4800));
    const still = [{ locked: true }, { bypassed: true }, { onsetSample: null }, { offsetSample: null }];
    for (const fields of still) {
      const list = listOf(
        audio.length,
        measured('sibilant', 4800, 9600),
        region({ startSample: 9650, endSample: 14400, onsetSample: 14400, offsetSample: 19200, ...fields }),
      );
      const placed = placeEdges(list, audio);
      expect(placed.regions[1]).toBe(list.regions[1]);
      expect(placed.regions[0]).toMatchObject({ endSample: 9650, fadeOutSamples: 50 });
    }
  });

  it('keeps gains, reasons and ids', () => {
    const list = fixedCut(listOf(clip.length, measured('sibilant', onset, offset, { gainDb: 0 })));
    const [before, after] = [list.regions[0] as Region, placeEdges(list, clip).regions[0] as Region];
    expect([after.id, after.gainDb, after.reason]).toEqual([before.id, before.gainDb, before.reason]);
  });

  it('refuses a clip of another length, NaN beside a noise, and options out of range', () => {
    const list = listOf(clip.length, measured('sibilant', onset, offset));
    expect(() => placeEdges(list, clip.slice(1))).toThrow(/must equal list.lengthSamples/);
    const broken = clip.slice();
    broken[onset - 10] = Number.NaN;
    expect(() => placeEdges(list, broken)).toThrow(`samples[${onset - 10}] must be finite`);
    expect(() => placeEdges(list, clip, { fadeSeconds: { breath: 1 } })).toThrow(/fadeSeconds.breath/);
    expect(() => placeEdges(list, clip, { snapSeconds: 0.002 })).toThrow(/snapSeconds/);
    // One fade for all kinds is what the decisions take; here each kind has its own.
    for (const fadeSeconds of [0.01, 'x', null, [0.01], { sibilants: 0.01 }] as never[])
      expect(() => placeEdges(list, clip, { fadeSeconds })).toThrow(/^placeEdges: fadeSeconds/);
    expect(() => placeEdges(list, clip, { fadeSecond: {} } as never)).toThrow(
      'placeEdges: options.fadeSecond is not a field of options: those are fadeSeconds, abuttingFadeSeconds,',
    );
    expect(() => placeEdges(list, clip, { quietBelowDb: Number.NaN })).toThrow(RangeError);
    expect(() => placeEdges(list, clip, { fadeShape: 'wavy' as 'linear' })).toThrow(/fadeShape/);
  });
});

describe('placeEdges on any list', () => {
  /** Noises with measured edges, gaps of 0 and more, some locked, some moved by hand off their noise. */
  const scene = fc
    .array(
      fc.record({
        gap: fc.oneof(fc.constant(0), fc.nat(900)),
        length: fc.integer({ min: 1, max: 2000 }),
        kind: fc.constantFrom(...REGION_KINDS),
        locked: fc.boolean(),
        quiet: fc.boolean(),
        moved: fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, fc.integer({ min: -500, max: 500 })),
      }),
      { minLength: 1, maxLength: 6 },
    )
    .map((pieces) => {
      const audio: Float32Array[] = [];
      const regions: Region[] = [];
      let at = 0;
      for (const p of pieces) {
        const start = at + p.gap;
        const end = start + p.length;
        audio.push(p.quiet ? silence(p.gap) : vowel(p.gap, 0.8), hiss(p.length));
        regions.push(measured(p.kind, start, end, { locked: p.locked }));
        at = end;
      }
      const total = at + 500;
      const moved = regions.map((r, i) => {
        const by = pieces[i]?.moved ?? 0;
        const low = Math.max(0, (r.onsetSample as number) + by);
        const high = Math.min(total, (r.offsetSample as number) + by);
        return low < high ? { ...r, onsetSample: low, offsetSample: high } : r;
      });
      return {
        samples: join(...audio, silence(500)),
        list: listOf(total, ...moved),
        byHand: pieces.some((p) => p.moved !== 0),
      };
    });

  const thirds = (list: RegionList): boolean =>
    list.regions.every((r) => 3 * Math.max(r.fadeInSamples, r.fadeOutSamples) <= r.endSample - r.startSample);

  it('never overlaps, never leaves the clip, keeps fades to a third, and does it again without a change', () => {
    fc.assert(
      fc.property(scene, fc.boolean(), ({ samples, list, byHand }, stereo) => {
        const audio = stereo ? [samples, samples] : samples;
        const placed = placeEdges(list, audio);
        checkRegionList(placed);
        expect(thirds(placed)).toBe(true);
        if (!byHand) expect(placeEdges(placed, audio)).toEqual(placed);
      }),
      { numRuns: 300 },
    );
  });

  it('leaves at most half a short fade of any noise uncut', () => {
    fc.assert(
      fc.property(scene, ({ samples, list, byHand }) => {
        if (byHand) return;
        placeEdges(list, samples).regions.forEach((r, i) => {
          if (r === list.regions[i]) return;
          const half = ms(1);
          expect(r.startSample + r.fadeInSamples).toBeLessThanOrEqual((r.onsetSample as number) + half);
          expect(r.endSample - r.fadeOutSamples).toBeGreaterThanOrEqual((r.offsetSample as number) - half);
        });
      }),
    );
  });
});

// Common practice, no source: a cut on zero crossings needs no fade to be free of clicks.
describe('a snapped cut with no fade', () => {
  const steepest = (x: Float32Array, from: number, to: number): number => {
    let most = 0;
    for (let i = from; i < to; i++) most = Math.max(most, Math.abs((x[i] as number) - (x[i - 1] as number)));
    return most;
  };
  // A sung tone under a soft hiss; both measured edges lie on crests, where a step stands out.
  const tone = noise(9600).map((x, i) => 0.7 * Math.sin((2 * Math.PI * 700 * (i + 7)) / rate) + 0.005 * x);
  const stepAt = (snapSeconds: number): [number, number][] => {
    const list = listOf(9600, measured('sibilant', 3027, 6044));
    const placed = placeEdges(list, tone, { fadeSeconds: { sibilant: 0 }, snapSeconds });
    const out = renderGain(tone, placed);
    const r = placed.regions[0] as Region;
    return [r.startSample, r.endSample].map((edge) => [
      steepest(out, edge, edge + 1),
      steepest(tone, edge - ms(1), edge + ms(1)),
    ]);
  };

  it('steps nowhere farther than the input itself does within a millisecond', () => {
    for (const [step, neighbourhood] of stepAt(0.001)) expect(step).toBeLessThanOrEqual(neighbourhood);
  });

  it('would click without the snap: the check above can fail', () => {
    for (const [step, neighbourhood] of stepAt(0)) expect(step).toBeGreaterThan(2 * neighbourhood);
  });
});
