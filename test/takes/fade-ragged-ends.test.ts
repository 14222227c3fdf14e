import { describe, expect, it } from 'vitest';
import { editRegions } from '../../src/regions/edit-regions.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { LEAST_GAIN_DB, type Region } from '../../src/regions/region.js';
import { setBypassed, setLocked } from '../../src/regions/set-flags.js';
import { splitRegion } from '../../src/regions/split-region.js';
import { type FadeRaggedEndsOptions, fadeRaggedEnds } from '../../src/takes/fade-ragged-ends.js';
import { groupEvents } from '../../src/takes/group-events.js';
import type { Take } from '../../src/takes/take.js';
import { takeOf } from './stacks.js';

// At 48 kHz 30 ms are 1440 samples, the fade of 15 ms is 720, and 50 ms of an s are 2400: with a lead that ends at 9600 a tail is to be
// gone at 11040, and its fade begins at 10320.
const SILENCE = new Float32Array(48_000);
const of = (id: string, ...drafts: readonly Partial<RegionDraft>[]): Take =>
  takeOf(
    id,
    SILENCE,
    drafts.map((draft) => ({ kind: 'sibilant', startSample: 4800, endSample: 14_400, ...draft })),
  );
const lead = of('lead', { endSample: 9600 });
const fadeTakes = (take: Take, options: FadeRaggedEndsOptions = {}): readonly Take[] =>
  fadeRaggedEnds([lead, take], groupEvents([lead, take]), options);
const fade = (take: Take, options: FadeRaggedEndsOptions = {}): readonly Region[] =>
  fadeTakes(take, options)[1]!.list.regions;
const edges = (regions: readonly Region[]): number[][] =>
  regions.map(({ id, startSample, endSample }) => [id, startSample, endSample]);
const isLeftAlone = (take: Take, options: FadeRaggedEndsOptions = {}): boolean =>
  fadeTakes(take, options)[1] === take;

describe('fadeRaggedEnds', () => {
  it('goes by where the noise ends, not by where its region does', () => {
    const measured = { onsetSample: 4800, offsetSample: 11_040 };
    expect(isLeftAlone(of('late', measured))).toBe(true);
    const longer = of('late', { ...measured, offsetSample: 11_041 });
    expect(edges(fade(longer))).toEqual([
      [1, 4800, 10_320],
      [2, 10_320, 14_400],
    ]);
  });

  it('counts what is kept from where the noise begins, not from where its region does', () => {
    const early = of('late', { startSample: 9000, onsetSample: 9920, endSample: 16_000 });
    const options = { outlastSeconds: 0 };
    expect(edges(fade(early, options))[0]).toEqual([1, 9000, 12_320]);
    expect(edges(fade(early, { ...options, sKeptSeconds: 0 }))[0]).toEqual([1, 9000, 9920]);
    // Nothing kept of one that begins after its fade would: the first sample stays all the same, since a piece holds one.
    const unmeasured = of('late', { startSample: 9000, endSample: 16_000 });
    expect(edges(fade(unmeasured, { ...options, sKeptSeconds: 0 }))[0]).toEqual([1, 9000, 9001]);
  });

  it('keeps of an sh what is asked for an sh, and of what nobody measured what is asked for an s', () => {
    const late = of('late', { startSample: 9000, endSample: 16_000 });
    const table = (id: number, sound: string) => ({
      sampleRateHz: 48_000,
      byId: new Map([[id, { sound } as never]]),
      voiceDbfs: null,
    });
    const cutAt = (levels: FadeRaggedEndsOptions['levels']): number =>
      fade(late, {
        outlastSeconds: 0,
        sKeptSeconds: 0.06,
        shKeptSeconds: 0.04,
        ...(levels && { levels }),
      })[1]!.startSample;
    expect(cutAt(new Map([['late', table(1, 'sh-like')]]))).toBe(9000 + 1920);
    for (const levels of [
      undefined,
      new Map([['late', table(1, 's-like')]]),
      new Map([['late', table(2, 'sh-like')]]),
      new Map([['lead', table(1, 'sh-like')]]),
    ])
      expect(cutAt(levels)).toBe(9000 + 2880);
  });

  it('shortens its fade where the tail has no room for it beside its own', () => {
    // 10320 to 11100 are 780 samples.
    const [, tail] = fade(of('late', { endSample: 11_100, fadeOutSamples: 96 }));
    expect(tail).toMatchObject({ startSample: 10_320, fadeInSamples: 684, fadeOutSamples: 96 });
    expect(fade(of('late', { endSample: 11_100 }))[1]).toMatchObject({ fadeInSamples: 720 });
  });

  it('leaves what comes before the tail as it is, and says in the tail why it is there', () => {
    const [kept, tail] = fade(of('late', { gainDb: -6, fadeInSamples: 144, fadeOutSamples: 96 }));
    expect(kept).toMatchObject({ gainDb: -6, fadeInSamples: 144, fadeOutSamples: 0 });
    expect(kept!.reason.rule).toBe('by hand');
    expect(tail!.reason).toEqual({
      rule: 'fadeRaggedEnds',
      numbers: { outlastSeconds: 0.03, fadeSeconds: 0.015, gainDb: LEAST_GAIN_DB },
    });
  });

  it('notes other settings even where the tail stays as long, and the same ones never twice', () => {
    // What is kept decides here: 9920 + 2400.
    const late = of('late', { startSample: 9920, endSample: 16_000 });
    const takes = fadeTakes(late, { outlastSeconds: 0 });
    const groups = groupEvents(takes);
    const other = fadeRaggedEnds(takes, groups, { outlastSeconds: 0.001 });
    expect(edges(other[1]!.list.regions)).toEqual(edges(takes[1]!.list.regions));
    expect(other[1]!.list.regions[1]!.reason.numbers).toMatchObject({ outlastSeconds: 0.001 });
    expect(fadeRaggedEnds(other, groups, { outlastSeconds: 0.001 })).toBe(other);
    // The tail that was there is the tail that is: no id is used up.
    expect(other[1]!.list.nextId).toBe(3);
    // The lead is the same object, and what did not change of the other take too.
    expect(other[0]).toBe(lead);
  });

  it('reckons in the time of the song where a take begins elsewhere', () => {
    const late = { ...of('late', { startSample: 2400, endSample: 12_000 }), offsetSamples: 2400 };
    expect(edges(fade(late))).toEqual([
      [1, 2400, 7920],
      [2, 7920, 12_000],
    ]);
  });

  it('fades every tail of a take', () => {
    const twice = (id: string, by: number): Take =>
      of(id, { endSample: 9600 + by }, { startSample: 24_000, endSample: 28_800 + by });
    const takes = [twice('lead', 0), twice('late', 4800)];
    const faded = fadeRaggedEnds(takes, groupEvents(takes));
    expect(edges(faded[1]!.list.regions)).toEqual([
      [1, 4800, 10_320],
      [3, 10_320, 14_400],
      [2, 24_000, 29_520],
      [4, 29_520, 33_600],
    ]);
    expect(faded[1]!.list.nextId).toBe(5);
    expect(faded[0]).toBe(takes[0]);
  });

  it('leaves a noise alone that is locked or bypassed, whole or in its tail', () => {
    for (const flag of [setLocked, setBypassed]) {
      const late = of('late', {});
      expect(isLeftAlone({ ...late, list: flag(late.list, 1, true) })).toBe(true);
      const faded = fadeTakes(late)[1]!;
      for (const id of [1, 2])
        expect(isLeftAlone({ ...faded, list: flag(faded.list, id, true) }, { fadeSeconds: 0.02 })).toBe(true);
    }
  });

  it('moves its tail where the lead ends elsewhere since', () => {
    const once = fadeTakes(of('late', {}))[1]!;
    expect(edges(once.list.regions)[0]).toEqual([1, 4800, 10_320]);
    const earlier = of('lead', { endSample: 9000 });
    const groups = groupEvents([lead, of('late', {})]).map((group) => ({
      ...group,
      members: group.members.map((member) =>
        member.takeId === 'lead' ? { ...member, endSample: 9000 } : member,
      ),
    }));
    const twice = fadeRaggedEnds([earlier, once], groups)[1]!;
    expect(edges(twice.list.regions)).toEqual([
      [1, 4800, 9720],
      [2, 9720, 14_400],
    ]);
  });

  it('leaves a noise alone that somebody split, whatever became of the pieces', () => {
    for (const measured of [{}, { onsetSample: 4900, offsetSample: 14_300 }]) {
      const late = of('late', measured);
      const list = splitRegion(late.list, 1, 8000);
      expect(isLeftAlone({ ...late, list })).toBe(true);
      // A first piece that itself lasts too long is one all the same.
      expect(isLeftAlone({ ...late, list: splitRegion(late.list, 1, 12_000) })).toBe(true);
      const renamed = editRegions(list, ({ id }) => (id === 1 ? { kind: 'breath' } : undefined));
      // The later piece is now a noise of its own, and still a piece.
      expect(isLeftAlone({ ...late, list: renamed })).toBe(true);
    }
  });

  it('takes touching noises that were found apart for two, and keeps the neighbour', () => {
    const before = { kind: 'burst' as const, startSample: 3000, endSample: 4800 };
    const after = { kind: 'burst' as const, startSample: 14_400, endSample: 16_000, gainDb: -3 };
    // One measured edge between them is enough.
    for (const [own, other] of [
      [{ onsetSample: 4800, offsetSample: 14_400 }, {}],
      [{}, { onsetSample: 14_400, offsetSample: 4800 }],
    ] as const) {
      const list = [
        { ...before, offsetSample: other.offsetSample ?? null },
        own,
        { ...after, onsetSample: other.onsetSample ?? null },
      ];
      const regions = fade(of('late', ...list));
      expect(edges(regions)).toEqual([
        [1, 3000, 4800],
        [2, 4800, 10_320],
        [4, 10_320, 14_400],
        [3, 14_400, 16_000],
      ]);
      expect(regions[3]).toMatchObject(after);
    }
  });
});
