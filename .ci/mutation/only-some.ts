/**
 * Leaves out of Stryker's faults those that are not wanted, before they are put into the sources: each one that is there costs time whether
 * or not it is tried. Stryker has no sample, so that its collector of faults is asked here.
 */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

interface Fault {
  readonly ignoreReason: string | undefined;
}

interface Collector {
  collect(file: string, original: unknown, fault: Fault, offset: unknown): unknown;
}

/** Has Stryker make only the faults, counted over all files of a run, that are wanted; the others are reported as ignored. */
export async function makeOnly(root: string, isWanted: (index: number) => boolean): Promise<void> {
  const path = '@stryker-mutator/instrumenter/dist/src/transformers/mutant-collector.js';
  const module = (await import(pathToFileURL(join(root, 'node_modules', path)).href)) as {
    readonly MutantCollector: { readonly prototype: Collector };
  };
  const { prototype } = module.MutantCollector;
  const { collect } = prototype;
  prototype.collect = function (
    this: Collector & { readonly mutants: readonly unknown[] },
    file,
    original,
    fault,
    offset,
  ) {
    const chosen = isWanted(this.mutants.length) ? fault : { ...fault, ignoreReason: 'not in the sample' };
    return collect.call(this, file, original, chosen, offset);
  };
}
