/**
 * A test runner for Stryker: all tests of a folder in Stryker's own worker process, in a bundle that is evaluated anew for each mutant. Nothing
 * of one run is left for the next, as in vitest with its isolation on; what is gone is a new thread and a hundred modules for each mutant.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { Script } from 'node:vm';
import { INSTRUMENTER_CONSTANTS } from '@stryker-mutator/api/core';
import { declareClassPlugin, PluginKind } from '@stryker-mutator/api/plugin';
import {
  DryRunStatus,
  determineHitLimitReached,
  MutantRunStatus,
  TestStatus,
  toMutantRunResult,
} from '@stryker-mutator/api/test-runner';
import fastCheck from './fast-check-repeatable.mjs';
import * as vitest from './vitest-in-process.mjs';

/** Below Stryker's sandbox: processor time in milliseconds, by title. */
const COSTS = 'out/mutation/costs.json';
/** The same folder: when no further fault is tried, in milliseconds since 1970. */
const DEADLINE = 'out/mutation/deadline.txt';

/**
 * So much processor time a mutant gets, the quickest tests first; one that none of them notices counts as missed. What only a test notices that
 * takes longer would cost more than all others together. A score can only be lower by that. What runs while modules are loaded gets four times as
 * much, since all tests are asked.
 */
const MOST_CPU_MILLISECONDS = 1000 * Number(process.env.MUTATION_PATIENCE ?? 5);

/**
 * A test that runs so many times as long as without the fault, and at least so many milliseconds, is in an endless loop, and has noticed it. Stryker's
 * count of hits, a hundred times those of all tests, takes minutes in a loop over samples, and sees no loop whose fault lies outside of it.
 */
const ENDLESS_FACTOR = 10;
const LEAST_ENDLESS_MILLISECONDS = 3000;

/** How long a folder takes from its first test on, if there is an end to it. The first run, without a fault, may take half of that. */
const MOST_SECONDS = Number(process.env.MUTATION_SECONDS ?? Number.POSITIVE_INFINITY);

/** What the sources with their mutants read and write. */
const stryker = {};
globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] = stryker;

class InProcessRunner {
  /** What each test and each block's preparation cost in the first run, which another worker may have done. */
  #costs;

  capabilities() {
    return { reloadEnvironment: true };
  }

  init() {
    const path = resolve('out/mutation/tests.cjs');
    const own = createRequire(path);
    const given = (name) => ({ vitest, 'fast-check': fastCheck })[name] ?? own(name);
    const script = new Script(`(function (exports, require, module) {${readFileSync(path, 'utf8')}\n})`, {
      filename: path,
    });
    this.collect = () => {
      const module = { exports: {} };
      return vitest.collectTests(() => script.runInThisContext()(module.exports, given, module));
    };
  }

  async dryRun() {
    stryker.activeMutant = undefined;
    const began = Date.now();
    const until = began + 500 * MOST_SECONDS;
    const result = await this.#run(this.collect(), false, Number.POSITIVE_INFINITY, until);
    // Faults that only the other tests would run are then left out.
    if (Date.now() > until) writeFileSync(process.env.MUTATION_CUT, '');
    writeFileSync(COSTS, JSON.stringify(result.costs));
    if (Number.isFinite(MOST_SECONDS)) writeFileSync(DEADLINE, String(began + 1000 * MOST_SECONDS));
    return { ...result, mutantCoverage: ofTests(stryker.mutantCoverage, result.coverers) };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit, mutantActivation, disableBail }) {
    // Stryker has no word for these two ends: score.ts knows them by their reason.
    if (isOver()) return { status: MutantRunStatus.Timeout, reason: 'no time left' };
    stryker.hitCount = hitLimit === undefined ? undefined : 0;
    stryker.hitLimit = hitLimit;
    let result;
    try {
      // A mutant of what runs while a module is loaded has to be there then; the others must not hit it.
      stryker.activeMutant = mutantActivation === 'static' ? activeMutant.id : undefined;
      const all = within(LEAST_ENDLESS_MILLISECONDS, this.collect);
      stryker.activeMutant = activeMutant.id;
      const chosen = testFilter && new Set(testFilter);
      const tests = all.filter(({ title }) => !chosen || chosen.has(title));
      result = await this.#run(
        tests,
        !disableBail,
        mutantActivation === 'static' ? 4 * MOST_CPU_MILLISECONDS : MOST_CPU_MILLISECONDS,
      );
    } catch (error) {
      if (error === ENDLESS || error === CUT_OFF) return error;
      // The bundle did not load, which every test would have noticed.
      result = { status: DryRunStatus.Complete, tests: [failed('loading', cpuMilliseconds(), error)] };
    }
    if (result.ended) return result.ended;
    if (result.gaveUp) return { status: MutantRunStatus.Timeout, reason: 'no test noticed it in time' };
    return toMutantRunResult(determineHitLimitReached(stryker.hitCount, stryker.hitLimit) ?? result, true);
  }

  /** Runs tests, the quickest first, up to the first failure where only that one is wanted. */
  async #run(tests, bail, mostMilliseconds, until = Number.POSITIVE_INFINITY) {
    // There are none yet in the first run, whose worker goes on with mutants.
    if (existsSync(COSTS)) this.#costs ??= new Map(JSON.parse(readFileSync(COSTS, 'utf8')));
    const known = this.#costs ?? new Map();
    const costOf = ({ title, block }) => (known.get(title) ?? 0) + costAround(known, block);
    const results = [];
    const costs = [];
    const entered = new Set();
    const coverers = new Map();
    const before = cpuMilliseconds();
    let gaveUp = false;
    for (const test of tests.toSorted((a, b) => costOf(a) - costOf(b))) {
      const { title, block, run } = test;
      const comingCost = (known.get(title) ?? 0) + costAround(known, block, entered);
      gaveUp = bail && cpuMilliseconds() - before + comingCost > mostMilliseconds;
      if (gaveUp || (results.length > 0 && Date.now() > until)) break;
      let began = cpuMilliseconds();
      stryker.currentTestId = title;
      const most = Math.max(LEAST_ENDLESS_MILLISECONDS, ENDLESS_FACTOR * costOf(test));
      const limited = (work) => (bail ? within(most, work) : work());
      try {
        costs.push(...(await prepare(block, entered, limited)));
        stryker.currentTestId = title;
        began = cpuMilliseconds();
        await limited(run);
        results.push({ ...timed(title, began), status: TestStatus.Success });
        coverers.set(title, blocksAround(block));
      } catch (error) {
        if (error === vitest.SKIPPED) continue;
        if (error === ENDLESS || error === CUT_OFF) return { ended: error };
        results.push(failed(title, began, error));
        if (bail) break;
      }
      stryker.currentTestId = undefined;
    }
    for (const block of entered) for (const after of block.afterAll) await after();
    costs.push(...results.map(({ id, timeSpentMs }) => [id, timeSpentMs]));
    return { status: DryRunStatus.Complete, tests: results, costs, coverers, gaveUp };
  }
}

/** What score.ts counts like an end by Stryker's count of hits. */
const ENDLESS = { status: MutantRunStatus.Timeout, reason: 'Hit limit of time' };
/** What it counts apart. */
const CUT_OFF = { status: MutantRunStatus.Timeout };
const WORK = 'lenitionMutationWork';
const callWork = new Script(`globalThis.${WORK}()`);

/**
 * Does work that may be endless: nothing else ends a loop that never returns. The limit is one of the clock, twice what is asked for, so that a
 * machine that does much else for half of the time does not pass for an endless loop; where it took even more, the fault is neither.
 */
function within(milliseconds, work) {
  const began = cpuMilliseconds();
  globalThis[WORK] = work;
  try {
    return callWork.runInThisContext({ timeout: Math.ceil(2 * milliseconds) });
  } catch (error) {
    if (error?.code !== 'ERR_SCRIPT_EXECUTION_TIMEOUT') throw error;
    throw cpuMilliseconds() - began < milliseconds ? CUT_OFF : ENDLESS;
  }
}

/** True once no further fault is to be tried. */
function isOver() {
  return existsSync(DEADLINE) && Date.now() > Number(readFileSync(DEADLINE, 'utf8'));
}

/** Of this process, whatever else the machine does. */
function cpuMilliseconds() {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

const timed = (title, began) => ({ id: title, name: title, timeSpentMs: cpuMilliseconds() - began });

const failed = (title, began, error) => ({
  ...timed(title, began),
  status: TestStatus.Failed,
  failureMessage: String(error),
});

/** What a test's blocks do before it, the outermost first; once a block what is for all of its tests. Gives the cost of that, by block. */
async function prepare(block, entered, limited) {
  const costs = block.around ? await prepare(block.around, entered, limited) : [];
  if (!entered.has(block)) {
    entered.add(block);
    stryker.currentTestId = block.title;
    const began = cpuMilliseconds();
    for (const before of block.beforeAll) await limited(before);
    costs.push([block.title, cpuMilliseconds() - began]);
  }
  for (const before of block.beforeEach) await before();
  return costs;
}

/** The titles of a block and of those around it. */
function blocksAround(block) {
  return [block.title, ...(block.around ? blocksAround(block.around) : [])];
}

/** Has what ran before the tests of a block count as run by each of them: the first one may not need it. */
function ofTests(coverage, coverers) {
  if (coverage === undefined) return coverage;
  const sum = (titles) => {
    const hits = {};
    for (const title of titles)
      for (const [mutant, count] of Object.entries(coverage.perTest[title] ?? {}))
        hits[mutant] = (hits[mutant] ?? 0) + count;
    return hits;
  };
  const perTest = [...coverers].map(([title, blocks]) => [title, sum([...blocks, title])]);
  return { static: coverage.static, perTest: Object.fromEntries(perTest) };
}

/** What the blocks around a test cost, but for those that are prepared. */
function costAround(costs, block, entered) {
  const own = entered?.has(block) ? 0 : (costs.get(block.title) ?? 0);
  return own + (block.around ? costAround(costs, block.around, entered) : 0);
}

export const strykerPlugins = [declareClassPlugin(PluginKind.TestRunner, 'in-process', InProcessRunner)];
