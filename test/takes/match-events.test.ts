import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { matchEvents, type PlacedEvent } from '../../src/takes/match-events.js';

/** An event of 10 samples of a take. */
const at = (takeId: number, startSample: number, length = 10): PlacedEvent => ({
  takeId,
  startSample,
  endSample: startSample + length,
});
/** Takes and starts of each group. */
const groups = (events: readonly PlacedEvent[], most: number): string[] =>
  matchEvents(events, most).map((group) =>
    group.map(({ takeId, startSample }) => `${takeId}@${startSample}`).join(' '),
  );

describe('matchEvents', () => {
  it('has no groups of nothing, and one of one', () => {
    expect(groups([], 10)).toEqual([]);
    expect(groups([at(1, 5)], 10)).toEqual(['1@5']);
  });

  it('joins up to the distance asked for, the nearest first', () => {
    expect(groups([at(1, 0), at(2, 50)], 50)).toEqual(['1@0 2@50']);
    expect(groups([at(1, 0), at(2, 51)], 50)).toEqual(['1@0', '2@51']);
    // The second lies nearer to the third than to the first.
    expect(groups([at(1, 0), at(2, 50), at(3, 90)], 50)).toEqual(['1@0', '2@50 3@90']);
    expect(groups([at(1, 0), at(2, 40), at(3, 90)], 50)).toEqual(['1@0 2@40', '3@90']);
  });

  it('goes by the median of what has been joined', () => {
    // The median of 0 and 40 is 20, from which 80 is 60 away.
    const chain = [at(1, 0), at(2, 40), at(3, 80)];
    expect(groups(chain, 60)).toEqual(['1@0 2@40 3@80']);
    // Of equally near ones the earlier are joined.
    expect(groups(chain, 59)).toEqual(['1@0 2@40', '3@80']);
  });

  it('does with fewer groups where those beside one can take in its events', () => {
    // The nearest two have their median at 20, 90 from the last. But the second and the last have it at 75, which the first reaches too.
    const events = [at(1, 0), at(2, 40), at(3, 110)];
    expect(groups(events, 75)).toEqual(['1@0 2@40 3@110']);
    expect(groups(events, 74)).toEqual(['1@0 2@40', '3@110']);
  });

  it('counts both ends: what begins together and ends apart is half as far', () => {
    const events = [at(1, 0), at(2, 0, 110)];
    expect(groups(events, 50)).toHaveLength(1);
    expect(groups(events, 49)).toHaveLength(2);
  });

  it('does not join what has one middle and lies too far away at both ends', () => {
    const events = [at(1, 0, 100), at(2, 40, 20)];
    expect(groups(events, 40)).toEqual(['1@0 2@40']);
    expect(groups(events, 39)).toHaveLength(2);
  });

  it('never joins two of one take, and gives each the partner that keeps the order', () => {
    expect(groups([at(1, 0), at(1, 20)], 50)).toEqual(['1@0', '1@20']);
    // Both of the second take lie nearest to the later one of the first.
    expect(groups([at(1, 0), at(1, 60), at(2, 40), at(2, 80)], 50)).toEqual(['1@0 2@40', '1@60 2@80']);
  });

  it('gives groups in order of time, their events in order of the takes', () => {
    const events = [at(2, 1000), at(1, 1004), at(3, 4), at(2, 0), at(1, 2)];
    expect(groups(events, 50)).toEqual(['1@2 2@0 3@4', '1@1004 2@1000']);
  });

  it('finds what was sung together where every singer keeps within a third of the distance of two notes', () => {
    // Notes 90 apart, each singer at most 14 early or late: two of one note are 28 apart at most, of two notes 62 at least, and the median
    // of a note's events lies within 14 of it.
    const NOTES = [0, 90, 180, 270];
    const singer = fc.array(fc.option(fc.integer({ min: -14, max: 14 }), { freq: 4 }), {
      minLength: NOTES.length,
      maxLength: NOTES.length,
    });
    fc.assert(
      fc.property(fc.array(singer, { minLength: 1, maxLength: 5 }), (singers) => {
        const sung = NOTES.map((note, n) =>
          singers.flatMap((own, takeId) => (own[n] == null ? [] : [at(takeId, note + own[n])])),
        ).filter((events) => events.length > 0);
        // Shuffled by nothing but take: all of one singer, then all of the next.
        const events = sung.flat().sort((a, b) => Number(b.takeId) - Number(a.takeId));
        expect(matchEvents(events, 30)).toEqual(sung);
      }),
    );
  });

  it('parts any events into groups of at most one of a take', () => {
    const event = fc
      .tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 60 }), fc.integer({ min: 1, max: 20 }))
      .map((parts) => at(...parts));
    fc.assert(
      fc.property(fc.array(event, { maxLength: 14 }), fc.integer({ min: 1, max: 30 }), (events, most) => {
        const found = matchEvents(events, most);
        expect(new Set(found.flat())).toEqual(new Set(events));
        expect(found.flat()).toHaveLength(events.length);
        for (const group of found) {
          const ids = group.map(({ takeId }) => takeId);
          expect(ids).toEqual([...new Set(ids)].sort());
        }
        const middles = found.map((group) => {
          const median = (values: number[]): number => {
            values.sort((a, b) => a - b);
            return (values[(values.length - 1) >> 1]! + values[values.length >> 1]!) / 2;
          };
          return median(group.map((e) => e.startSample)) + median(group.map((e) => e.endSample));
        });
        expect([...middles].sort((a, b) => a - b)).toEqual(middles);
      }),
    );
  });
});
