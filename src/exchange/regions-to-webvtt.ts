import { assertRegionList } from '../regions/check-region-list.js';
import type { Region, RegionList } from '../regions/region.js';
import { checkChoice, rangeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { joinLines } from './join-lines.js';
import { MOST_REGIONS_IN_FILE } from './region-format.js';
import { regionLine } from './regions-to-json.js';
import { headText } from './text-head.js';
import { REGION_WEBVTT_FORMAT, REGION_WEBVTT_FORMAT_VERSION } from './webvtt-format.js';
import { cueText } from './webvtt-text.js';
import { webVttTimestamp } from './webvtt-time.js';

/** What the cues hold: `text` for people to read, `metadata` for scripts. */
export type CuePayload = 'text' | 'metadata';

const CUE_PAYLOADS: readonly CuePayload[] = ['text', 'metadata'];

/** Settings of regionsToWebVtt. */
export interface WebVttOptions {
  /** What a cue holds: `text` for people to read, `metadata` for a script. */
  readonly payload?: CuePayload;
}

/** Text: what a player shows below a picture should be readable. */
export const DEFAULT_WEBVTT_OPTIONS: Readonly<Required<WebVttOptions>> = Object.freeze({ payload: 'text' });

/**
 * A region list as a WebVTT file: one cue a region, its id as the identifier of the cue. With `payload: 'text'` a player shows
 * label, kind and gain, as in `sun (sibilant, -6 dB)`, and the region itself stands in a comment above its cue; with
 * `'metadata'` the cue holds the region as a JSON object, for a script on a metadata track. A first comment carries the rate and
 * length of the clip and the next id.
 *
 * What is lost: cue times have milliseconds (48 samples at 48 kHz). They are rounded outwards, so that a cue covers its region
 * and ends after it starts; regions that touch get cues that overlap by up to 1 ms. The exact samples are carried beside them, so that
 * `regionsFromWebVtt` gives the list back exactly, at frame rates such as 29.97 too; another program reads the milliseconds.
 * In the text, controls become spaces and half a surrogate pair U+FFFD.
 *
 * @param list a region list; it is checked, so that what is written can be read
 * @param options what the cues hold
 * @returns the text, to be stored as UTF-8 (media type text/vtt), lines ended by a line feed
 * @throws RangeError or TypeError where the list breaks a rule of `checkRegionList`, holds more than MOST_REGIONS_IN_FILE
 * regions, gives more characters than MOST_CHARACTERS_IN_FILE or, for one region, MOST_CHARACTERS_OF_REGION, or the payload is
 * none of the two
 *
 * Source: W3C, "WebVTT: The Web Video Text Tracks Format", Candidate Recommendation 2019: section 4.1 (blocks, times; no arrow in
 * payloads and comments), 4.2.1 (metadata text), 4.2.2 (cue text). In the JSON, `&`, `<` and `>` are written as `\u0026`,
 * `\u003c` and `\u003e`, so no arrow can occur.
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { regionsToWebVtt } from 'lenition/exchange';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(clip, { startSample: 4801, endSample: 9599, kind: 'sibilant', gainDb: -6, label: 'sun' });
 * const lines = regionsToWebVtt(list).split('\n');
 * lines[0]; // => 'WEBVTT'
 * lines[2]; // => 'NOTE lenition.regions.webvtt 1 sampleRateHz=48000 lengthSamples=480000 nextId=2'
 * lines.slice(6, 9); // => ['1', '00:00:00.100 --> 00:00:00.200', 'sun (sibilant, -6 dB)']
 */
export function regionsToWebVtt(list: RegionList, options: WebVttOptions = {}): string {
  const { payload } = checkedOptions('regionsToWebVtt', DEFAULT_WEBVTT_OPTIONS, options);
  assertRegionList('regionsToWebVtt', list);
  checkChoice('regionsToWebVtt', 'payload', payload, CUE_PAYLOADS);
  const { regions, sampleRateHz } = list;
  if (regions.length > MOST_REGIONS_IN_FILE)
    throw rangeError(
      'regionsToWebVtt',
      'list.regions',
      `must hold at most ${MOST_REGIONS_IN_FILE}`,
      regions.length,
    );
  const blocks = regions.map((region) => {
    const cue = `${region.id}\n${cueTimes(region, sampleRateHz)}`;
    const data = cueData(region);
    return payload === 'metadata' ? `\n${cue}\n${data}` : `\nNOTE ${data}\n\n${cue}\n${readable(region)}`;
  });
  const head = `NOTE ${headText(REGION_WEBVTT_FORMAT, REGION_WEBVTT_FORMAT_VERSION, list)}`;
  return joinLines('regionsToWebVtt', ['WEBVTT', '', head], blocks);
}

function cueTimes({ startSample, endSample }: Region, sampleRateHz: number): string {
  const start = Math.floor((startSample * 1000) / sampleRateHz);
  // Years into a clip doubles no longer tell samples apart; even there a cue ends after it starts.
  const end = Math.max(Math.ceil((endSample * 1000) / sampleRateHz), start + 1);
  return `${webVttTimestamp(start)} --> ${webVttTimestamp(end)}`;
}

/** The region as JSON without the characters that mean something in WebVTT; they stand in strings alone. */
function cueData(region: Region): string {
  return regionLine(region).replace(/[&<>]/g, (unit) => `\\u00${unit.charCodeAt(0).toString(16)}`);
}

function readable({ label, kind, gainDb, bypassed }: Region): string {
  const what = `${kind}, ${Number(gainDb.toFixed(2))} dB${bypassed ? ', bypassed' : ''}`;
  const name = cueText(label).trim();
  return name === '' ? what : `${name} (${what})`;
}
