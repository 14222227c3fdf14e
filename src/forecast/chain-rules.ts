import { checkFields, rangeError, typeError } from '../signal/check.js';
import type { Chain, FilterSpec, Stage } from './chain.js';
import { DETECTOR_KINDS, FILTER_KINDS, SATURATION_CURVES, SMOOTHINGS, STAGE_KINDS } from './chain.js';

/** Hears of one broken rule: where, which, what stood there, and whether its type is wrong. It may throw. */
export type ReportChainBreach = (path: string, rule: string, received: unknown, wrongKind: boolean) => void;

/** Most stages in a chain. */
const MOST_STAGES = 32;
/** Most filters in one equaliser or sidechain. */
const MOST_FILTERS = 32;
/** Longest name of a chain or stage. */
const MOST_NAME_CHARACTERS = 200;
/** Half the highest sample rate: what a frequency must lie under where the rate is not known yet. */
const HIGHEST_HALF_RATE_HZ = 96_000;

type Fields = Readonly<Record<string, unknown>>;
/** Judges one present value. */
type Rule = (value: unknown, path: string, report: ReportChainBreach, halfRateHz: number) => void;
interface Field {
  readonly rule: Rule;
  readonly optional: boolean;
}

const needed = (rule: Rule): Field => ({ rule, optional: false });
const optional = (rule: Rule): Field => ({ rule, optional: true });

function within(least: number, most: number): Rule {
  return (value, path, report) => {
    if (typeof value !== 'number') report(path, 'must be a number', value, true);
    // NaN fails both comparisons.
    else if (!(value >= least && value <= most))
      report(path, `must lie within [${least}, ${most}]`, value, false);
  };
}

function oneOf(choices: readonly (string | number)[]): Rule {
  return (value, path, report) => {
    if (!choices.includes(value as string))
      report(path, `must be one of ${choices.join(', ')}`, value, typeof value !== typeof choices[0]);
  };
}

const frequency: Rule = (value, path, report, halfRateHz) => {
  if (typeof value !== 'number') report(path, 'must be a number', value, true);
  else if (!(value > 0 && value < halfRateHz))
    report(path, `must lie above 0 and under half the sample rate (${halfRateHz})`, value, false);
};

const text: Rule = (value, path, report) => {
  if (typeof value !== 'string') report(path, 'must be a string', value, true);
  else if (value.length > MOST_NAME_CHARACTERS)
    report(path, `must be at most ${MOST_NAME_CHARACTERS} characters long`, value, false);
};

const quality = within(0.01, 1000);
const decibels = within(-120, 120);
const makeUp = within(-60, 60);
const share = within(0, 1);

const PASS = { frequencyHz: needed(frequency), q: optional(quality) };
const SHELF = {
  frequencyHz: needed(frequency),
  gainDb: needed(decibels),
  slope: optional(within(Number.MIN_VALUE, 1)),
};
const FILTER_FIELDS: Readonly<Record<FilterSpec['kind'], Readonly<Record<string, Field>>>> = {
  lowPass: PASS,
  highPass: PASS,
  bandPass: { frequencyHz: needed(frequency), q: needed(quality) },
  peaking: { frequencyHz: needed(frequency), q: needed(quality), gainDb: needed(decibels) },
  lowShelf: SHELF,
  highShelf: SHELF,
};

const filters: Rule = (value, path, report, halfRateHz) =>
  visitItems(value, path, MOST_FILTERS, report, (filter, at) =>
    visitKinded(filter, at, FILTER_KINDS, FILTER_FIELDS, {}, report, halfRateHz),
  );

/** The fields of each kind of stage and their rules, written once for functions and files. */
const STAGE_FIELDS: Readonly<Record<Stage['kind'], Readonly<Record<string, Field>>>> = {
  compressor: {
    thresholdDb: needed(within(-100, 20)),
    ratio: needed(within(1, 1000)),
    kneeDb: optional(within(0, 60)),
    attackSeconds: needed(within(0, 10)),
    releaseSeconds: needed(within(0.001, 10)),
    detector: optional(oneOf(DETECTOR_KINDS)),
    averageSeconds: optional(within(0.0001, 10)),
    smoothing: optional(oneOf(SMOOTHINGS)),
    sidechain: optional(filters),
    makeUpDb: optional(makeUp),
    wet: optional(share),
  },
  equaliser: { filters: needed(filters), wet: optional(share) },
  saturation: {
    curve: needed(oneOf(SATURATION_CURVES)),
    driveDb: needed(makeUp),
    bias: optional(within(-0.9, 0.9)),
    oversampling: optional(oneOf([1, 2, 4, 8])),
    makeUpDb: optional(makeUp),
    wet: optional(share),
  },
};

/** Reports every broken rule of a chain. A field that is not known is one: a misspelt setting must not do nothing. */
export function visitChainBreaches(
  chain: unknown,
  path: string,
  report: ReportChainBreach,
  halfRateHz: number = HIGHEST_HALF_RATE_HZ,
  alsoKnown: readonly string[] = [],
): void {
  const fields = asFields(chain, path, report);
  if (fields === undefined) return;
  // The stages are judged below, one by one.
  const known = { name: optional(text), stages: optional(() => {}) };
  visitFields(fields, path, known, alsoKnown, report, halfRateHz);
  const { stages } = fields as { readonly stages?: unknown };
  visitItems(stages, `${path}.stages`, MOST_STAGES, report, (stage, at) =>
    visitKinded(stage, at, STAGE_KINDS, STAGE_FIELDS, { name: optional(text) }, report, halfRateHz),
  );
}

/** What the settings of a processor may hold beside those of its stage: the stage's own marks, and what sound they are for. */
const BESIDE_SETTINGS = ['kind', 'name', 'sampleRateHz', 'channelCount'];

/** Throws unless the chain keeps every rule at this sample rate. */
export function assertChain(
  functionName: string,
  chain: unknown,
  sampleRateHz: number,
): asserts chain is Chain {
  visitChainBreaches(chain, 'chain', thrower(functionName), sampleRateHz / 2);
}

/** Throws unless they are filters that keep the rules of chains. */
export function assertFilters(
  functionName: string,
  list: unknown,
  sampleRateHz: number,
): asserts list is readonly FilterSpec[] {
  filters(list, 'filters', thrower(functionName), sampleRateHz / 2);
}

/** Throws unless the settings of one stage keep its rules; other fields (the sample rate) are not looked at. */
export function assertSettings(
  functionName: string,
  kind: Stage['kind'],
  settings: unknown,
  sampleRateHz: number,
): void {
  const report = thrower(functionName);
  const fields = asFields(settings, 'options', report);
  if (fields === undefined) return;
  for (const [name, field] of Object.entries(STAGE_FIELDS[kind]))
    visitField(fields[name], name, field, report, sampleRateHz / 2);
  checkFields(functionName, 'options', fields, [...Object.keys(STAGE_FIELDS[kind]), ...BESIDE_SETTINGS]);
}

function thrower(functionName: string): ReportChainBreach {
  return (path, rule, received, wrongKind) => {
    throw (wrongKind ? typeError : rangeError)(functionName, path, rule, received);
  };
}

function visitKinded<K extends string>(
  value: unknown,
  path: string,
  kinds: readonly K[],
  fieldsOf: Readonly<Record<K, Readonly<Record<string, Field>>>>,
  common: Readonly<Record<string, Field>>,
  report: ReportChainBreach,
  halfRateHz: number,
): void {
  const fields = asFields(value, path, report);
  if (fields === undefined) return;
  const { kind } = fields as { readonly kind?: unknown };
  if (!kinds.includes(kind as K)) {
    report(`${path}.kind`, `must be one of ${kinds.join(', ')}`, kind, typeof kind !== 'string');
    return;
  }
  visitFields(fields, path, { ...common, ...fieldsOf[kind as K] }, ['kind'], report, halfRateHz);
}

function visitFields(
  fields: Fields,
  path: string,
  known: Readonly<Record<string, Field>>,
  alsoKnown: readonly string[],
  report: ReportChainBreach,
  halfRateHz: number,
): void {
  for (const [name, field] of Object.entries(known))
    visitField(fields[name], `${path}.${name}`, field, report, halfRateHz);
  for (const name of Object.keys(fields)) {
    if (Object.hasOwn(known, name) || alsoKnown.includes(name)) continue;
    // The name may come from a hostile file: quoted and cut.
    const rule = `must have only the fields ${[...alsoKnown, ...Object.keys(known)].join(', ')}`;
    report(path, rule, name.slice(0, 40), false);
  }
}

function visitField(
  value: unknown,
  path: string,
  field: Field,
  report: ReportChainBreach,
  halfRateHz: number,
): void {
  if (value === undefined && field.optional) return;
  field.rule(value, path, report, halfRateHz);
}

function visitItems(
  value: unknown,
  path: string,
  most: number,
  report: ReportChainBreach,
  visit: (item: unknown, path: string) => void,
): void {
  if (!Array.isArray(value)) report(path, 'must be an array', value, true);
  else if (value.length > most) report(path, `must hold at most ${most}`, value.length, false);
  // By index: forEach would pass over holes.
  else for (let i = 0; i < value.length; i++) visit(value[i], `${path}[${i}]`);
}

function asFields(value: unknown, path: string, report: ReportChainBreach): Fields | undefined {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value as Fields;
  report(path, 'must be an object', value, true);
  return undefined;
}
