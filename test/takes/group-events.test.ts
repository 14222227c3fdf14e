import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeDemonstration } from '../../examples/lib/demo/make-demonstration.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { setFades } from '../../src/regions/set-fades.js';
import { setGain } from '../../src/regions/set-gain.js';
import { splitRegion } from '../../src/regions/split-region.js';
import type { EventGroup } from '../../src/takes/event-group.js';
import { groupEvents } from '../../src/takes/group-events.js';
import type { Take, TakeId } from '../../src/takes/take.js';
import { silentTake, sungStack } from './stacks.js';

/** Members as text, so that two groupings can be compared whatever the order of takes. */
const keys = (groups: readonly EventGroup[]): string[] =>
  groups.map(({ members }) =>
    members
      .map(({ takeId, regionIds }) => `${takeId}:${regionIds.join('+')}`)
      .sort()
      .join(' '),
  );

/** Right: holds the same sibilant of the song from every take, and from all of them. */
function isRight({ members }: EventGroup, takeCount: number): boolean {
  return members.length === takeCount && new Set(members.map(({ regionIds }) => regionIds[0])).size === 1;
}

describe('groupEvents on stacks that were made so', () => {
  it('groups at least 0.98 right on 200 stacks of the demonstration’s singers, from the truth', () => {
    let right = 0;
    let made = 0;
    let wanted = 0;
    for (let seed = 0; seed < 200; seed++) {
      const takes = sungStack(seed);
      const groups = groupEvents(takes);
      right += groups.filter((group) => isRight(group, takes.length)).length;
      made += groups.length;
      wanted += takes[0]!.list.regions.length;
      if (seed === 0) expect(groups.every((group) => isRight(group, takes.length))).toBe(true);
    }
    const share = right / Math.max(made, wanted);
    console.info(`groups right, from the truth: ${right} of ${Math.max(made, wanted)} (${share.toFixed(4)})`);
    expect(share).toBeGreaterThanOrEqual(0.98);
  });

  it('groups at least 0.98 right on the demonstration, from what is detected', () => {
    const { sampleRateHz, takes: sung } = makeDemonstration();
    const takes: Take[] = sung.map(({ name, samples }) => ({
      id: name,
      channels: samples,
      list: placeEdges(detectConsonants(samples, { sampleRateHz }), samples),
      offsetSamples: 0,
      gainDb: 0,
    }));
    // Which phone of the song a find is: the noise that it shares most time with. All takes sing the same phones.
    const noises = ['sibilant', 'fricative', 'burst', 'breath'];
    const phoneOf = (takeId: TakeId, onset: number, end: number): number => {
      const { truth } = sung.find(({ name }) => name === takeId)!;
      const shared = truth.map(({ kind, startSample, endSample }) =>
        noises.includes(kind) ? Math.min(end, endSample) - Math.max(onset, startSample) : 0,
      );
      const most = Math.max(...shared);
      return most > 0 ? shared.indexOf(most) : -1;
    };
    const numbered = groupEvents(takes).map(({ members }) =>
      members.map(({ takeId, onsetSample, endSample }) => phoneOf(takeId, onsetSample, endSample)),
    );
    // Right: the finds of one phone of the song, all of them and no other. A find of nothing makes its group wrong; whether the detector
    // calls a phone rightly a sibilant is not what is asked here.
    const finds = new Map<number, number>();
    for (const n of numbered.flat()) finds.set(n, (finds.get(n) ?? 0) + 1);
    const right = numbered.filter(
      (numbers) =>
        new Set(numbers).size === 1 && numbers[0]! >= 0 && numbers.length === finds.get(numbers[0]!),
    ).length;
    const share = right / numbered.length;
    const full = numbered.filter(({ length }) => length === takes.length).length;
    console.info(
      `groups right, from detection: ${right} of ${numbered.length} (${share.toFixed(4)}); ${full} with every take`,
    );
    expect(numbered.length).toBeGreaterThanOrEqual(20);
    expect(share).toBeGreaterThanOrEqual(0.98);
  }, 60_000);
});

describe('groupEvents', () => {
  it('does not hang on the order of the takes', () => {
    const anySeed = fc.integer({ min: 0, max: 1000 });
    fc.assert(
      fc.property(anySeed, fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4 }), (seed, order) => {
        const takes = sungStack(seed);
        const groups = groupEvents(takes, { toleranceSeconds: 0.06 });
        const shuffled = groupEvents(
          order.map((t) => takes[t]!),
          { toleranceSeconds: 0.06 },
        );
        expect(keys(shuffled)).toEqual(keys(groups));
        const facts = ({ members: _, missingTakeIds: __, ...rest }: EventGroup) => rest;
        expect(shuffled.map(facts)).toEqual(groups.map(facts));
      }),
      { numRuns: 40 },
    );
  });

  it('does not hang on the order of the takes where many distances are equal', () => {
    const spans = fc
      .uniqueArray(fc.integer({ min: 0, max: 12 }), { maxLength: 5 })
      .map((steps) =>
        steps.sort((a, b) => a - b).map((step): [number, number] => [step * 2000, step * 2000 + 1900]),
      );
    fc.assert(
      fc.property(
        fc.array(spans, { minLength: 4, maxLength: 4 }),
        fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4 }),
        (all, order) => {
          const takes = all.map((own, t) => silentTake(t, own, 48_000));
          const groups = groupEvents(takes);
          expect(keys(groupEvents(order.map((t) => takes[t]!)))).toEqual(keys(groups));
          // Every event once, one per take, in order of time.
          expect(groups.flatMap(({ members }) => members)).toHaveLength(all.flat().length);
          for (const { members } of groups)
            expect(new Set(members.map(({ takeId }) => takeId)).size).toBe(members.length);
        },
      ),
    );
  });

  it('moves with all offsets, and lines up takes that were placed apart', () => {
    const takes = sungStack(3);
    const groups = groupEvents(takes);
    const moved = groupEvents(takes.map((take) => ({ ...take, offsetSamples: -12_345 })));
    expect(keys(moved)).toEqual(keys(groups));
    expect(moved.map(({ startSample }) => startSample)).toEqual(
      groups.map(({ startSample }) => startSample - 12_345),
    );
    expect(moved.map(({ onsetSpreadSeconds }) => onsetSpreadSeconds)).toEqual(
      groups.map((group) => group.onsetSpreadSeconds),
    );
    // The same noise at sample 0 of a clip that begins 2 s late and at 2 s of one that does not.
    const late = { ...silentTake('late', [[0, 4800]]), offsetSamples: 96_000 };
    expect(keys(groupEvents([silentTake('lead', [[96_000, 100_800]]), late]))).toEqual(['late:1 lead:1']);
  });

  it('tells spread, first and last, and names who is missing and who is elsewhere', () => {
    const takes = [
      silentTake('lead', [[48_000, 52_800]]),
      silentTake('early', [[46_080, 53_760]]),
      silentTake('mute', []),
      { ...silentTake('short', [], 4800), offsetSamples: 100_000 },
    ];
    const [group] = groupEvents(takes);
    expect(group).toMatchObject({
      id: 1,
      kind: 'sibilant',
      startSample: 46_080,
      endSample: 53_760,
      // 1920 and 960 samples at 48 kHz.
      onsetSpreadSeconds: 0.04,
      endSpreadSeconds: 0.02,
      firstTakeId: 'early',
      lastTakeId: 'lead',
      firstToEndTakeId: 'lead',
      lastToEndTakeId: 'early',
      missingTakeIds: ['mute'],
      absentTakeIds: ['short'],
    });
  });

  it('misses a take that had begun and had not ended, by a sample', () => {
    const lead = silentTake('lead', [[10_000, 15_000]]);
    const at = (id: string, offsetSamples: number) => ({ ...silentTake(id, [], 5000), offsetSamples });
    const takes = [lead, at('before', 5000), at('into', 5001), at('out of', 14_999), at('after', 15_000)];
    expect(groupEvents(takes)).toMatchObject([
      { missingTakeIds: ['into', 'out of'], absentTakeIds: ['before', 'after'] },
    ]);
  });

  it('leaves apart what lies further apart than the tolerance, to the sample', () => {
    const lead = silentTake('lead', [[48_000, 52_800]]);
    // The median of two is midway, so each lies half the distance from it; joined up to the tolerance between them.
    const at = (by: number) =>
      groupEvents([lead, silentTake('high', [[48_000 + by, 52_800 + by]])], { toleranceSeconds: 0.1 }).length;
    expect(at(4800)).toBe(1);
    expect(at(4801)).toBe(2);
  });

  it('gives an early ch to the ch and not to the z before it, where the take has both', () => {
    // z and ch 140 ms apart; one take sings both 80 ms early, so its ch lies 60 ms from the lead's z and 80 from its ch.
    const pair = (by: number): [number, number][] => [
      [48_000 + by, 52_320 + by],
      [54_720 + by, 59_040 + by],
    ];
    const takes = [
      silentTake('lead', pair(0)),
      silentTake('high', pair(480)),
      silentTake('low', pair(-3840)),
    ];
    expect(keys(groupEvents(takes))).toEqual(['high:1 lead:1 low:1', 'high:2 lead:2 low:2']);
  });

  it('takes every kind by itself, sibilants unless told otherwise', () => {
    const both = (id: string, by: number): Take => {
      const list = insertRegions(createRegionList({ sampleRateHz: 48_000, lengthSamples: 48_000 }), [
        { kind: 'breath', startSample: by, endSample: 9600 + by },
        { kind: 'sibilant', startSample: 12_000 + by, endSample: 16_800 + by },
      ]);
      return { id, channels: new Float32Array(48_000), list, offsetSamples: 0, gainDb: 0 };
    };
    const takes = [both('lead', 0), both('high', 960)];
    expect(groupEvents(takes).map(({ kind }) => kind)).toEqual(['sibilant']);
    const groups = groupEvents(takes, { kinds: ['sibilant', 'breath'] });
    expect(groups.map(({ id, kind, members }) => [id, kind, members.length])).toEqual([
      [1, 'breath', 2],
      [2, 'sibilant', 2],
    ]);
    expect(groupEvents(takes, { kinds: [] })).toEqual([]);
  });

  it('takes the pieces of a split noise for one event, and a muted tail only as far as its fade', () => {
    const lead = silentTake('lead', [[48_000, 57_600]]);
    const split = splitRegion(lead.list, 1, 52_800);
    expect(groupEvents([{ ...lead, list: split }])[0]?.members[0]).toEqual({
      takeId: 'lead',
      regionIds: [1, 2],
      onsetSample: 48_000,
      endSample: 57_600,
    });
    const muted = setFades(setGain(split, 2, -120), 2, { fadeInSamples: 480 });
    expect(groupEvents([{ ...lead, list: muted }])[0]?.endSample).toBe(53_280);
  });
});
