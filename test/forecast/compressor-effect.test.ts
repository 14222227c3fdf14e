import { describe, expect, it } from 'vitest';
import { createEffectJudge } from '../../src/forecast/compressor-effect.js';
import { stageFigures } from '../../src/forecast/forecast-statement.js';
import { region } from '../lib/region.js';
import { COMPRESSOR, RATE } from './material.js';

const CURVE = { kind: 'saturation', curve: 'clip', driveDb: 0 } as const;

describe('what a stage does, in words', () => {
  it('is its place, kind and name, and the median with its sign', () => {
    expect(stageFigures(CURVE, 0, 1.24, []).statement).toBe('1. saturation: median rise +1.2 dB.');
    expect(stageFigures(CURVE, 1, 0, []).statement).toBe('2. saturation: median rise +0.0 dB.');
    const named = stageFigures({ ...CURVE, name: 'drive' }, 4, -0.51, []);
    expect(named.statement).toBe('5. saturation "drive": median rise −0.5 dB.');
    expect(named).toMatchObject({ index: 4, kind: 'saturation', name: 'drive', effects: null });
    expect(stageFigures(CURVE, 0, null, [])).toMatchObject({
      name: 'saturation',
      statement: '1. saturation: nothing to compare.',
    });
  });

  it('counts what a compressor does to which regions, and leaves out what it does to none', () => {
    const { effects, statement } = stageFigures(COMPRESSOR, 0, 2, ['untouched', 'lifted', null, 'lifted']);
    expect(effects).toEqual({ lifted: 2, 'drives the detector': 0, 'held by the voice': 0, untouched: 1 });
    expect(statement).toMatch(
      /^1\. compressor: median rise \+2\.0 dB; it lifts 2, [^;]+; it leaves 1 [^;]+\.$/,
    );
    const all = stageFigures(COMPRESSOR, 0, 0, ['held by the voice', 'drives the detector']).statement;
    expect(all.split('; ')).toHaveLength(3);
    expect(all.indexOf('drives the detector')).toBeLessThan(all.indexOf('as for the voice'));
    expect(stageFigures(CURVE, 0, 2, [null]).statement).not.toContain('lifts');
  });
});

describe('the effect of a compressor on a region', () => {
  const noise = region({ startSample: 100, endSample: 200 });
  const judge = (stage: typeof COMPRESSOR | typeof CURVE, amplitude: number) => {
    const judged = createEffectJudge([noise], { stages: [CURVE, stage] }, RATE);
    judged.enter(1, [new Float32Array(300).fill(amplitude)]);
    return judged;
  };
  const gainOf = (...[from, to, gainDb]: readonly [number, number, number]): Float64Array =>
    new Float64Array(300).fill(0).fill(gainDb, from, to);

  it('is a lift from a tenth of a decibel on', () => {
    const loud = judge(COMPRESSOR, 0.5);
    expect(loud.effect(0, 0.1, gainOf(0, 0, 0))).toBe('lifted');
    expect(loud.effect(0, 0.0999, gainOf(0, 0, 0))).toBe('drives the detector');
  });

  it('hangs on what it would do to the noise alone, then on what it does to it', () => {
    const soft = judge(COMPRESSOR, 0.05);
    expect(soft.effect(0, 0, gainOf(0, 0, 0))).toBe('untouched');
    for (const [from, to] of [
      [100, 101],
      [199, 200],
    ] as const)
      expect(soft.effect(0, 0, gainOf(from, to, -0.11))).toBe('held by the voice');
    // As much as is no cut, and a cut beside it.
    expect(soft.effect(0, 0, gainOf(100, 200, -0.1))).toBe('untouched');
    expect(soft.effect(0, 0, gainOf(0, 100, -6))).toBe('untouched');
    expect(soft.effect(0, 0, gainOf(200, 300, -6))).toBe('untouched');
    // A noise that drives it for one sample drives it.
    const click = createEffectJudge([noise], { stages: [COMPRESSOR] }, RATE);
    click.enter(0, [new Float32Array(300).fill(0.9, 150, 151)]);
    expect(click.effect(0, -1, gainOf(0, 0, 0))).toBe('drives the detector');
    const beside = createEffectJudge([noise], { stages: [COMPRESSOR] }, RATE);
    beside.enter(0, [new Float32Array(300).fill(0.9, 0, 100).fill(0.9, 200)]);
    expect(beside.effect(0, -1, gainOf(0, 0, 0))).toBe('untouched');
  });

  it('is heard at a compressor alone: what enters another stage changes nothing', () => {
    const judged = judge(COMPRESSOR, 0.5);
    judged.enter(0, [new Float32Array(300)]);
    expect(judged.effect(0, 0, gainOf(0, 0, 0))).toBe('drives the detector');
  });
});
