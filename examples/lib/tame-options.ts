import { parseArgs } from 'node:util';
import { CHAIN_PRESETS } from '../../src/forecast/presets.js';
import { REGION_KINDS, type RegionKind } from '../../src/regions/region.js';
import { describe } from '../../src/signal/check.js';
import { type Result, refuse } from './result.js';

/** One cut for all, the loud ones down to one level, the spread made smaller, or what the mix chain will lift taken off before. */
export type Decision = 'fixed' | 'level' | 'even' | 'ahead';

const DECISIONS: readonly Decision[] = ['fixed', 'level', 'even', 'ahead'];

/** Held so that the sum stays near the lead, cut so that the lead carries the consonant, or each by itself. */
export type Others = 'hold' | 'give' | 'own';

const OTHERS: readonly Others[] = ['hold', 'give', 'own'];

/** What the command line asks for. */
export interface TameOptions {
  readonly help: boolean;
  readonly files: readonly string[];
  /** How the cuts of consonants are decided. */
  readonly decision: Decision;
  /** Gain of the kinds to be cut, in dB, 0 or below; of consonants only where the decision is fixed. */
  readonly gainDb: number;
  /** Sibilance to level to, in dB; undefined: the take's own. */
  readonly targetDb: number | undefined;
  /** Greatest cut of a levelled or evened consonant, in dB; undefined: the library's own default. */
  readonly maxCutDb: number | undefined;
  /** How far to turn breaths down, in dB; undefined: not, unless they are among the kinds. */
  readonly breathsDb: number | undefined;
  /** True: cut only the band that holds the noise of a region. */
  readonly band: boolean;
  readonly kinds: readonly RegionKind[];
  /** Undefined: the library's own default. */
  readonly minConfidence: number | undefined;
  readonly outDirectory: string;
  readonly stack: boolean;
  /** How the other takes of a stack give way to the lead. */
  readonly others: Others;
  /** A region file to apply instead of a detection. */
  readonly regionsFile: string | undefined;
  /** A chain file, or the name of a preset: what the mix will do to the takes. */
  readonly chainFile: string | undefined;
  /** True: write each take as heard through the chain too, as recorded and tamed. */
  readonly hear: boolean;
}

/** The help text. */
export const HELP = `npm start -- [options] FILE.wav...

Finds the harsh consonants of recorded voices and turns the sibilants down by 6 dB. Each FILE.wav gives
NAME.tamed.wav, NAME.regions.json and NAME.svg in the output directory and a table on the terminal. Inputs are never
changed. Without a file, a demonstration is made, written as WAV files and treated.

  --cut DB             how far to turn down, in dB; 6 and -6 both mean a cut of 6 dB (default 6); unless --decide is
                       fixed, noise and clicks alone
  --kinds LIST         what to turn down, separated by commas (default sibilant); the rest is found and listed
                       at 0 dB. Kinds: ${REGION_KINDS.join(', ')}.
                       Noise and clicks between phrases are looked for only when named here
  --decide HOW         fixed: all by --cut (default). level: the loud ones down to one sibilance, the soft ones not
                       at all. even: half the spread between loud and soft ones. ahead: what the chain will lift
                       them by (needs --chain). None of the last three goes below the level at which an s may be
                       heard as th
  --target DB          with level and ahead: the sibilance to come down to, in dB relative to the voice beside it
                       (default: that of the softer ones of this take; with ahead, what each has without the chain)
  --max-cut DB         with level, even and ahead: the greatest cut, in dB (default 6; with ahead 12)
  --breaths DB         turn breaths down by so much, in dB, with long fades and not below the room
  --band               cut only the band that holds the noise of each region, not the whole spectrum
  --min-confidence X   take finds of at least this confidence, 0 to 1
  --regions FILE.json  apply an edited region file to the one WAV given, in place of finding. A run without this
                       option writes NAME.regions.json anew, so edit a copy
  --chain FILE.json    what the mix will do to the takes (docs/forecast.md): says how far it will lift each sibilant.
                       Or one of ours by name: ${CHAIN_PRESETS.map(({ name }) => `"${name}"`).join(', ')}
  --hear               with --chain: write each take as heard through the chain too, as recorded and tamed, as
                       NAME.recorded-in-chain.wav and NAME.tamed-in-chain.wav (32-bit float)
  --out DIR            where to write (default ./out)
  --stack              the files are takes of one stack, the first is the lead; they start together
  --others HOW         with --stack: hold: the others are cut until all takes together stand at most 2 dB above the
                       lead (default). give: they are cut by 12 dB more. own: each take by itself
  --help               this text

Exit code: 0 when all went well, 2 when something was refused (the other files are still done).
`;

const VALUE_OPTIONS = [
  '--cut',
  '--kinds',
  '--decide',
  '--target',
  '--max-cut',
  '--breaths',
  '--min-confidence',
  '--regions',
  '--others',
  '--chain',
  '--out',
];
/** What has no meaning where the gains come from a file. */
const DECIDING_OPTIONS = [
  'cut',
  'kinds',
  'decide',
  'target',
  'max-cut',
  'breaths',
  'band',
  'min-confidence',
  'stack',
  'others',
] as const;

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
  const decision = choiceOption('--decide', DECISIONS, values.decide ?? 'fixed');
  const target = optionalNumber('--target', values.target, -100, 100);
  const maxCut = optionalNumber('--max-cut', values['max-cut'], -120, 120);
  const others = choiceOption('--others', OTHERS, values.others ?? 'hold');
  const breaths = optionalNumber('--breaths', values.breaths, -120, 120);
  for (const result of [cut, confidence, kinds, decision, others, target, maxCut, breaths])
    if (!result.ok) return result;
  if (
    !cut.ok ||
    !confidence.ok ||
    !kinds.ok ||
    !decision.ok ||
    !target.ok ||
    !maxCut.ok ||
    !breaths.ok ||
    !others.ok
  )
    return refuse('options:', 'cannot be read');
  if (values.target !== undefined && decision.value !== 'level' && decision.value !== 'ahead')
    return refuse('--target', 'needs --decide level or ahead', decision.value);
  if (values['max-cut'] !== undefined && decision.value === 'fixed')
    return refuse('--max-cut', 'needs --decide level, even or ahead', decision.value);
  if (decision.value === 'ahead' && values.chain === undefined)
    return refuse('--decide', 'needs --chain FILE.json to look ahead', decision.value);
  if (values.others !== undefined && values.stack !== true && positionals.length > 0)
    return refuse('--others', 'needs --stack');
  if (values.hear === true && values.chain === undefined) return refuse('--hear', 'needs --chain FILE.json');
  for (const name of ['out', 'regions', 'chain'] as const)
    if (values[name] === '') return refuse(`--${name}`, 'needs a path');
  if (values.regions !== undefined) {
    for (const name of DECIDING_OPTIONS)
      if (values[name] !== undefined) return refuse(`--${name}`, 'has no meaning with --regions');
    if (positionals.length !== 1)
      return refuse('--regions', 'needs exactly one WAV file', String(positionals.length));
  }
  return {
    ok: true,
    value: {
      help: values.help ?? false,
      files: positionals,
      decision: decision.value,
      gainDb: 0 - Math.abs(cut.value),
      targetDb: target.value,
      maxCutDb: magnitude(maxCut.value),
      breathsDb: magnitude(breaths.value),
      band: values.band ?? false,
      kinds: kinds.value,
      minConfidence: values['min-confidence'] === undefined ? undefined : confidence.value,
      outDirectory: values.out ?? 'out',
      stack: values.stack ?? false,
      others: others.value,
      regionsFile: values.regions,
      chainFile: values.chain,
      hear: values.hear ?? false,
    },
  };
}

// The return type is what parseArgs infers from the options below.
function parse(args: readonly string[]) {
  return parseArgs({
    args: joinNegativeNumbers(args),
    allowPositionals: true,
    options: {
      cut: { type: 'string' },
      kinds: { type: 'string' },
      decide: { type: 'string' },
      target: { type: 'string' },
      'max-cut': { type: 'string' },
      breaths: { type: 'string' },
      band: { type: 'boolean' },
      chain: { type: 'string' },
      others: { type: 'string' },
      hear: { type: 'boolean' },
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

function optionalNumber(
  name: string,
  text: string | undefined,
  least: number,
  most: number,
): Result<number | undefined> {
  return text === undefined ? { ok: true, value: undefined } : numberOption(name, text, least, most);
}

/** A cut of 6 dB may be written as 6 or as -6. */
function magnitude(cutDb: number | undefined): number | undefined {
  return cutDb === undefined ? undefined : Math.abs(cutDb);
}

function choiceOption<T extends string>(name: string, choices: readonly T[], text: string): Result<T> {
  const choice = choices.find((each) => each === text);
  if (choice !== undefined) return { ok: true, value: choice };
  return refuse(name, `must be one of ${choices.join(', ')}`, describe(text));
}

function kindsOption(text: string): Result<readonly RegionKind[]> {
  const names = text.split(',').map((name) => name.trim());
  const unknown = names.find((name) => !(REGION_KINDS as readonly string[]).includes(name));
  if (unknown !== undefined)
    return refuse('--kinds', `must name some of ${REGION_KINDS.join(', ')}`, describe(unknown));
  return { ok: true, value: names as RegionKind[] };
}
