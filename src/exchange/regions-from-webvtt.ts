import type { ClipOptions } from '../regions/create-region-list.js';
import type { RegionList, RegionReason } from '../regions/region.js';
import { describe } from '../signal/check.js';
import { listFromRows, type RegionRow, tooManyRows } from './list-from-rows.js';
import { collectProblems, type JsonLimits, type NoteProblem, parseJson, readText } from './parse-json.js';
import { MOST_CHARACTERS_IN_FILE } from './region-format.js';
import { checkAgreement, checkClip, numbered, regionFromTimes } from './region-from-times.js';
import type { Result } from './result.js';
import { isHead, readHead } from './text-head.js';
import type { TextLine } from './text-lines.js';
import { isWebVtt, type WebVttBlock, webVttBlocks } from './webvtt-blocks.js';
import {
  MOST_CUE_SHAPE,
  REGION_WEBVTT_FORMAT,
  REGION_WEBVTT_FORMAT_VERSION,
  WEBVTT_TOLERANCE_SECONDS,
} from './webvtt-format.js';
import { plainCueText } from './webvtt-text.js';
import { type CueTimes, readCueTimes } from './webvtt-time.js';

/**
 * A region list from a WebVTT file. Never throws for what the text holds, and takes time linear in its length. Reports every
 * problem, up to MOST_PROBLEMS, with its line: `line 7, gainDb`.
 *
 * **What `regionsToWebVtt` wrote** is read back exactly, from the JSON in the comment above each cue or in the cue itself. The text
 * of a cue is for people and is not read. A cue time further than 2 ms from its samples is a problem, since someone changed one of the two;
 * so is a cue without JSON.
 *
 * **WebVTT of other programs** needs `options`. Each cue becomes a region of kind `custom`, or of the kind that its text names, at 0 dB
 * without fades, with ids from 1 on, to the millisecond; its text without tags is the label. An end up to 1 ms behind the
 * clip is moved to its end. Cues may overlap in WebVTT, but regions may not: that is a problem. So is a cue whose times cannot be read,
 * which a player would pass over in silence. Identifiers, settings, styles and comments are not used.
 *
 * @param text the text of the file; anything but a string is a problem, not an error. At most MOST_CHARACTERS_IN_FILE long,
 * with at most MOST_REGIONS_IN_FILE cues. One byte-order mark at the start is passed over
 * @param options the clip that a file of another program belongs to; a file of this library says so itself, and the options are
 * not used
 * @returns the list, sound by the rules of `checkRegionList` and frozen, or the problems
 * @throws RangeError or TypeError where the options are not as stated
 *
 * Source: W3C, "WebVTT: The Web Video Text Tracks Format", Candidate Recommendation 2019: section 6.1 (blocks), 6.3 (times), 6.4 (cue text).
 *
 * @example
 * import { regionsFromWebVtt } from 'lenition/exchange';
 * const file = 'WEBVTT\n\n00:01.500 --> 00:01.620\nsibilant\n\n00:02.250 --> 00:02.310\n<i>the t</i> of cut\n';
 * const result = regionsFromWebVtt(file, { sampleRateHz: 48000, lengthSamples: 480000 });
 * result.ok && result.value.regions.map((region) => region.kind); // => ['sibilant', 'custom']
 * result.ok && result.value.regions[1]?.label; // => 'the t of cut'
 * result.ok && result.value.regions[0]?.startSample; // => 72000
 */
export function regionsFromWebVtt(text: unknown, options?: ClipOptions): Result<RegionList> {
  if (options !== undefined) checkClip('regionsFromWebVtt', options);
  const sound = readText(text, MOST_CHARACTERS_IN_FILE);
  return sound.ok ? collectProblems((note) => readFile(sound.value, options, note)) : sound;
}

function readFile(text: string, clip: ClipOptions | undefined, note: NoteProblem): RegionList | undefined {
  if (!isWebVtt(text)) {
    note('line 1', 'must begin with WEBVTT', describe(text.slice(0, 40)));
    return undefined;
  }
  const headLine = headComment(text);
  if (headLine !== undefined) return readOwnFile(text, headLine, note);
  if (clip !== undefined) return readForeignFile(text, clip, note);
  const rule = `must hold a comment "${REGION_WEBVTT_FORMAT}" before its cues, or the options must state the clip`;
  note('line 1', rule, 'neither');
  return undefined;
}

/** The first comment before the cues that is a head of ours. */
function headComment(text: string): TextLine | undefined {
  // What is wrong is noted when the file is read as a whole.
  for (const block of webVttBlocks(text, () => undefined)) {
    if (block.times !== undefined) return undefined;
    const comment = commentOf(block);
    if (comment !== undefined && isHead(comment.text, REGION_WEBVTT_FORMAT)) return comment;
  }
  return undefined;
}

/** What a comment block says after its NOTE; undefined where the block is none. */
function commentOf({ body, line }: WebVttBlock): TextLine | undefined {
  const text = body.join('\n');
  return /^NOTE[ \t\n]/.test(text.slice(0, 5)) ? { number: line, text: text.slice(5) } : undefined;
}

function readOwnFile(text: string, headLine: TextLine, note: NoteProblem): RegionList | undefined {
  const head = readHead(headLine, REGION_WEBVTT_FORMAT, REGION_WEBVTT_FORMAT_VERSION, note);
  if (head === undefined) return undefined;
  const rows: RegionRow[] = [];
  let comment: TextLine | undefined;
  for (const block of webVttBlocks(text, note)) {
    if (block.times === undefined) {
      const next = commentOf(block);
      if (next?.text.startsWith('{')) comment = next;
      continue;
    }
    const times = timesOf(block.times, note);
    const data = comment ?? { number: block.times.number + 1, text: block.body.join('\n') };
    const region = cueRegion(data, note);
    comment = undefined;
    if (times === undefined || region === undefined) continue;
    checkTimes(times, region, head.sampleRateHz, block.times.number, note);
    rows.push({ line: data.number, region });
    if (tooManyRows(rows, block.line, note)) return undefined;
  }
  return listFromRows(head, rows, note);
}

const CUE_LIMITS: JsonLimits = { characters: MOST_CHARACTERS_IN_FILE, shape: MOST_CUE_SHAPE };

function cueRegion({ number, text }: TextLine, note: NoteProblem): RegionRow['region'] | undefined {
  const parsed = parseJson(text, CUE_LIMITS);
  if (!parsed.ok) {
    for (const { rule, received } of parsed.problems) note(`line ${number}`, `${rule}: a region`, received);
    return undefined;
  }
  const { value } = parsed;
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return { ...value };
  note(`line ${number}`, 'must be an object', describe(value));
  return undefined;
}

function checkTimes(
  { startSeconds, endSeconds }: CueTimes,
  { startSample, endSample }: { readonly startSample?: unknown; readonly endSample?: unknown },
  sampleRateHz: number,
  line: number,
  note: NoteProblem,
): void {
  const tolerance = WEBVTT_TOLERANCE_SECONDS;
  checkAgreement(startSeconds, startSample, sampleRateHz, tolerance, `line ${line}, start`, note);
  checkAgreement(endSeconds, endSample, sampleRateHz, tolerance, `line ${line}, end`, note);
}

const FOREIGN_REASON: RegionReason = Object.freeze({ rule: 'from a WebVTT cue', numbers: Object.freeze({}) });

function readForeignFile(text: string, clip: ClipOptions, note: NoteProblem): RegionList | undefined {
  const rows: RegionRow[] = [];
  for (const { times: timesLine, body } of webVttBlocks(text, note)) {
    if (timesLine === undefined) continue;
    const times = timesOf(timesLine, note);
    if (times === undefined) continue;
    const label = plainCueText(body.join('\n'));
    const region = regionFromTimes(times.startSeconds, times.endSeconds, label, clip, FOREIGN_REASON);
    rows.push({ line: timesLine.number, region });
    if (tooManyRows(rows, timesLine.number, note)) return undefined;
  }
  const { sampleRateHz, lengthSamples } = clip;
  return listFromRows({ sampleRateHz, lengthSamples, nextId: rows.length + 1 }, numbered(rows), note);
}

function timesOf({ number, text }: TextLine, note: NoteProblem): CueTimes | undefined {
  const times = readCueTimes(text);
  if (times === undefined)
    note(
      `line ${number}`,
      'must be the times of a cue, hh:mm:ss.ttt --> hh:mm:ss.ttt',
      describe(text.slice(0, 120)),
    );
  return times;
}
