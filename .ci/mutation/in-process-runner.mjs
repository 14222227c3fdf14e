/**
 * A test runner for Stryker: all tests of a folder in Stryker's own worker process, in a bundle that is evaluated anew for each mutant. Nothing
 * of one run is left for the next, as in vitest with its isolation on; what is gone is a new thread and a hundred modules for each mutant.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { performance } from 'node:perf_hooks';
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

/** Below Stryker's sandbox. */
const TIMES = 'out/mutation/milliseconds.json';

/** One mutant in so many is tried. */
const EVERY = Number(process.env.MUTATION_EVERY ?? 1);

/** What the sources with their mutants read and write. */
const stryker = {};
globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] = stryker;

class InProcessRunner {
  /** How long each test took in the first run, which another worker may have done. */
  #milliseconds;

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
    const result = await this.#run(this.collect(), false);
    writeFileSync(TIMES, JSON.stringify(result.tests.map(({ id, timeSpentMs }) => [id, timeSpentMs])));
    return { ...result, mutantCoverage: stryker.mutantCoverage };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit, mutantActivation, disableBail }) {
    // Stryker knows no sample: mutation.ts leaves out what has this for a reason.
    if (Number(activeMutant.id) % EVERY !== 0)
      return { status: MutantRunStatus.Timeout, reason: 'not in the sample' };
    stryker.hitCount = hitLimit === undefined ? undefined : 0;
    stryker.hitLimit = hitLimit;
    let result;
    try {
      // A mutant of what runs while a module is loaded has to be there then; the others must not hit it.
      stryker.activeMutant = mutantActivation === 'static' ? activeMutant.id : undefined;
      const all = this.collect();
      stryker.activeMutant = activeMutant.id;
      const chosen = testFilter && new Set(testFilter);
      const tests = all.filter(({ title }) => !chosen || chosen.has(title));
      result = await this.#run(tests, !disableBail);
    } catch (error) {
      // The bundle did not load, which every test would have noticed.
      result = { status: DryRunStatus.Complete, tests: [failed('loading', performance.now(), error)] };
    }
    return toMutantRunResult(determineHitLimitReached(stryker.hitCount, stryker.hitLimit) ?? result, true);
  }

  /** Runs tests, the quickest first, up to the first failure where only that one is wanted. */
  async #run(tests, bail) {
    this.#milliseconds ??= existsSync(TIMES) ? new Map(JSON.parse(readFileSync(TIMES, 'utf8'))) : undefined;
    const quickest = (title) => this.#milliseconds?.get(title) ?? 0;
    const results = [];
    const entered = new Set();
    for (const { title, block, run } of tests.toSorted((a, b) => quickest(a.title) - quickest(b.title))) {
      const began = performance.now();
      stryker.currentTestId = title;
      try {
        await prepare(block, entered);
        await run();
        results.push({ ...timed(title, began), status: TestStatus.Success });
      } catch (error) {
        if (error === vitest.SKIPPED) continue;
        results.push(failed(title, began, error));
        if (bail) break;
      }
      stryker.currentTestId = undefined;
    }
    for (const block of entered) for (const after of block.afterAll) await after();
    return { status: DryRunStatus.Complete, tests: results };
  }
}

const timed = (title, began) => ({ id: title, name: title, timeSpentMs: performance.now() - began });

const failed = (title, began, error) => ({
  ...timed(title, began),
  status: TestStatus.Failed,
  failureMessage: String(error),
});

/** What a test's blocks do before it, the outermost first; once a block what is for all of its tests. */
async function prepare(block, entered) {
  if (block.around) await prepare(block.around, entered);
  if (!entered.has(block)) {
    entered.add(block);
    for (const before of block.beforeAll) await before();
  }
  for (const before of block.beforeEach) await before();
}

export const strykerPlugins = [declareClassPlugin(PluginKind.TestRunner, 'in-process', InProcessRunner)];
