import {
  checkArray,
  checkChoice,
  checkFields,
  checkInteger,
  checkNumber,
  checkObject,
  typeError,
} from '../signal/check.js';
import { REGION_KINDS, type Region, type RegionKind } from './region.js';

/** Which regions are meant: those that meet every condition that is given. With none given, all. */
export interface RegionCriteria {
  /** Of these kinds; an empty list means none. */
  readonly kinds?: readonly RegionKind[];
  /** With these ids; ids of no region are passed over. */
  readonly ids?: readonly number[];
  /** Sharing at least one sample with the time from this position on, in samples. */
  readonly startSample?: number;
  /** Sharing at least one sample with the time before this position, in samples. */
  readonly endSample?: number;
  /** Of at least this confidence, 0 to 1. */
  readonly minConfidence?: number;
  /** Of less than this confidence, 0 to 1. */
  readonly belowConfidence?: number;
  /** With exactly this label; '' means those without one. */
  readonly label?: string;
  /** Locked, or not locked. */
  readonly locked?: boolean;
  /** Bypassed, or not bypassed. */
  readonly bypassed?: boolean;
  /** Anything else that can be read from a region, called last. */
  readonly where?: (region: Region) => boolean;
}

const CRITERIA: readonly (keyof RegionCriteria)[] = [
  'kinds',
  'ids',
  'startSample',
  'endSample',
  'minConfidence',
  'belowConfidence',
  'label',
  'locked',
  'bypassed',
  'where',
];

/** Checks criteria for the function that is named and turns them into one question about a region. */
export function regionMatcher(functionName: string, criteria: RegionCriteria): (region: Region) => boolean {
  checkCriteria(functionName, criteria);
  const { kinds, startSample, endSample, minConfidence, belowConfidence } = criteria;
  const { label, locked, bypassed, where } = criteria;
  const ids = criteria.ids === undefined ? undefined : new Set(criteria.ids);
  // An empty or reversed range shares no sample with anything.
  const empty = startSample !== undefined && endSample !== undefined && endSample <= startSample;
  return (region) =>
    !empty &&
    (kinds === undefined || kinds.includes(region.kind)) &&
    (ids === undefined || ids.has(region.id)) &&
    (startSample === undefined || region.endSample > startSample) &&
    (endSample === undefined || region.startSample < endSample) &&
    (minConfidence === undefined || region.confidence >= minConfidence) &&
    (belowConfidence === undefined || region.confidence < belowConfidence) &&
    (label === undefined || region.label === label) &&
    (locked === undefined || region.locked === locked) &&
    (bypassed === undefined || region.bypassed === bypassed) &&
    (where === undefined || where(region));
}

function checkCriteria(name: string, criteria: RegionCriteria): void {
  checkObject(name, 'criteria', criteria);
  checkFields(name, 'criteria', criteria, CRITERIA);
  const { kinds, ids, startSample, endSample, minConfidence, belowConfidence, where } = criteria;
  if (kinds !== undefined) {
    checkArray(name, 'kinds', kinds);
    for (const kind of kinds) checkChoice(name, 'kinds', kind, REGION_KINDS);
  }
  if (ids !== undefined) {
    checkArray(name, 'ids', ids);
    for (const id of ids) checkInteger(name, 'ids', id, 1);
  }
  if (startSample !== undefined) checkNumber(name, 'startSample', startSample);
  if (endSample !== undefined) checkNumber(name, 'endSample', endSample);
  if (minConfidence !== undefined) checkNumber(name, 'minConfidence', minConfidence, 0, 1);
  if (belowConfidence !== undefined) checkNumber(name, 'belowConfidence', belowConfidence, 0, 1);
  checkType(name, 'label', criteria.label, 'string');
  checkType(name, 'locked', criteria.locked, 'boolean');
  checkType(name, 'bypassed', criteria.bypassed, 'boolean');
  if (where !== undefined && typeof where !== 'function')
    throw typeError(name, 'where', 'must be a function', where);
}

function checkType(name: string, parameter: string, value: unknown, type: 'string' | 'boolean'): void {
  if (value !== undefined && typeof value !== type)
    throw typeError(name, parameter, `must be a ${type}`, value);
}
