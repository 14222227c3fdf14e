import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { chainFromJson } from '../../src/exchange/chain-from-json.js';
import { regionsFromJson } from '../../src/exchange/regions-from-json.js';
import type { Chain } from '../../src/forecast/chain.js';
import { CHAIN_PRESETS } from '../../src/forecast/presets.js';
import type { RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { decideStack } from './decide-stack.js';
import { shown } from './format-table.js';
import { planOutputs, prepareDirectory, stackPicturePath } from './output-plan.js';
import { type Problem, problemLine, type Result } from './result.js';
import { systemProblem } from './system-problem.js';
import { finishTake, type Job, loadTake, type Tools, tameFile } from './tame-file.js';
import { HELP, parseTameOptions, type TameOptions } from './tame-options.js';
import { encodeWave } from './wave-file.js';
import { writeWhole } from './write-file.js';

/** What the run needs from the process around it. */
export interface Surroundings {
  readonly stdout: (text: string) => unknown;
  readonly stderr: (text: string) => unknown;
  /** True: progress may be drawn on stderr. */
  readonly stderrIsTerminal: boolean;
  readonly nowSeconds: () => number;
  readonly tools: Tools;
  readonly makeDemonstration: () => Demonstration;
}

/** Takes to treat where no file is given. */
export interface Demonstration {
  readonly sampleRateHz: number;
  readonly takes: readonly { readonly name: string; readonly samples: Samples }[];
}

const CLEAR_LINE = '\r\u001b[K';

/** The whole command: arguments in, exit code out (0: all done, 2: something was refused). */
export function runTame(args: readonly string[], around: Surroundings): number {
  const line = (text: string): void => {
    around.stdout(`${shown(text)}\n`);
  };
  const complain = (problem: Problem, file?: string): number => {
    around.stderr(`${shown(`${file === undefined ? '' : `${file}: `}${problemLine(problem)}`)}\n`);
    return 2;
  };
  const parsed = parseTameOptions(args);
  if (!parsed.ok) return complain(parsed.problems[0] as Problem);
  const options = parsed.value;
  if (options.help) {
    around.stdout(HELP);
    return 0;
  }
  const unwritable = prepareDirectory(options.outDirectory);
  if (unwritable !== null) return complain(unwritable, options.outDirectory);
  const regions = readRegionFile(options.regionsFile);
  if (!regions.ok) return complain(regions.problems[0] as Problem, options.regionsFile);
  const chain = readChain(options.chainFile);
  if (!chain.ok) return complain(chain.problems[0] as Problem, options.chainFile);
  const files =
    options.files.length > 0 ? { ok: true as const, value: options.files } : demonstrate(options, around);
  if (!files.ok) return complain(files.problems[0] as Problem);

  if (options.files.length === 0) line(`No file given: made a demonstration of ${files.value.length} takes.`);
  const isStack = options.stack || options.files.length === 0;
  const plans = planOutputs(files.value, options.outDirectory, options.regionsFile, {
    chainFile: options.chainFile,
    hear: options.hear,
  });
  const jobFor = (index: number, file: string): Job => ({
    ...around,
    options,
    regions: regions.value,
    chain: chain.value,
    progress: (stage) => {
      if (around.stderrIsTerminal)
        around.stderr(`${CLEAR_LINE}[${index + 1}/${plans.length}] ${shown(basename(file))}: ${stage}`);
    },
  });
  let refused = 0;
  /** Does work on one file; a fault or refusal is told and costs the others nothing. */
  const attempt = <T>(file: string, work: () => Result<T>): T | undefined => {
    const result = guarded(work);
    if (around.stderrIsTerminal) around.stderr(CLEAR_LINE);
    if (result.ok) return result.value;
    complain(result.problems[0] as Problem, file);
    refused++;
    return undefined;
  };
  const report = (file: string, lines: readonly string[] | undefined): void => {
    for (const text of lines === undefined ? [] : [file, ...lines]) line(text);
  };
  const planned = files.value.map((file, index) => ({
    file,
    plan: plans[index] as (typeof plans)[number],
    job: jobFor(index, file),
  }));
  if (isStack) {
    const loaded = planned.flatMap(({ file, plan, job }) => {
      const take = attempt(file, () => (plan.ok ? loadTake(file, plan.value, job) : plan));
      return take === undefined ? [] : [{ take, job }];
    });
    const takes = loaded.map(({ take }) => take);
    // Where takes cannot be a stack, an empty one among them say, each is still treated by itself.
    const stack = attempt('stack', () => ({ ok: true, value: decideStack(takes, options) })) ?? {
      takes,
      refused: [],
      picture: null,
      lines: [],
    };
    for (const { file, problem } of stack.refused) {
      complain(problem, file);
      refused++;
    }
    for (const take of stack.takes) {
      const { job } = loaded.find((each) => each.take.file === take.file) as (typeof loaded)[number];
      report(
        take.file,
        attempt(take.file, () => finishTake(take, job)),
      );
    }
    for (const text of stack.lines) line(text);
    if (stack.picture !== null) {
      const path = stackPicturePath(files.value[0] as string, options.outDirectory);
      const written = writeWhole(path, [Buffer.from(stack.picture)]);
      if (written.ok) line(`wrote ${path}`);
      else {
        complain(written.problems[0] as Problem, path);
        refused++;
      }
    }
  } else
    for (const { file, plan, job } of planned)
      report(
        file,
        attempt(file, () => (plan.ok ? tameFile(file, plan.value, job) : plan)),
      );
  if (refused < plans.length)
    line('Originals are unchanged. Listen to the results at a moderate level before you use them.');
  return refused > 0 ? 2 : 0;
}

/** A fault in one file's treatment must not cost the others theirs. */
function guarded<T>(work: () => Result<T>): Result<T> {
  try {
    return work();
  } catch (error) {
    return { ok: false, problems: [systemProblem('file', error)] };
  }
}

function readRegionFile(path: string | undefined): Result<RegionList | undefined> {
  return readJsonFile('region file', path, regionsFromJson);
}

function readChain(path: string | undefined): Result<Chain | undefined> {
  const preset = CHAIN_PRESETS.find(({ name }) => name === path);
  if (preset !== undefined) return { ok: true, value: preset };
  return readJsonFile('chain file', path, chainFromJson);
}

function readJsonFile<T>(
  what: string,
  path: string | undefined,
  read: (text: string) => Result<T>,
): Result<T | undefined> {
  if (path === undefined) return { ok: true, value: undefined };
  try {
    return read(readFileSync(path, 'utf8'));
  } catch (error) {
    return { ok: false, problems: [systemProblem(what, error)] };
  }
}

/** Writes the demonstration's takes as 24-bit WAV files and gives their paths. */
function demonstrate({ outDirectory }: TameOptions, around: Surroundings): Result<readonly string[]> {
  const { sampleRateHz, takes } = around.makeDemonstration();
  const paths: string[] = [];
  for (const { name, samples } of takes) {
    const codes = Int32Array.from(samples, (x) =>
      Math.min(Math.max(Math.round(x * 2 ** 23), -(2 ** 23)), 2 ** 23 - 1),
    );
    const path = join(outDirectory, `demonstration-${name}.wav`);
    const written = writeWhole(path, [encodeWave([codes], { sampleRateHz, depth: '24' })]);
    if (!written.ok) return written;
    paths.push(path);
  }
  return { ok: true, value: paths };
}
