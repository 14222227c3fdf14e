import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { fingerprint } from './lib/fingerprint.js';
import type { Job } from './lib/job.js';
import { planJobs } from './lib/plan-jobs.js';
import { runJob } from './lib/run-job.js';
import { FORMS, PROPERTIES } from './planted.js';

const subjects = { properties: PROPERTIES, forms: FORMS };

/** What 40 cases of a planted subject say; so many that each way of spoiling arguments is drawn. */
function messagesOf(part: Job['part'], name: string): readonly string[] {
  const { failures, endings } = runJob(subjects, { part, name, from: 0, to: 40 }, 1, () => undefined);
  expect(Object.values(endings).reduce((a, b) => a + b, 0)).toBe(40);
  return failures.map(({ message }) => message);
}

describe('a case of a function', () => {
  it.each([
    ['mutates', /argument 0 must not be changed/],
    ['mutatesLater', /argument 0 must not be changed by a later use/],
    ['throwsOtherErrors', /something broke/],
    ['throwsInOtherWords', /a refusal must read "throwsInOtherWords: parameter rule; received value"/],
    ['refusesSoundArguments', /sound arguments must be taken/],
    ['givesNaN', /result\.inner\.0 must be finite; received NaN/],
    ['takesNaN', /a sample that is not finite must be refused \(index \d\)/],
    ['forgetsToFreeze', /result must be frozen/],
    ['breaksLists', /nextId must lie within/],
    ['differsFromCallToCall', /the same arguments must give the same result/],
    ['breaksItsOwnRule', /a rule of its own/],
  ])('that has a fault fails: %s', (name, message) => {
    expect(messagesOf('properties', name).join('\n')).toMatch(message);
  });

  it('that has none passes', () => {
    expect(messagesOf('properties', 'sound')).toEqual([]);
  });
});

describe('a case of a reader', () => {
  it.each([
    ['reader that throws', /a reader/],
    ['reader that says nothing', /a refusal must name 1 to 100 problems/],
    ['reader without a path', /a path must match/],
    ['reader that keeps too much', /one reading must allocate at most \d+ bytes for 4; received \d+/],
    ['reader of broken values', /no check of the library takes/],
  ])('that has a fault fails: %s', (name, message) => {
    expect(messagesOf('forms', name).join('\n')).toMatch(message);
  });

  it('that writes to the prototype of objects fails', () => {
    try {
      expect(messagesOf('forms', 'reader that pollutes')[0]).toMatch(/prototypes of the language must stay/);
    } finally {
      delete (Object.prototype as { polluted?: unknown }).polluted;
    }
  });

  it('that has none passes', () => {
    expect(messagesOf('forms', 'sound reader')).toEqual([]);
  });
});

describe('the command', () => {
  const run = (...options: string[]) =>
    spawnSync(
      process.execPath,
      ['--import', 'tsx', fileURLToPath(new URL('fuzz.ts', import.meta.url)), '--threads', '1', ...options],
      { encoding: 'utf8' },
    );
  const planted = fileURLToPath(new URL('planted.ts', import.meta.url));

  it('ends a case that hangs, says how to repeat it, goes on behind it, and ends with 1', () => {
    const { status, stdout } = run(
      '--subjects',
      planted,
      '--only',
      'hangs',
      '--cases',
      '2',
      '--time-limit',
      '500',
      '--seed',
      '7',
    );
    expect(stdout).toContain(`--only hangs --seed 7 --case 0 --subjects ${planted}`);
    expect(stdout).toContain('FAILED hangs, case 1: a case must end within');
    expect(stdout).toContain('seed 7: 2 cases failed');
    expect(status).toBe(1);
  });

  it('ends with 0 where nothing fails, and runs as many cases as it was told', () => {
    const { status, stdout } = run('--subjects', planted, '--only', 'sound', '--cases', '300', '--seed', '7');
    expect(stdout).toMatch(/sound +300 /);
    expect(stdout).toContain('300 cases in all');
    expect(status).toBe(0);
  });
});

describe('the plan', () => {
  it('gives as many cases as were asked for, by weight, and at least one each', () => {
    const weights = { a: 1, b: 3, c: 0.001 };
    const properties = Object.fromEntries(
      Object.entries(weights).map(([name, weight]) => [name, { ...PROPERTIES.sound, weight }]),
    );
    const jobs = planJobs({ properties, forms: {} }, { properties: 400, forms: 0 }, null);
    const counts = new Map<string, number>();
    for (const { name, from, to } of jobs) counts.set(name, (counts.get(name) ?? 0) + to - from);
    expect(counts.get('c')).toBe(1);
    // A quarter and three quarters of 400, but for the one of c and rounding.
    expect(Math.abs(counts.get('a')! - 100)).toBeLessThanOrEqual(1);
    expect(Math.abs(counts.get('b')! - 300)).toBeLessThanOrEqual(1);
  });
});

describe('the fingerprint', () => {
  it('tells a bit of a typed array, -0, a missing field and a value in a map', () => {
    const samples = Float32Array.of(1, 2, 3);
    const before = fingerprint({ samples });
    expect(fingerprint({ samples: samples.slice() })).toBe(before);
    samples[2] = 3.0000002;
    expect(fingerprint({ samples })).not.toBe(before);
    expect(fingerprint([0])).not.toBe(fingerprint([-0]));
    expect(fingerprint({})).not.toBe(fingerprint({ a: undefined }));
    expect(fingerprint(new Map([[1, 2]]))).not.toBe(fingerprint(new Map([[1, 3]])));
  });
});
