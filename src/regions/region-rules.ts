import type { ClipOptions } from './create-region-list.js';
import {
  FADE_SHAPES,
  LEAST_BAND_WIDTH_HZ,
  LEAST_GAIN_DB,
  MOST_GAIN_DB,
  REGION_KINDS,
  type Region,
  type RegionBand,
  type RegionList,
  type RegionReason,
} from './region.js';

/**
 * Hears of one broken rule: where, which, and what stood there. `wrongKind` tells a wrong type from a
 * wrong value. It may throw, which ends the visit.
 */
export type ReportBreach = (path: string, rule: string, received: unknown, wrongKind: boolean) => void;

type FieldName = keyof Region | keyof RegionBand | keyof RegionList | keyof RegionReason;
type Fields = { readonly [K in FieldName]?: unknown };

/** An object that is looked into, where it lies, and who hears of its breaches. */
interface Place {
  readonly fields: Fields;
  readonly path: string;
  readonly report: ReportBreach;
}

/**
 * The rules of regions and lists, written once: `checkRegionList` throws at the first breach, the JSON reader
 * collects them. Every field is judged by itself first, so that one wrong field gives one report.
 */
export function visitListBreaches(list: unknown, path: string, report: ReportBreach): list is RegionList {
  const place = placeOf(list, path, report);
  if (place === undefined) return false;
  const { sampleRateHz, lengthSamples, nextId, regions } = place.fields as RegionList;
  const rateOk = visitNumber(place, 'sampleRateHz', sampleRateHz, 8000, 192000);
  const lengthOk = visitInteger(place, 'lengthSamples', lengthSamples);
  const nextOk = visitInteger(place, 'nextId', nextId, 1);
  if (!Array.isArray(regions)) return breach(place, 'regions', 'must be an array', regions, true);
  // A broken rate, clip length or nextId is reported once, not again for every region.
  const clip: ClipOptions = {
    sampleRateHz: rateOk ? sampleRateHz : 192000,
    lengthSamples: lengthOk ? lengthSamples : Number.MAX_SAFE_INTEGER,
  };
  const idLimit = nextOk ? nextId : Number.MAX_SAFE_INTEGER;
  const ids = new Set<number>();
  let previous: Region | undefined;
  let allOk = rateOk && lengthOk && nextOk;
  for (let i = 0; i < regions.length; i++) {
    const region: unknown = regions[i];
    const at = `${path}.regions[${i}]`;
    if (!visitRegionBreaches(region, at, clip, idLimit, report)) {
      allOk = false;
      continue;
    }
    if (ids.has(region.id)) {
      allOk = false;
      report(`${at}.id`, 'must be unique in its list', region.id, false);
    }
    ids.add(region.id);
    if (previous !== undefined && region.startSample < previous.endSample) {
      allOk = false;
      const rule = `must not lie before ${previous.endSample}, the end of the region before it`;
      report(`${at}.startSample`, rule, region.startSample, false);
    }
    if (previous === undefined || region.endSample > previous.endSample) previous = region;
  }
  return allOk;
}

/** The rules of one region of a clip, its id below `idLimit`. True: none is broken. */
export function visitRegionBreaches(
  region: unknown,
  path: string,
  clip: ClipOptions,
  idLimit: number,
  report: ReportBreach,
): region is Region {
  const place = placeOf(region, path, report);
  if (place === undefined) return false;
  const { sampleRateHz, lengthSamples } = clip;
  const f = place.fields;
  let ok = visitInteger(place, 'id', f.id, 1, idLimit - 1);
  ok = visitChoice(place, 'kind', f.kind, REGION_KINDS) && ok;
  ok = visitSpan(place, lengthSamples) && ok;
  ok = visitMeasuredEdges(place, lengthSamples) && ok;
  ok = visitNumber(place, 'gainDb', f.gainDb, LEAST_GAIN_DB, MOST_GAIN_DB) && ok;
  ok = visitBand(place, sampleRateHz) && ok;
  ok = visitNumber(place, 'confidence', f.confidence, 0, 1) && ok;
  ok = visitType(place, 'bypassed', f.bypassed, 'boolean') && ok;
  ok = visitType(place, 'locked', f.locked, 'boolean') && ok;
  ok = visitChoice(place, 'fadeShape', f.fadeShape, FADE_SHAPES) && ok;
  ok = visitType(place, 'label', f.label, 'string') && ok;
  return visitReason(place) && ok;
}

function visitSpan(place: Place, lengthSamples: number): boolean {
  const { startSample, endSample, fadeInSamples, fadeOutSamples } = place.fields as Region;
  const startOk = visitInteger(place, 'startSample', startSample);
  const endOk = visitInteger(place, 'endSample', endSample, 0, lengthSamples);
  const inOk = visitInteger(place, 'fadeInSamples', fadeInSamples);
  const outOk = visitInteger(place, 'fadeOutSamples', fadeOutSamples);
  if (!startOk || !endOk) return false;
  const length = endSample - startSample;
  if (length <= 0)
    return breach(place, 'endSample', `must be greater than startSample (${startSample})`, endSample);
  if (!inOk || !outOk) return false;
  // Compared by subtraction: the sum of two safe integers need not be exact.
  if (fadeInSamples <= length - fadeOutSamples) return true;
  const rule = `must fit into the region's ${length} samples together with fadeInSamples (${fadeInSamples})`;
  return breach(place, 'fadeOutSamples', rule, fadeOutSamples);
}

function visitMeasuredEdges(place: Place, lengthSamples: number): boolean {
  const { onsetSample, offsetSample } = place.fields as Region;
  const onsetOk = onsetSample === null || visitInteger(place, 'onsetSample', onsetSample, 0, lengthSamples);
  const offsetOk =
    offsetSample === null || visitInteger(place, 'offsetSample', offsetSample, 0, lengthSamples);
  if (!onsetOk || !offsetOk) return false;
  if (onsetSample === null || offsetSample === null || onsetSample < offsetSample) return true;
  return breach(place, 'offsetSample', `must be greater than onsetSample (${onsetSample})`, offsetSample);
}

function visitBand({ fields, path, report }: Place, sampleRateHz: number): boolean {
  if (fields.band === undefined) return true;
  const band = placeOf(fields.band, `${path}.band`, report);
  if (band === undefined) return false;
  const { lowHz, highHz } = band.fields as RegionBand;
  const half = sampleRateHz / 2;
  const lowOk = visitNumber(band, 'lowHz', lowHz, 0, half - LEAST_BAND_WIDTH_HZ);
  const leastHigh = (lowOk ? lowHz : 0) + LEAST_BAND_WIDTH_HZ;
  return visitNumber(band, 'highHz', highHz, leastHigh, half) && lowOk;
}

function visitReason({ fields, path, report }: Place): boolean {
  const reason = placeOf(fields.reason, `${path}.reason`, report);
  if (reason === undefined) return false;
  let ok = visitType(reason, 'rule', reason.fields.rule, 'string');
  const numbers = placeOf(reason.fields.numbers, `${path}.reason.numbers`, report);
  if (numbers === undefined) return false;
  for (const [name, value] of Object.entries(numbers.fields)) {
    if (Number.isFinite(value)) continue;
    ok = false;
    const wrongKind = typeof value !== 'number';
    // The name may come from a hostile file: quoted and cut, so that a report stays one short line.
    const at = `${numbers.path}[${JSON.stringify(name.slice(0, 40))}]`;
    report(at, wrongKind ? 'must be a number' : 'must be finite', value, wrongKind);
  }
  return ok;
}

function placeOf(value: unknown, path: string, report: ReportBreach): Place | undefined {
  if (typeof value === 'object' && value !== null && !Array.isArray(value))
    return { fields: value, path, report };
  report(path, 'must be an object', value, true);
  return undefined;
}

/** Reports a field and says false; the path is only put together here, where one is needed. */
function breach(
  { path, report }: Place,
  name: FieldName,
  rule: string,
  received: unknown,
  wrongKind = false,
): false {
  report(`${path}.${name}`, rule, received, wrongKind);
  return false;
}

function visitType(place: Place, name: FieldName, value: unknown, type: 'boolean' | 'string'): boolean {
  return typeof value === type || breach(place, name, `must be a ${type}`, value, true);
}

function visitChoice(place: Place, name: FieldName, value: unknown, choices: readonly unknown[]): boolean {
  if (choices.includes(value)) return true;
  return breach(place, name, `must be one of ${choices.join(', ')}`, value, typeof value !== 'string');
}

function visitInteger(
  place: Place,
  name: FieldName,
  value: unknown,
  least: number = 0,
  most: number = Number.MAX_SAFE_INTEGER,
): boolean {
  if (Number.isSafeInteger(value)) return visitNumber(place, name, value, least, most);
  const rule = 'must be a whole number that a double holds exactly';
  return breach(place, name, rule, value, typeof value !== 'number');
}

function visitNumber(place: Place, name: FieldName, value: unknown, least: number, most: number): boolean {
  if (typeof value !== 'number') return breach(place, name, 'must be a number', value, true);
  // NaN fails both comparisons.
  if (value >= least && value <= most) return true;
  return breach(place, name, `must lie within [${least}, ${most}]`, value);
}
