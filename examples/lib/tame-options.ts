import { parseArgs } from 'node:util';
import { REGION_KINDS, type RegionKind } from '../../src/regions/region.js';
import { describe } from '../../src/signal/check.js';
import { problemLine, type Result, refuse } from './result.js';

/** What the command line asks for. */
export interface TameOptions {
  readonly help: boolean;
  readonly files: readonly string[];
  /** Gain of the kinds to be cut, in dB, 0 or below. */
  readonly gainDb: number;
  readonly kinds: readonly RegionKind[];
  /** Undefined: the library's own default. */
  readonly minConfidence: number | undefined;
  readonly outDirectory: string;
  readonly stack: boolean;
  /** A region file to apply instead of a detection. */
  readonly regionsFile: string | undefined;
}

/** The help text. */
export const HELP = `npm start -- [options] FILE.wav...

Finds the harsh consonants of recorded voices and turns the sibilants down by 6 dB. Each FILE.wav gives
NAME.tamed.wav, NAME.regions.json and NAME.svg in the output directory and a table on the terminal. Inputs are never
changed. Without a file, a demonstration is made, written as WAV files and treated.

  --cut DB             how far to turn down, in dB; 6 and -6 both mean a cut of 6 dB (default 6)
  --kinds LIST         what to turn down, separated by commas (default sibilant); the rest is found and listed
                       at 0 dB. Kinds: ${REGION_KINDS.join(', ')}
  --min-confidence X   take finds of at least this confidence, 0 to 1
  --regions FILE.json  apply an edited region file to the one WAV given, in place of finding. A run without this
                       option writes NAME.regions.json anew, so edit a copy
  --out DIR            where to write (default ./out)
  --stack              the files are takes of one stack, the first is the lead
  --help               this text

Exit code: 0 when all went well, 2 when something was refused (the other files are still done).
`;

const VALUE_OPTIONS = ['--cut', '--kinds', '--min-confidence', '--regions', '--out'];

/** Reads the arguments of the command. Never throws. */
export function parseTameOptions(args: readonly string[]): Result<TameOptions> {
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(args);
  } catch (error) {
    // The first sentence says what is wrong; the rest is advice about dashes.
    const message = error instanceof Error ? error.message : String(error);
    return refuse('options:', message.split(/\. |\n/)[0] as string);
  }
  const { values, positionals } = parsed;
  const cut = numberOption('--cut', values.cut ?? '6', -120, 120);
  const confidence = numberOption('--min-confidence', values['min-confidence'] ?? '0', 0, 1);
  const kinds = kindsOption(values.kinds ?? 'sibilant');
  for (const result of [cut, confidence, kinds]) if (!result.ok) return result;
  if (!cut.ok || !confidence.ok || !kinds.ok) return refuse('options:', 'cannot be read');
  for (const name of ['out', 'regions'] as const)
    if (values[name] === '') return refuse(`--${name}`, 'needs a path');
  if (values.regions !== undefined) {
    for (const name of ['cut', 'kinds', 'min-confidence', 'stack'] as const)
      if (values[name] !== undefined) return refuse(`--${name}`, 'has no meaning with --regions');
    if (positionals.length !== 1)
      return refuse('--regions', 'needs exactly one WAV file', String(positionals.length));
  }
  return {
    ok: true,
    value: {
      help: values.help ?? false,
      files: positionals,
      gainDb: 0 - Math.abs(cut.value),
      kinds: kinds.value,
      minConfidence: values['min-confidence'] === undefined ? undefined : confidence.value,
      outDirectory: values.out ?? 'out',
      stack: values.stack ?? false,
      regionsFile: values.regions,
    },
  };
}

/** The text of the first problem of a refused command line. */
export function optionLine(result: Extract<Result<TameOptions>, { ok: false }>): string {
  return result.problems.map(problemLine).join('; ');
}

// The return type is what parseArgs infers from the options below.
function parse(args: readonly string[]) {
  return parseArgs({
    args: joinNegativeNumbers(args),
    allowPositionals: true,
    options: {
      cut: { type: 'string' },
      kinds: { type: 'string' },
      'min-confidence': { type: 'string' },
      regions: { type: 'string' },
      out: { type: 'string' },
      stack: { type: 'boolean' },
      help: { type: 'boolean', short: 'h' },
    },
  });
}

/** "--cut -6" to "--cut=-6": parseArgs would take -6 for an option. */
function joinNegativeNumbers(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const arg of args) {
    const before = joined.at(-1);
    if (before !== undefined && VALUE_OPTIONS.includes(before) && /^-[.\d]/.test(arg))
      joined[joined.length - 1] = `${before}=${arg}`;
    else joined.push(arg);
  }
  return joined;
}

function numberOption(name: string, text: string, least: number, most: number): Result<number> {
  const value = /^[+-]?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : Number.NaN;
  if (value >= least && value <= most) return { ok: true, value };
  return refuse(name, `must be a number from ${least} to ${most}`, describe(text));
}

function kindsOption(text: string): Result<readonly RegionKind[]> {
  const names = text.split(',').map((name) => name.trim());
  const unknown = names.find((name) => !(REGION_KINDS as readonly string[]).includes(name));
  if (unknown !== undefined)
    return refuse('--kinds', `must name some of ${REGION_KINDS.join(', ')}`, describe(unknown));
  return { ok: true, value: names as RegionKind[] };
}
