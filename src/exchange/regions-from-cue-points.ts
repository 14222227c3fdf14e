import type { ClipOptions } from '../regions/create-region-list.js';
import { withEdges } from '../regions/fit-region.js';
import { freezeList, freezeRegion } from '../regions/freeze-region.js';
import { DEFAULT_REGION } from '../regions/insert-region.js';
import type { Region, RegionList, RegionReason } from '../regions/region.js';
import { visitListBreaches } from '../regions/region-rules.js';
import { describe } from '../signal/check.js';
import { readCueLabel } from './cue-label.js';
import { CUE_REGION_PURPOSE, MOST_IN_32_BITS } from './cue-point-chunks.js';
import type { NoteProblem } from './parse-json.js';
import { fieldsOf, isWhole, readPlainData } from './read-plain-data.js';
import { MOST_REGIONS_IN_FILE } from './region-format.js';
import { checkClip } from './region-from-times.js';
import type { Result } from './result.js';

/**
 * A region list from the cue points of a WAV file: what regionsToCuePoints gave, or a WaveFile of the package
 * `wavefile` that has read a file, whoever wrote it. Never throws for what is in `chunks`; reports every problem, up to 100.
 *
 * A cue point is a region where an `ltxt` gives it a length, with the purpose "rgn " or none (0); other points are places and
 * not ranges, and are passed over, as are texts and lengths without a point. The position is `dwSampleOffset`. A text in the form
 * that regionsToCuePoints writes gives kind, gain, fades, band, flags, confidence and label, so a marker that a person names
 * `breath -12 dB` becomes that; any other text is the label of a `custom` region at 0 dB. Of two texts or lengths for one point the
 * first counts. Fades that no longer fit, since the range was shortened elsewhere, are shortened in the same proportion.
 *
 * The ids are the points' names; where one of them is 0, which is no id, all are one higher. `nextId` follows the highest. Regions
 * come back ordered, whatever the order of the points, with the reason 'cue point'.
 *
 * Problems: no array of points; a point that is not in the chunk 'data' or starts in a block of its own (compressed or
 * `wavl` files); numbers that are no unsigned 32-bit integers; a name used twice; regions that overlap or leave the clip; a band that the
 * sample rate has no room for.
 *
 * @param chunks - An object with `cue.points` and, for texts and lengths, `LIST`, an array of lists.
 * @param clip - Rate in Hz and length in samples of the clip that the file holds; cue points do not carry them.
 * @returns The list, sound by the rules of checkRegionList and frozen, or the problems with their paths.
 * @throws RangeError or TypeError where rate or length is not as stated by ClipOptions.
 *
 * Source: see regionsToCuePoints.
 *
 * @example
 * import { regionsFromCuePoints } from 'lenition/exchange';
 * const chunks = {
 *   cue: { points: [{ dwName: 1, fccChunk: 'data', dwChunkStart: 0, dwBlockStart: 0, dwSampleOffset: 24000 }] },
 *   LIST: [{ format: 'adtl', subChunks: [
 *     { chunkId: 'labl', dwName: 1, value: 'breath -12 dB: before the verse' },
 *     { chunkId: 'ltxt', dwName: 1, dwSampleLength: 9600, dwPurposeID: 0 },
 *   ] }],
 * };
 * const result = regionsFromCuePoints(chunks, { sampleRateHz: 48000, lengthSamples: 96000 });
 * const region = result.ok ? result.value.regions[0] : undefined;
 * [region?.kind, region?.gainDb, region?.startSample, region?.endSample, region?.label];
 * // => ['breath', -12, 24000, 33600, 'before the verse']
 */
export function regionsFromCuePoints(chunks: unknown, clip: ClipOptions): Result<RegionList> {
  checkClip('regionsFromCuePoints', clip, 'clip');
  const { sampleRateHz, lengthSamples } = clip;
  return readPlainData((note) => readChunks(chunks, { sampleRateHz, lengthSamples }, note));
}

const REASON: RegionReason = Object.freeze({ rule: 'cue point', numbers: Object.freeze({}) });

function readChunks(chunks: unknown, clip: ClipOptions, note: NoteProblem): RegionList | undefined {
  const { cue, LIST } = fieldsOf(chunks);
  const { points } = fieldsOf(cue);
  if (!Array.isArray(points)) {
    note('$.cue.points', 'must be an array', describe(points));
    return undefined;
  }
  if (points.length > MOST_REGIONS_IN_FILE) {
    note('$.cue.points', `must hold at most ${MOST_REGIONS_IN_FILE}`, String(points.length));
    return undefined;
  }
  const names = readNames(points, note);
  const { texts, lengths } = readLists(LIST, new Set(names), note);
  const firstId = names.includes(0) ? 1 : 0;
  const found: { readonly region: Region; readonly index: number }[] = [];
  names.forEach((name, index) => {
    const length = name === undefined ? undefined : lengths.get(name);
    if (name === undefined || length === undefined) return;
    const startSample = readPosition(points[index], `$.cue.points[${index}]`, note);
    if (startSample === undefined) return;
    const fields = { ...DEFAULT_REGION, ...readCueLabel(texts.get(name) ?? ''), reason: REASON };
    const loose = { ...fields, id: name + firstId, startSample, endSample: startSample + length };
    found.push({ region: withEdges(loose, startSample, startSample + length), index });
  });
  found.sort((a, b) => a.region.startSample - b.region.startSample);
  const regions = found.map(({ region }) => region);
  const nextId = regions.reduce((most, { id }) => Math.max(most, id), 0) + 1;
  const list = { ...clip, nextId, regions };
  // The paths name the points, not the regions that they would become.
  const sound = visitListBreaches(list, '$', (path, rule, received) => {
    const at = path.replace(/^\$\.regions\[(\d+)\]/, (_, i) => `$.cue.points[${found[Number(i)]?.index}]`);
    note(at, rule, describe(received));
  });
  return sound ? freezeList({ ...list, regions: regions.map(freezeRegion) }) : undefined;
}

/** The names of all points; undefined for one that is reported. */
function readNames(points: readonly unknown[], note: NoteProblem): readonly (number | undefined)[] {
  const seen = new Set<number>();
  // Not map: it would pass over the holes of a sparse array.
  return Array.from(points, (point, index) => {
    const { dwName } = fieldsOf(point);
    const path = `$.cue.points[${index}].dwName`;
    if (!isWhole(dwName, 0, MOST_IN_32_BITS)) {
      note(path, `must be a whole number within [0, ${MOST_IN_32_BITS}]`, describe(dwName));
      return undefined;
    }
    if (seen.has(dwName)) {
      note(path, 'must be unique in its file', describe(dwName));
      return undefined;
    }
    seen.add(dwName);
    return dwName;
  });
}

function readPosition(point: unknown, path: string, note: NoteProblem): number | undefined {
  const { fccChunk, dwChunkStart, dwBlockStart, dwSampleOffset } = fieldsOf(point);
  if (fccChunk !== 'data') note(`${path}.fccChunk`, 'must be "data"', describe(fccChunk));
  else if (dwChunkStart !== 0) note(`${path}.dwChunkStart`, 'must be 0', describe(dwChunkStart));
  else if (dwBlockStart !== 0) note(`${path}.dwBlockStart`, 'must be 0', describe(dwBlockStart));
  else if (isWhole(dwSampleOffset, 0, MOST_IN_32_BITS)) return dwSampleOffset;
  else
    note(
      `${path}.dwSampleOffset`,
      `must be a whole number within [0, ${MOST_IN_32_BITS}]`,
      describe(dwSampleOffset),
    );
  return undefined;
}

interface TextsAndLengths {
  readonly texts: ReadonlyMap<number, string>;
  readonly lengths: ReadonlyMap<number, number>;
}

function readLists(lists: unknown, names: ReadonlySet<unknown>, note: NoteProblem): TextsAndLengths {
  const texts = new Map<number, string>();
  const lengths = new Map<number, number>();
  const chunks = Array.isArray(lists) ? lists : [];
  let left = MOST_CHUNKS - chunks.length;
  for (let l = 0; l < chunks.length && left >= 0; l++) {
    const { format, subChunks } = fieldsOf(chunks[l]);
    if (format !== 'adtl' || !Array.isArray(subChunks)) continue;
    // An array may claim four thousand million holes.
    left -= subChunks.length;
    for (let s = 0; s < subChunks.length && left >= 0; s++) {
      const { chunkId, dwName, value, dwSampleLength, dwPurposeID } = fieldsOf(subChunks[s]);
      if (typeof dwName !== 'number' || !names.has(dwName)) continue;
      if (chunkId === 'labl' && typeof value === 'string' && !texts.has(dwName)) texts.set(dwName, value);
      if (chunkId !== 'ltxt' || lengths.has(dwName)) continue;
      if (dwPurposeID !== CUE_REGION_PURPOSE && dwPurposeID !== 0) continue;
      if (!isWhole(dwSampleLength, 0, MOST_IN_32_BITS)) {
        const path = `$.LIST[${l}].subChunks[${s}].dwSampleLength`;
        note(path, `must be a whole number within [0, ${MOST_IN_32_BITS}]`, describe(dwSampleLength));
      } else if (dwSampleLength > 0) lengths.set(dwName, dwSampleLength);
    }
  }
  if (left < 0) note('$.LIST', `must hold at most ${MOST_CHUNKS} chunks`, 'more');
  return { texts, lengths };
}

/** Most lists and chunks within them: ten for each of the most regions. */
const MOST_CHUNKS: number = 10 * MOST_REGIONS_IN_FILE;
