import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { HELP, parseTameOptions } from '../../examples/lib/tame-options.js';
import * as forecast from '../../src/forecast/index.js';
import * as library from '../../src/index.js';
import * as picture from '../../src/picture/index.js';
import { ROOT } from '../lib/project.js';
import { differenceFrom } from './same-as-written.js';
import { defaultIn, tableUnder, tableWith } from './tables.js';

const settings = readFileSync(join(ROOT, 'docs/settings.md'), 'utf8');
const chains = readFileSync(join(ROOT, 'docs/forecast.md'), 'utf8');
const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');

/** Tables whose third column is the default, by their heading, and the constant that holds it. */
const BY_HEADING: readonly (readonly [heading: string, defaults: object, notDefaults: readonly string[]])[] =
  [
    ['Finding', library.DEFAULT_DETECTION_OPTIONS, ['sampleRateHz', 'classifier', 'eventModel', 'engine']],
    ['Edges and fades', library.DEFAULT_EDGE_OPTIONS, ['fadeShape']],
    ['Looking ahead', library.DEFAULT_PREEMPTIVE_CUT_OPTIONS, []],
    ['Drawing', picture.DEFAULT_DRAW_TAKE_OPTIONS, ['name']],
  ];

describe('the tables of docs/settings.md', () => {
  for (const [heading, defaults, without] of BY_HEADING)
    it(`say the defaults of the code: ${heading}`, () => {
      const rows = tableUnder(settings, heading);
      const named = rows.map(([name]) => (name as string).replaceAll('`', ''));
      // Every setting with a default has a line, and every line is a setting.
      expect([...named].sort()).toEqual([...new Set([...Object.keys(defaults), ...without])].sort());
      for (const [index, row] of rows.entries()) {
        const name = named[index] as string;
        if (without.includes(name)) continue;
        const value = (defaults as Record<string, unknown>)[name];
        // A number with two decimals or more may be rounded to them, as in all examples.
        const said = JSON.stringify(defaultIn(row[2] as string));
        expect(differenceFrom(said, value), `${heading}, ${name}`).toBeUndefined();
      }
    });

  it('say the defaults of the code: Turning down by one amount', () => {
    const rows = tableUnder(settings, 'Turning down by one amount');
    const value = (name: string): unknown =>
      defaultIn(rows.find(([cell]) => cell?.includes(name))?.[2] ?? '');
    const fixed = library.DEFAULT_FIXED_CUT_OPTIONS;
    const step = library.DEFAULT_STEP_GAIN_OPTIONS;
    expect(value('gainDb')).toBe(fixed.gainDb);
    expect(value('stepDb')).toBe(step.stepDb);
    expect(value('mostGainDb')).toBe(step.mostGainDb);
    expect(value('minConfidence')).toBe(fixed.minConfidence);
    expect(value('minConfidence')).toBe(step.minConfidence);
  });

  it('say the defaults of the code: Turning down by loudness', () => {
    const rows = tableUnder(settings, 'Turning down by loudness');
    const value = (name: string): unknown =>
      defaultIn(rows.find(([cell]) => cell?.includes(name))?.[2] ?? '');
    const levelled = library.DEFAULT_LEVELLED_CUT_OPTIONS;
    const evened = library.DEFAULT_EVENED_CUT_OPTIONS;
    expect(value('targetDb')).toBe(levelled.targetDb);
    expect(value('targetPercentile')).toBe(levelled.targetPercentile);
    expect(value('share')).toBe(evened.share);
    expect(value('referencePercentile')).toBe(evened.referencePercentile);
    expect(value('maxCutDb')).toBe(levelled.maxCutDb);
    expect(value('maxCutDb')).toBe(evened.maxCutDb);
    const guard = rows.find(([cell]) => cell?.includes('guard'))?.[2];
    expect(guard).toBe(`${library.DEFAULT_GUARD_OPTIONS.guard}, ${library.DEFAULT_GUARD_OPTIONS.marginDb}`);
  });

  it('say the defaults of the code: Breaths, noises, cymbals', () => {
    const cell = (name: string): string =>
      tableUnder(settings, 'Breaths, noises, cymbals').find(([first]) => first === `\`${name}\``)?.[2] ?? '';
    const cuts = library.DEFAULT_KIND_CUTS;
    expect(cell('softenBreaths')).toBe(
      `${-cuts.lead.breath} in a lead, ${-cuts.backing.breath} in a backing take`,
    );
    expect(defaultIn(cell('lowerNoise'))).toBe(library.DEFAULT_LOWER_NOISE_OPTIONS.cutDb);
    expect(defaultIn(cell('tameCymbals'))).toBe(library.DEFAULT_TAME_CYMBALS_OPTIONS.mostCutDb);
    expect(cell('phraseGain')).toBe('none: must be stated');
  });

  it('say the defaults of the code: Stacks', () => {
    const cell = (name: string): string =>
      tableUnder(settings, 'Stacks').find(([first]) => first === `\`${name}\``)?.[2] ?? '';
    const hold = library.DEFAULT_HOLD_SUM_OPTIONS;
    const carry = library.DEFAULT_LEAD_CARRIES_OPTIONS;
    expect(cell('holdSum')).toBe(`${hold.targetDb}, ${hold.maxCutDb}`);
    expect(cell('leadCarries')).toBe(`${carry.how}, ${carry.cutDb}`);
    expect(defaultIn(cell('fadeRaggedEnds'))).toBe(library.DEFAULT_FADE_RAGGED_ENDS_OPTIONS.outlastSeconds);
    expect(defaultIn(cell('sameFeel'))).toBe(library.DEFAULT_SAME_FEEL_OPTIONS.targetPercentile);
  });
});

describe('docs/forecast.md', () => {
  it('says the defaults of compressor and saturation', () => {
    const rows = tableWith(chains, 'if left out');
    let stage = '';
    const said = rows.map(([first, field, , value]) => {
      if (first !== '') stage = first as string;
      return { stage, field: (field as string).replaceAll('`', ''), value: value as string };
    });
    const of = (wanted: string): Record<string, unknown> =>
      Object.fromEntries(
        said
          .filter((row) => row.stage === wanted && row.value !== 'needed')
          .map(({ field, value }) => [field, value === 'none' ? [] : defaultIn(value)]),
      );
    expect(of('compressor')).toEqual(forecast.DEFAULT_COMPRESSOR_SETTINGS);
    expect(of('saturation')).toEqual(forecast.DEFAULT_SATURATION_SETTINGS);
  });

  it('shows a chain file that is read, as it would be written', () => {
    const text = chains.match(/^```json\n([\s\S]*?)^```/m)?.[1] ?? '';
    const read = library.chainFromJson(text);
    expect(read.ok ? JSON.parse(library.chainToJson(read.value)) : read.problems).toEqual(JSON.parse(text));
  });
});

describe('the options in the README', () => {
  const rows = tableUnder(readme, 'Options of the command');

  it('are those of --help, all of them', () => {
    const listed = rows.map(([option]) => (option as string).match(/--[\w-]+/)?.[0]);
    expect([...listed].sort()).toEqual(
      [...HELP.matchAll(/^ {2}(--[\w-]+)/gm)].map(([, name]) => name).sort(),
    );
  });

  it('have the defaults of the code', () => {
    const parsed = parseTameOptions([]);
    if (!parsed.ok) throw new Error('no options are refused');
    const { value } = parsed;
    const said = (option: string): unknown =>
      defaultIn(rows.find(([cell]) => cell?.includes(`--${option}`))?.[2] ?? '');
    expect(said('cut')).toBe(-value.gainDb);
    expect(said('kinds')).toBe(value.kinds.join(','));
    expect(said('decide')).toBe(value.decision);
    expect(said('target')).toBe(value.targetDb === undefined ? 'own' : value.targetDb);
    expect(said('max-cut')).toBe(library.DEFAULT_LEVELLED_CUT_OPTIONS.maxCutDb);
    expect(said('max-cut')).toBe(library.DEFAULT_EVENED_CUT_OPTIONS.maxCutDb);
    expect(said('min-confidence')).toBe(
      value.minConfidence ?? library.DEFAULT_DETECTION_OPTIONS.minConfidence,
    );
    expect(said('others')).toBe(value.others);
    expect(said('out')).toBe(`./${value.outDirectory}`);
  });
});

describe('the reading of tables', () => {
  const page = '## A `b`\n\ntext\n\n| x | y |\n| - | - |\n| `p\\|q` | −3 |\n\n## C\n\n| z |\n| - |\n| 1 |\n';

  it('finds the table below a heading', () => {
    expect(tableUnder(page, 'A `b`')).toEqual([['`p|q`', '−3']]);
    expect(tableUnder(page, 'C')).toEqual([['1']]);
    expect(() => tableUnder(page, 'D')).toThrow('no heading');
  });

  it('reads what stands for a default', () => {
    expect(defaultIn('−6')).toBe(-6);
    expect(defaultIn('12,000')).toBe(12000);
    expect(defaultIn('0 (a corner)')).toBe(0);
    expect(defaultIn('`peak`')).toBe('peak');
    expect(defaultIn('0.5; the command sets 0.7')).toBe(0.5);
    expect(defaultIn('sibilant 0.003, custom 0.001')).toEqual({ sibilant: 0.003, custom: 0.001 });
    expect(defaultIn('null')).toBeNull();
  });
});
