import type { Forecast } from '../forecast/forecast-rise.js';
import { assertRegionList } from '../regions/check-region-list.js';
import type { RegionList } from '../regions/region.js';
import { checkNumber, checkObject, rangeError, typeError } from '../signal/check.js';
import { columnSample, type ForecastColumn, stagePaint, stagePatterns } from './forecast-columns.js';
import { counted, drawForecastKey, drawForecastPlot } from './forecast-plot.js';
import { SOFT_INK } from './kind-style.js';
import { fitText, gainText, textWidth } from './numbers.js';
import { PICTURE_INNER, PICTURE_MARGIN, picturePage } from './picture-page.js';
import { MOST_SINGLE_REGIONS } from './scene.js';
import { svgRect, svgText } from './svg-parts.js';

/** Settings of `drawForecast`. */
export interface DrawForecastOptions {
  /** Name of the clip, for the heading. Default: none. */
  readonly name?: string;
  /** What the heading says before the name. Default: "Forecast". */
  readonly title?: string;
  /** The sibilance that is wanted behind the chain, in dB, −36 to 36: a dashed line. Default: none. */
  readonly targetDb?: number;
}

const SIZE = 12.5;

/**
 * A forecast as a picture: how loud each region is against the voice beside it before and behind a mix chain, and which stage
 * does how much of it. The text of an SVG document, 1200 units wide.
 *
 * Over time, one column for each region that has a rise: a hollow mark at `beforeDb`, a bar for the rise of each stage, a
 * filled mark at `afterDb`. 0 dB is as loud as the voice beside it. A stage that goes the other way than the one before it
 * continues to the right of it. Below, the kind's letter and the rise in dB; then the stages' sentences, each with its pattern.
 * Beyond 150 columns the time is divided into 150 slots, and each shows the region that is loudest behind the chain.
 *
 * @param list the list that the forecast was made for.
 * @param forecast from `forecastRise`. Regions without a rise are counted in the picture; none at all: it says so.
 * @param options see `DrawForecastOptions`. Text from outside is escaped and shortened.
 * @returns SVG without scripts; nothing is fetched. The same input gives the same text.
 * @throws TypeError or RangeError for a list that breaks a rule, a forecast of another list or sample rate, a figure that is not
 * finite, an option out of range.
 * Source: common practice.
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { forecastRise } from 'lenition/forecast';
 * import { drawForecast } from 'lenition/picture';
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 480 });
 * const forecast = forecastRise(new Float32Array(480), list, { stages: [] });
 * drawForecast(list, forecast, { name: 'silence' }).includes('No region has a rise.'); // => true
 */
export function drawForecast(
  list: RegionList,
  forecast: Forecast,
  options: DrawForecastOptions = {},
): string {
  assertRegionList('drawForecast', list);
  checkObject('drawForecast', 'options', options);
  if (!(forecast?.byId instanceof Map && Array.isArray(forecast.stages)))
    throw typeError('drawForecast', 'forecast', 'must be what forecastRise returns', forecast);
  const { name = '', title = 'Forecast', targetDb } = options;
  for (const [key, text] of Object.entries({ name, title }))
    if (typeof text !== 'string') throw typeError('drawForecast', key, 'must be a string', text);
  if (targetDb !== undefined) checkNumber('drawForecast', 'targetDb', targetDb, -36, 36);
  const all = columnsOf(list, forecast);
  const shown = thinned(all, list.lengthSamples);
  const heading = name === '' ? title : `${title} · ${name}`;
  const facts = factsLine(all, forecast, targetDb);
  const notes: string[] = [];
  const silent = forecast.byId.size - all.length;
  if (silent > 0)
    notes.push(`Not shown: ${counted(silent)} without a rise, being silent or with no voice beside.`);
  if (shown.length < all.length)
    notes.push(
      `${shown.length} columns stand for ${all.length} regions, each for the one of its time that is loudest behind the chain.`,
    );
  let body = svgText(PICTURE_MARGIN, 46, fitText(heading, 24, PICTURE_INNER, true), { size: 24, bold: true });
  body += svgText(PICTURE_MARGIN, 70, facts, { size: 14, colour: SOFT_INK });
  let y = 92;
  if (shown.length === 0) {
    body += svgText(PICTURE_MARGIN, y + 16, 'No region has a rise.', { size: 16 });
    y += 34;
  } else {
    const plot = drawForecastPlot(shown, list, targetDb, y + 30);
    body += drawForecastKey(targetDb, y) + plot.svg;
    notes.push(...plot.notes);
    y = plot.bottom + 12;
  }
  for (const { index, statement } of forecast.stages) {
    const lines = wrapped(statement, PICTURE_INNER - 44);
    body += svgRect(PICTURE_MARGIN, y + 3, 28, 11, stagePaint(index));
    for (const line of lines) {
      body += svgText(PICTURE_MARGIN + 40, y + 13, line, { size: 13 });
      y += 19;
    }
    y += 5;
  }
  for (const note of notes) {
    body += svgText(PICTURE_MARGIN, y + 15, note, { size: SIZE, colour: SOFT_INK });
    y += 18;
  }
  const height = Math.ceil(y + 18);
  const description = [facts, ...forecast.stages.map((s) => s.statement.slice(0, 600)), ...notes].join(' ');
  const patterns = stagePatterns(forecast.stages.length);
  return picturePage({ heading, description, patterns, body, height });
}

/** The regions that have a rise, in time order. */
function columnsOf(list: RegionList, forecast: Forecast): readonly ForecastColumn[] {
  if (forecast.sampleRateHz !== list.sampleRateHz)
    throw rangeError(
      'drawForecast',
      'forecast.sampleRateHz',
      `must equal list.sampleRateHz (${list.sampleRateHz})`,
      forecast.sampleRateHz,
    );
  const known = new Set(list.regions.map(({ id }) => id));
  for (const id of forecast.byId.keys())
    if (!known.has(id))
      throw rangeError('drawForecast', 'forecast.byId', 'must name regions of the list', id);
  return list.regions.flatMap((region) => {
    const rise = forecast.byId.get(region.id);
    if (rise === undefined || rise.riseDb === null) return [];
    const { beforeDb, afterDb } = rise;
    checkNumber('drawForecast', `forecast.byId.get(${region.id}).beforeDb`, beforeDb);
    checkNumber('drawForecast', `forecast.byId.get(${region.id}).afterDb`, afterDb);
    return [{ region, rise, beforeDb, afterDb }];
  });
}

/** Every column where each has room, else the loudest behind the chain of each slot. */
function thinned(columns: readonly ForecastColumn[], lengthSamples: number): readonly ForecastColumn[] {
  if (columns.length <= MOST_SINGLE_REGIONS) return columns;
  const slots: (ForecastColumn | undefined)[] = [];
  for (const column of columns) {
    const slot = Math.floor((columnSample(column) / lengthSamples) * MOST_SINGLE_REGIONS);
    const held = slots[slot];
    if (held === undefined || column.afterDb > held.afterDb) slots[slot] = column;
  }
  return slots.filter((column) => column !== undefined);
}

function factsLine(
  columns: readonly ForecastColumn[],
  forecast: Forecast,
  targetDb: number | undefined,
): string {
  const over = (db: number): number => columns.filter(({ afterDb }) => afterDb > db).length;
  const parts = [counted(forecast.byId.size)];
  if (forecast.medianRiseDb !== null) parts.push(`median rise ${gainText(forecast.medianRiseDb)} dB`);
  if (columns.length > 0) parts.push(`behind the chain ${over(0)} louder than the voice beside`);
  if (targetDb !== undefined && columns.length > 0)
    parts.push(`${over(targetDb)} above the target of ${gainText(targetDb)} dB`);
  return `${parts.join(' · ')}.`;
}

/** A sentence in lines of at most `width` pixels at size 13; very long ones and words are shortened. */
function wrapped(sentence: string, width: number): readonly string[] {
  const text = sentence.length > 600 ? `${sentence.slice(0, 599)}…` : sentence;
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(longer, 13) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line].map((one) => fitText(one, 13, width));
}
