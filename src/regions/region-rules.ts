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

/**
 * The rules of regions and lists, written once: `checkRegionList` throws at the first breach, the JSON reader
 * collects them. Every field is judged by itself first, so that one wrong field gives one report.
 */
export function visitListBreaches(list: unknown, path: string, report: ReportBreach): list is RegionList {
  const fields = asFields(list, path, report);
  if (fields === undefined) return false;
  const rate = fields.sampleRateHz;
  const rateOk = visitNumber(rate, `${path}.sampleRateHz`, 8000, 192000, report);
  const length = fields.lengthSamples;
  const lengthOk = visitInteger(length, `${path}.lengthSamples`, 0, Number.MAX_SAFE_INTEGER, report);
  const nextId = fields.nextId;
  const nextOk = visitInteger(nextId, `${path}.nextId`, 1, Number.MAX_SAFE_INTEGER, report);
  const regions = fields.regions;
  if (!Array.isArray(regions)) {
    report(`${path}.regions`, 'must be an array', regions, true);
    return false;
  }
  // A broken rate, clip length or nextId is reported once, not again for every region.
  const clip: ClipOptions = {
    sampleRateHz: rateOk ? (rate as number) : 192000,
    lengthSamples: lengthOk ? (length as number) : Number.MAX_SAFE_INTEGER,
  };
  const idLimit = nextOk ? (nextId as number) : Number.MAX_SAFE_INTEGER;
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
  const f = asFields(region, path, report);
  if (f === undefined) return false;
  const { sampleRateHz, lengthSamples } = clip;
  let ok = visitInteger(f.id, `${path}.id`, 1, idLimit - 1, report);
  ok = visitChoice(f.kind, `${path}.kind`, REGION_KINDS, report) && ok;
  ok = visitSpan(f, path, lengthSamples, report) && ok;
  ok = visitMeasuredEdges(f, path, lengthSamples, report) && ok;
  ok = visitNumber(f.gainDb, `${path}.gainDb`, LEAST_GAIN_DB, MOST_GAIN_DB, report) && ok;
  ok = (f.band === undefined || visitBand(f.band, `${path}.band`, sampleRateHz, report)) && ok;
  ok = visitNumber(f.confidence, `${path}.confidence`, 0, 1, report) && ok;
  ok = visitType(f.bypassed, `${path}.bypassed`, 'boolean', report) && ok;
  ok = visitType(f.locked, `${path}.locked`, 'boolean', report) && ok;
  ok = visitChoice(f.fadeShape, `${path}.fadeShape`, FADE_SHAPES, report) && ok;
  ok = visitType(f.label, `${path}.label`, 'string', report) && ok;
  return visitReason(f.reason, `${path}.reason`, report) && ok;
}

function visitSpan(f: Fields, path: string, lengthSamples: number, report: ReportBreach): boolean {
  const { startSample, endSample, fadeInSamples, fadeOutSamples } = f;
  const most = Number.MAX_SAFE_INTEGER;
  const startOk = visitInteger(startSample, `${path}.startSample`, 0, most, report);
  const endOk = visitInteger(endSample, `${path}.endSample`, 0, lengthSamples, report);
  const inOk = visitInteger(fadeInSamples, `${path}.fadeInSamples`, 0, most, report);
  const outOk = visitInteger(fadeOutSamples, `${path}.fadeOutSamples`, 0, most, report);
  if (!startOk || !endOk) return false;
  const length = (endSample as number) - (startSample as number);
  if (length <= 0) {
    report(`${path}.endSample`, `must be greater than startSample (${startSample})`, endSample, false);
    return false;
  }
  if (!inOk || !outOk) return false;
  // Compared by subtraction: the sum of two safe integers need not be exact.
  if ((fadeInSamples as number) <= length - (fadeOutSamples as number)) return true;
  const rule = `must fit into the region's ${length} samples together with fadeInSamples (${fadeInSamples})`;
  report(`${path}.fadeOutSamples`, rule, fadeOutSamples, false);
  return false;
}

function visitMeasuredEdges(f: Fields, path: string, lengthSamples: number, report: ReportBreach): boolean {
  const { onsetSample, offsetSample } = f;
  const onsetOk =
    onsetSample === null || visitInteger(onsetSample, `${path}.onsetSample`, 0, lengthSamples, report);
  const offsetOk =
    offsetSample === null || visitInteger(offsetSample, `${path}.offsetSample`, 0, lengthSamples, report);
  if (!onsetOk || !offsetOk) return false;
  if (onsetSample === null || offsetSample === null) return true;
  if ((onsetSample as number) < (offsetSample as number)) return true;
  report(`${path}.offsetSample`, `must be greater than onsetSample (${onsetSample})`, offsetSample, false);
  return false;
}

function visitBand(band: unknown, path: string, sampleRateHz: number, report: ReportBreach): boolean {
  const f = asFields(band, path, report);
  if (f === undefined) return false;
  const { lowHz, highHz } = f;
  const half = sampleRateHz / 2;
  const lowOk = visitNumber(lowHz, `${path}.lowHz`, 0, half - LEAST_BAND_WIDTH_HZ, report);
  const leastHigh = (lowOk ? (lowHz as number) : 0) + LEAST_BAND_WIDTH_HZ;
  return visitNumber(highHz, `${path}.highHz`, leastHigh, half, report) && lowOk;
}

function visitReason(reason: unknown, path: string, report: ReportBreach): boolean {
  const f = asFields(reason, path, report);
  if (f === undefined) return false;
  let ok = visitType(f.rule, `${path}.rule`, 'string', report);
  const numbers = asFields(f.numbers, `${path}.numbers`, report);
  if (numbers === undefined) return false;
  for (const name of Object.keys(numbers)) {
    // The name may come from a hostile file: quoted and cut, so that a report stays one short line.
    const at = `${path}.numbers[${JSON.stringify(name.slice(0, 40))}]`;
    ok =
      visitNumber(
        (numbers as Readonly<Record<string, unknown>>)[name],
        at,
        -Number.MAX_VALUE,
        Number.MAX_VALUE,
        report,
      ) && ok;
  }
  return ok;
}

function asFields(value: unknown, path: string, report: ReportBreach): Fields | undefined {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value as Fields;
  report(path, 'must be an object', value, true);
  return undefined;
}

function visitType(value: unknown, path: string, type: 'boolean' | 'string', report: ReportBreach): boolean {
  if (typeof value === type) return true;
  report(path, `must be a ${type}`, value, true);
  return false;
}

function visitChoice(
  value: unknown,
  path: string,
  choices: readonly string[],
  report: ReportBreach,
): boolean {
  if (typeof value === 'string' && choices.includes(value)) return true;
  report(path, `must be one of ${choices.join(', ')}`, value, typeof value !== 'string');
  return false;
}

function visitInteger(
  value: unknown,
  path: string,
  least: number,
  most: number,
  report: ReportBreach,
): boolean {
  if (Number.isSafeInteger(value)) return visitNumber(value, path, least, most, report);
  report(path, 'must be a whole number that a double holds exactly', value, typeof value !== 'number');
  return false;
}

function visitNumber(
  value: unknown,
  path: string,
  least: number,
  most: number,
  report: ReportBreach,
): boolean {
  if (typeof value !== 'number') {
    report(path, 'must be a number', value, true);
    return false;
  }
  // NaN fails both comparisons.
  if (value >= least && value <= most) return true;
  const rule = most === Number.MAX_VALUE ? 'must be finite' : `must lie within [${least}, ${most}]`;
  report(path, rule, value, false);
  return false;
}
