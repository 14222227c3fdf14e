import { assertRegionList } from '../regions/check-region-list.js';
import type { Region, RegionList } from '../regions/region.js';
import { rangeError } from '../signal/check.js';
import { cueLabel } from './cue-label.js';
import {
  CUE_REGION_PURPOSE,
  type CueLength,
  type CuePoint,
  type CuePointChunks,
  type CueText,
  type CueTextList,
  MOST_IN_32_BITS,
} from './cue-point-chunks.js';
import { MOST_REGIONS_IN_FILE } from './region-format.js';

/**
 * The regions of a clip as cue points of a WAV file, with labels and lengths. They are plain values for a package
 * that writes chunks; with `wavefile` (which knows chunks by these names):
 *
 *     const { cue, LIST } = regionsToCuePoints(list);
 *     Object.assign(file, { cue, LIST: [...file.LIST, ...LIST] });
 *
 * (not its `setCuePoint`, which takes milliseconds and loses samples). Each region is one point: `cue ` has its first
 * sample, `ltxt` its length in samples with the purpose "rgn ", `labl` a text. Positions are exact, and the same
 * whatever the sample rate; no frames or milliseconds come in. Every region is written, 0 dB and bypassed ones too.
 *
 * The text: kind, gain, then only what is not ordinary, then the region's label after a colon. For instance
 * `sibilant -6 dB`, `breath -12 dB, fades 480/960 raisedCosine`, `sibilant -9 dB, band 6000 to 24000 Hz, bypassed, locked,
 * confidence 0.62: sun`. Fades are in samples, in/out. Since RIFF has no text encoding that every program agrees on, what
 * is not printable ASCII in the label is written as in JSON (`\u00e9`), and a backslash doubled.
 *
 * Lost: the measured onset and offset, the reason, `nextId`, the shape of fades that have no length, what confidence has beyond
 * three decimals. Gains are written in full. A program that keeps
 * only markers keeps the starts alone; one that cuts texts short keeps kind and gain, which come first.
 *
 * @param list - The regions of a clip; it is checked. Without regions: a `cue ` chunk without points and no `LIST`.
 * @returns Frozen values all the way down.
 * @throws RangeError or TypeError where the list breaks a rule of checkRegionList or holds more than MOST_REGIONS_IN_FILE
 *   regions; RangeError where a start, a length or an id is over 2^32 − 1, which these chunks cannot hold.
 *
 * Source: IBM and Microsoft, "Multimedia Programming Interface and Data Specifications 1.0", August 1991, pages 56 to
 * 65: "Cue-Points Chunk" and "Associated Data Chunk". The purpose "rgn " is common practice (from memory); escapes: RFC 8259, section 7.
 *
 * @example
 * import { regionsToCuePoints } from 'lenition/exchange';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 96000 });
 * const list = insertRegion(clip, { startSample: 24000, endSample: 28800, kind: 'sibilant', gainDb: -6, label: 'sun' });
 * const { cue, LIST } = regionsToCuePoints(list);
 * cue.points[0]?.dwSampleOffset; // => 24000
 * LIST[0]?.subChunks[0]?.value; // => 'sibilant -6 dB: sun'
 */
export function regionsToCuePoints(list: RegionList): CuePointChunks {
  assertRegionList('regionsToCuePoints', list);
  const { regions } = list;
  if (regions.length > MOST_REGIONS_IN_FILE)
    throw rangeError(
      'regionsToCuePoints',
      'list.regions',
      `must hold at most ${MOST_REGIONS_IN_FILE}`,
      regions.length,
    );
  regions.forEach(checkFits);
  const points = Object.freeze(regions.map(cuePoint));
  const cue = Object.freeze({
    chunkId: 'cue ' as const,
    chunkSize: 4 + 24 * points.length,
    dwCuePoints: points.length,
    points,
  });
  const lists = regions.length === 0 ? [] : [textList(regions)];
  return Object.freeze({ cue, LIST: Object.freeze(lists) });
}

function checkFits({ id, startSample, endSample }: Region, index: number): void {
  const check = (field: string, value: number): void => {
    if (value > MOST_IN_32_BITS)
      throw rangeError(
        'regionsToCuePoints',
        `list.regions[${index}].${field}`,
        `must be at most ${MOST_IN_32_BITS}: cue points have 32 bits`,
        value,
      );
  };
  check('id', id);
  check('startSample', startSample);
  check('endSample', endSample - startSample > MOST_IN_32_BITS ? endSample : 0);
}

function cuePoint({ id, startSample }: Region): CuePoint {
  return Object.freeze({
    dwName: id,
    dwPosition: startSample,
    fccChunk: 'data',
    dwChunkStart: 0,
    dwBlockStart: 0,
    dwSampleOffset: startSample,
  });
}

function textList(regions: readonly Region[]): CueTextList {
  const subChunks: (CueText | CueLength)[] = [];
  let chunkSize = 4;
  for (const region of regions) {
    // The length comes last: wavefile takes it from the last chunk that names the point.
    for (const chunk of [textOf(region), lengthOf(region)]) {
      subChunks.push(chunk);
      chunkSize += 8 + chunk.chunkSize + (chunk.chunkSize % 2);
    }
  }
  return Object.freeze({ chunkId: 'LIST', chunkSize, format: 'adtl', subChunks: Object.freeze(subChunks) });
}

function textOf(region: Region): CueText {
  const value = cueLabel(region);
  return Object.freeze({ chunkId: 'labl', chunkSize: 4 + value.length + 1, dwName: region.id, value });
}

function lengthOf({ id, startSample, endSample }: Region): CueLength {
  return Object.freeze({
    chunkId: 'ltxt',
    chunkSize: 20,
    dwName: id,
    dwSampleLength: endSample - startSample,
    dwPurposeID: CUE_REGION_PURPOSE,
    dwCountry: 0,
    dwLanguage: 0,
    dwDialect: 0,
    dwCodePage: 0,
    value: '',
  });
}
