import { describe, expect, test } from 'vitest';
import { problemLine } from '../../examples/lib/result.js';
import { parseTameOptions, type TameOptions } from '../../examples/lib/tame-options.js';

function parsed(...args: string[]): TameOptions {
  const result = parseTameOptions(args);
  if (!result.ok) throw new Error(result.problems.map(problemLine).join('; '));
  return result.value;
}

function refusal(...args: string[]): string {
  const result = parseTameOptions(args);
  return result.ok ? 'accepted' : result.problems.map(problemLine).join('; ');
}

describe('parseTameOptions', () => {
  test('without options cuts sibilants by 6 dB, into ./out', () => {
    expect(parsed('a.wav')).toEqual({
      help: false,
      files: ['a.wav'],
      decision: 'fixed',
      gainDb: -6,
      targetDb: undefined,
      maxCutDb: undefined,
      breathsDb: undefined,
      band: false,
      kinds: ['sibilant'],
      minConfidence: undefined,
      outDirectory: 'out',
      stack: false,
      others: 'hold',
      regionsFile: undefined,
      chainFile: undefined,
      hear: false,
    });
  });

  test('takes 6 and -6, in both spellings, for a cut of 6 dB', () => {
    for (const args of [
      ['--cut', '4.5'],
      ['--cut', '-4.5'],
      ['--cut=4.5'],
      ['--cut=-4.5'],
      ['--cut', '+4.5'],
    ])
      expect(parsed(...args, 'a.wav')).toMatchObject({ gainDb: -4.5, files: ['a.wav'] });
    expect(parsed('--cut', '-.5').gainDb).toBe(-0.5);
    expect(Object.is(parsed('--cut', '-0').gainDb, 0)).toBe(true);
  });

  test('takes kinds, confidence, directory and stack, before or after the files', () => {
    const options = parsed(
      'a.wav',
      '--kinds',
      'sibilant, breath',
      '--min-confidence',
      '0.25',
      '--stack',
      'b.wav',
      '--out',
      'o',
    );
    expect(options).toMatchObject({
      files: ['a.wav', 'b.wav'],
      kinds: ['sibilant', 'breath'],
      minConfidence: 0.25,
      stack: true,
      outDirectory: 'o',
    });
  });

  test('takes a decision with its target and limit, breaths and band; cuts may be written with a minus', () => {
    const args = [
      '--decide',
      'level',
      '--target',
      '-7.5',
      '--max-cut',
      '-4',
      '--breaths',
      '9',
      '--band',
      'a.wav',
    ];
    expect(parsed(...args)).toMatchObject({
      decision: 'level',
      targetDb: -7.5,
      maxCutDb: 4,
      breathsDb: 9,
      band: true,
      files: ['a.wav'],
    });
  });

  test('takes what follows two dashes for files', () => {
    expect(parsed('--', '--cut').files).toEqual(['--cut']);
  });

  const refused: readonly (readonly [readonly string[], RegExp])[] = [
    [['--loud'], /^options: Unknown option '--loud'$/],
    [['-x'], /^options: Unknown option '-x'$/],
    [['--stack=yes'], /^options: Option '--stack' does not take an argument/],
    [['--cut'], /^options: Option '--cut <value>' argument missing$/],
    [['--cut', '--stack'], /^options: Option '--cut' argument is ambiguous/],
    [['--cut', 'six'], /^--cut must be a number from -120 to 120; received "six"$/],
    [['--cut', '6dB'], /received "6dB"/],
    [['--cut='], /received ""/],
    [['--cut', 'NaN'], /received "NaN"/],
    [['--cut', '1e3'], /received "1e3"/],
    [['--cut', '-121'], /received "-121"/],
    [['--min-confidence', '1.5'], /^--min-confidence must be a number from 0 to 1; received "1.5"$/],
    [['--kinds', 'sibilant,vowel'], /^--kinds must name some of sibilant, fricative, .*; received "vowel"$/],
    [['--kinds', ''], /received ""/],
    [['--out', ''], /^--out needs a path$/],
    [['--regions', 'r.json'], /^--regions needs exactly one WAV file; received 0$/],
    [['--regions', 'r.json', 'a.wav', 'b.wav'], /received 2$/],
    [['--regions', 'r.json', 'a.wav', '--cut', '3'], /^--cut has no meaning with --regions$/],
    [['--regions', 'r.json', 'a.wav', '--band'], /^--band has no meaning with --regions$/],
    [['--decide', 'loud'], /^--decide must be one of fixed, level, even, ahead; received "loud"$/],
    [['--target', '-6'], /^--target needs --decide level or ahead; received fixed$/],
    [['--decide', 'even', '--target', '-6'], /^--target needs --decide level or ahead; received even$/],
    [['--max-cut', '4'], /^--max-cut needs --decide level, even or ahead; received fixed$/],
    [['--decide', 'level', '--max-cut', 'x'], /^--max-cut must be a number from -120 to 120; received "x"$/],
    [['--decide', 'ahead'], /^--decide needs --chain FILE.json to look ahead; received ahead$/],
    [['--others', 'give', 'a.wav'], /^--others needs --stack$/],
    [['--stack', '--others', 'low', 'a.wav'], /^--others must be one of hold, give, own; received "low"$/],
    [['--hear'], /^--hear needs --chain FILE.json$/],
    [['--chain', ''], /^--chain needs a path$/],
    [['--breaths', '121'], /^--breaths must be a number from -120 to 120; received "121"$/],
  ];
  for (const [args, line] of refused) {
    test(`refuses ${args.join(' ')} in one line`, () => {
      expect(refusal(...args)).toMatch(line);
      expect(refusal(...args)).not.toContain('\n');
    });
  }
});
