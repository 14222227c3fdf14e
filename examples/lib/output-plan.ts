import { accessSync, constants, mkdirSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { type Problem, type Result, refuse } from './result.js';
import { systemProblem } from './system-problem.js';

/** Where the results of one input go. */
export interface OutputPlan {
  readonly wavPath: string;
  /** Null where it is the region file that was given: that one is kept as it is. */
  readonly regionsPath: string | null;
  readonly picturePath: string;
  /** The forecast's picture; null where there is no chain. */
  readonly forecastPath: string | null;
  /** The take as recorded and as tamed, through the mix chain; null where nobody asked for it. */
  readonly inChainPaths: readonly [recorded: string, tamed: string] | null;
}

/** Makes the output directory where it is missing and says whether files can be written there. */
export function prepareDirectory(directory: string): Problem | null {
  try {
    mkdirSync(directory, { recursive: true });
    accessSync(directory, constants.W_OK | constants.X_OK);
    return null;
  } catch (error) {
    const taken = error instanceof Error && 'code' in error && error.code === 'EEXIST';
    if (taken) return { path: 'output directory', rule: 'is not a directory', received: '' };
    return systemProblem('output directory', error);
  }
}

/**
 * Where the results of each input go, worked out before anything is written: no output may be an input of the same
 * call (whatever path, link or hard link leads to it) nor the output of another input.
 */
export function planOutputs(
  files: readonly string[],
  directory: string,
  regionsFile: string | undefined,
  { chainFile, hear = false }: { readonly chainFile?: string | undefined; readonly hear?: boolean } = {},
): readonly Result<OutputPlan>[] {
  const regionsIdentity = regionsFile === undefined ? undefined : identity(regionsFile);
  const inputs = new Map<string, string>();
  for (const file of [...files, regionsFile, chainFile]) {
    if (file === undefined) continue;
    const key = identity(file);
    if (key !== undefined) inputs.set(key, file);
  }
  const taken = new Map<string, string>();
  return files.map((file) => {
    // A file that another input's results would only create is missing all the same.
    if (identity(file) === undefined) return missing(file);
    const name = takeName(file);
    // Some disks take two names that differ in case or in Unicode form alone for one.
    const key = name.normalize('NFC').toLowerCase();
    const first = taken.get(key);
    if (first !== undefined)
      return refuse(
        'file',
        `has the same name as ${first}, so its results would overwrite those of that file`,
      );
    taken.set(key, file);
    const wavPath = join(directory, `${name}.tamed.wav`);
    const regionsPath = join(directory, `${name}.regions.json`);
    const picturePath = join(directory, `${name}.svg`);
    const keepRegions = regionsIdentity !== undefined && identity(regionsPath) === regionsIdentity;
    const inChainPaths = hear
      ? ([
          join(directory, `${name}.recorded-in-chain.wav`),
          join(directory, `${name}.tamed-in-chain.wav`),
        ] as const)
      : null;
    const forecastPath = chainFile !== undefined ? join(directory, `${name}.forecast.svg`) : null;
    const paths = [
      wavPath,
      ...(keepRegions ? [] : [regionsPath]),
      picturePath,
      ...(forecastPath === null ? [] : [forecastPath]),
      ...(inChainPaths ?? []),
    ];
    for (const path of paths) {
      const input = inputs.get(identity(path) ?? '');
      if (input !== undefined)
        return refuse('file', `would have its result ${path} written over the input ${input}`);
    }
    return {
      ok: true,
      value: {
        wavPath,
        regionsPath: keepRegions ? null : regionsPath,
        picturePath,
        forecastPath,
        inChainPaths,
      },
    };
  });
}

/** Where the picture of a stack goes, by the name of its lead. */
export function stackPicturePath(lead: string, directory: string): string {
  return join(directory, `${takeName(lead)}.stack.svg`);
}

function takeName(file: string): string {
  return basename(file).replace(/(?<=.)\.wave?$/i, '');
}

function missing(file: string): Result<never> {
  try {
    statSync(file);
    return refuse('file', 'does not exist');
  } catch (error) {
    return { ok: false, problems: [systemProblem('file', error)] };
  }
}

/** The same text for every path that leads to one file; undefined where there is none. */
function identity(path: string): string | undefined {
  try {
    const { dev, ino } = statSync(path, { bigint: true });
    return `${dev}:${ino}`;
  } catch {
    return undefined;
  }
}
