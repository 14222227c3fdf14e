/**
 * What the tests import from `vitest`, for runs in one process: vitest's own `expect`, and a `describe` and `it` that only note each test down.
 * The names given here are those that the tests use; another one is an error of the bundler.
 */
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  customMatchers,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
} from '@vitest/expect';

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

export const expect = (value, message) => chai.expect(value, message);
Object.assign(expect, chai.expect, globalThis[ASYMMETRIC_MATCHERS_OBJECT]);
expect.unreachable = () => chai.assert.fail('expected not to be reached');
chai.expect.extend(expect, customMatchers);

/** A block of tests: its title, with those around it, and what is to be done before and after its tests. */
const blockOf = (title, around) => ({ title, beforeAll: [], beforeEach: [], afterAll: [], around });
let block = blockOf('');
let tests = [];

/** Called by the bundle where a file of tests begins: what a file does before its tests is for no other's. */
export function startFile(name) {
  block = blockOf(`${name}: `);
}

/** The tests of a bundle, noted down while it is evaluated. */
export function collectTests(evaluate) {
  tests = [];
  evaluate();
  return tests;
}

/** `describe` and `it` take their options before the function and their time limit after it. */
const functionAmong = (rest) => rest.find((part) => typeof part === 'function');

/** What a test throws that finds that it cannot be run here. */
export const SKIPPED = Symbol('skipped');

const context = {
  skip: (really = true) => {
    if (really) throw SKIPPED;
  },
};

/** A limit of time would only tell that sources with counters in them are slow. */
const IS_OF_SPEED = /processor time|per second/;

/**
 * What takes many seconds with counters in the sources, and would be run for each of hundreds of faults: wide and narrow bands (the same test
 * goes on with seven others), huge files, thousands of broken ones, and groups in hundreds of stacks. Without them a score can only be lower.
 */
const IS_SLOW = new RegExp(
  [
    '\\b(?:0 to 250 Hz at 192000|90 to 140 Hz at 44100|0 to 150 Hz at 48000|0 to 4000 Hz at 48000|5500 to 9000 Hz at 44100)',
    '(?:6000 to 60000|7000 to 48000) Hz',
    'more regions times edits than can be tried',
    'huge in any way',
    'never throws?, and gives? ',
    'refuses what the reader refuses for the value of a field alone',
    'made of the pieces of',
    'from what is detected',
    'right on 200 stacks',
    // Whole blocks that find cymbals in long tracks while they are noted down, which is before each fault.
    '^sample rates$',
    '^what must not matter, does not$',
  ].join('|'),
);

function note(title, ...rest) {
  if (IS_OF_SPEED.test(title) || IS_SLOW.test(title)) return;
  const run = () => functionAmong(rest)(context);
  const path = `${block.title}${title}`;
  tests.push({ title: path, block, run });
}

function enter(title, ...rest) {
  if (IS_SLOW.test(title)) return;
  const around = block;
  block = blockOf(`${around.title}${title} > `, around);
  functionAmong(rest)();
  block = around;
}

const each =
  (take) =>
  (rows) =>
  (title, ...rest) => {
    const run = functionAmong(rest);
    rows.forEach((row, i) => {
      take(`${title} [${i}]`, () => run(...(Array.isArray(row) ? row : [row])));
    });
  };

const withVariants = (take) =>
  Object.assign(take, {
    each: each(take),
    skipIf: (skipped) => (skipped ? () => {} : take),
    runIf: (wanted) => (wanted ? take : () => {}),
  });

export const it = withVariants(note);
export const test = withVariants((...rest) => note(...rest));
export const describe = withVariants(enter);
export const beforeAll = (run) => block.beforeAll.push(run);
export const beforeEach = (run) => block.beforeEach.push(run);
export const afterAll = (run) => block.afterAll.push(run);
export const inject = () => undefined;
