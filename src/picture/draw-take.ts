import { gainBreakpoints } from '../gain/gain-breakpoints.js';
import { checkListShape } from '../regions/check-list-shape.js';
import type { RegionList } from '../regions/region.js';
import {
  channelList,
  checkFinite,
  checkInteger,
  checkNumber,
  checkSampleRate,
  rangeError,
  typeError,
} from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels, Samples } from '../signal/samples.js';
import { composePicture } from './compose-picture.js';
import { utf8Length } from './utf8-length.js';

/** Settings of `drawTake`. */
export interface DrawTakeOptions {
  /** Name of the clip, for the title line. Default: none. */
  readonly name?: string;
  /** Regions below this confidence are drawn as uncertain, 0 to 1. */
  readonly minConfidence?: number;
  /** Top of the spectrograms in Hz, 500 to 96000; half the sample rate where that is lower. */
  readonly topFrequencyHz?: number;
  /** Longest clip that is drawn region by region, in seconds, 0 to 60. A longer one gets an overview and details. */
  readonly closeUpSeconds?: number;
  /** How many of the strongest regions an overview shows in detail, 0 to 12. */
  readonly detailCount?: number;
  /** Room before and after the region of a detail, in seconds, 0.01 to 5. */
  readonly rollSeconds?: number;
}

/** Defaults of `drawTake`. */
export const DEFAULT_DRAW_TAKE_OPTIONS: Readonly<Required<DrawTakeOptions>> = Object.freeze({
  name: '',
  minConfidence: 0.5,
  // The noise of a sung s lies at about 4 to 11 kHz.
  topFrequencyHz: 12000,
  // At 1036 pixels, 12 s still leave an s of 100 ms about 9 pixels, and its label room.
  closeUpSeconds: 12,
  detailCount: 6,
  // Long enough to show the vowel on either side, short enough to see the fades.
  rollSeconds: 0.25,
});

/** A picture never takes more bytes than this, as UTF-8. */
export const MOST_PICTURE_BYTES = 2_000_000;

/**
 * A take and what is done to it, as a picture: the text of an SVG document, 1200 units wide.
 *
 * Lanes over one time axis: gain in dB; waveform, filled as it sounds with the gain and outlined as it was recorded; regions by kind
 * with letter, pattern and gain; spectrogram of the recording. A clip longer than `closeUpSeconds` gets an overview of the whole
 * and the strongest regions in detail. What finds no room is counted in the picture. The same input gives the same text.
 *
 * Time taken grows with the length only through the waveform's peaks; the spectrogram looks at up to four frames for each column.
 *
 * @param channels one channel or several of equal length, `list.lengthSamples` long; not changed. The waveform shows the greatest
 * over the channels, the spectrogram their mean power. Empty: a picture that says so.
 * @param list regions of the clip; none: nothing is marked.
 * @param options see `DrawTakeOptions`. Text from outside (name, labels) is escaped and shortened.
 * @returns SVG of at most MOST_PICTURE_BYTES; no scripts and nothing fetched.
 * @throws TypeError for wrong kinds of argument; RangeError for channels that do not fit the list, a sample that is not finite (with its index), an option out of range.
 * Source: common practice.
 * @example
 * import { drawTake } from 'lenition/picture';
 * const list = { sampleRateHz: 48000, lengthSamples: 480, nextId: 1, regions: [] };
 * drawTake(new Float32Array(480), list, { name: 'silence' }).slice(0, 4); // => '<svg'
 */
export function drawTake(channels: Channels, list: RegionList, options: DrawTakeOptions = {}): string {
  const all = channelList('drawTake', channels);
  checkListShape('drawTake', list);
  checkSampleRate('drawTake', list.sampleRateHz);
  const length = (all[0] as Samples).length;
  if (length !== list.lengthSamples)
    throw rangeError(
      'drawTake',
      'list.lengthSamples',
      `must equal the length of the channels (${length})`,
      list.lengthSamples,
    );
  for (let c = 0; c < all.length; c++) checkFinite('drawTake', `channels[${c}]`, all[c] as Samples);
  const settings = checkedOptions('drawTake', DEFAULT_DRAW_TAKE_OPTIONS, options);
  if (typeof settings.name !== 'string')
    throw typeError('drawTake', 'name', 'must be a string', settings.name);
  checkNumber('drawTake', 'minConfidence', settings.minConfidence, 0, 1);
  checkNumber('drawTake', 'topFrequencyHz', settings.topFrequencyHz, 500, 96000);
  checkNumber('drawTake', 'closeUpSeconds', settings.closeUpSeconds, 0, 60);
  checkInteger('drawTake', 'detailCount', settings.detailCount, 0, 12);
  checkNumber('drawTake', 'rollSeconds', settings.rollSeconds, 0.01, 5);
  // The line shows a region's gain whatever part of the spectrum it works on; the region's title names the band.
  const breakpoints = gainBreakpoints({
    ...list,
    regions: list.regions.map(({ band: _, ...plain }) => plain),
  });
  // Only details can be given up: the overview alone is bounded by its number of columns, far below the limit.
  for (let detailCount = settings.detailCount; ; ) {
    const picture = composePicture(all, list, breakpoints, { ...settings, detailCount });
    const bytes = utf8Length(picture);
    if (bytes <= MOST_PICTURE_BYTES || detailCount === 0) return picture;
    detailCount = Math.min(detailCount - 1, Math.floor((detailCount * MOST_PICTURE_BYTES) / bytes));
  }
}
