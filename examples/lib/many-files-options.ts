import { parseArgs } from 'node:util';
import { LEAST_GAIN_DB } from '../../src/regions/region.js';
import { type Result, refuse } from './result.js';

/** What the command line of the many-files example asks for. */
export interface ManyFilesOptions {
  readonly files: readonly string[];
  readonly outDirectory: string | undefined;
  /** 0 or below; a cut may be written as 6 or as -6. */
  readonly gainDb: number;
  readonly threads: number;
}

const MOST_THREADS = 1024;

/** Reads `[--out DIR] [--cut DB] [--threads N] FILE.wav...`. Never throws. */
export function parseManyFilesOptions(args: readonly string[], cores: number): Result<ManyFilesOptions> {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { out: { type: 'string' }, cut: { type: 'string' }, threads: { type: 'string' } },
    });
    const gainDb = 0 - Math.abs(Number(values.cut ?? 6));
    const threads = Number(values.threads ?? cores);
    if (values.cut === '' || !(gainDb >= LEAST_GAIN_DB))
      return refuse('--cut', `must be a number of dB up to ${-LEAST_GAIN_DB}`, values.cut);
    if (!Number.isInteger(threads) || threads < 1 || threads > MOST_THREADS)
      return refuse('--threads', `must be a whole number from 1 to ${MOST_THREADS}`, values.threads);
    if (values.out === '') return refuse('--out', 'needs a path');
    return { ok: true, value: { files: positionals, outDirectory: values.out, gainDb, threads } };
  } catch (error) {
    // The first sentence says what is wrong; the rest is advice about dashes.
    return refuse('options:', (error as Error).message.split(/\. |\n/)[0] as string);
  }
}
