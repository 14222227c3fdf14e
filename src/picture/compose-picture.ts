import { hasBandGain } from '../gain/band-block.js';
import type { GainBreakpoint } from '../gain/gain-breakpoints.js';
import { renderGain } from '../gain/render-gain.js';
import type { RegionList } from '../regions/region.js';
import type { Samples } from '../signal/samples.js';
import { drawDetailMarks, drawDetails, planDetails } from './draw-details.js';
import { isDense } from './draw-gain.js';
import { drawLegend, summariseKinds, summaryText } from './draw-legend.js';
import type { DrawTakeOptions } from './draw-take.js';
import { drawView } from './draw-view.js';
import { type FlowPlace, flowItems } from './flow-items.js';
import { KIND_STYLES, kindPattern, SOFT_INK } from './kind-style.js';
import { fitText, textWidth, timeText } from './numbers.js';
import { PICTURE_INNER, PICTURE_MARGIN, picturePage } from './picture-page.js';
import { regionIsActive } from './region-text.js';
import { MOST_SINGLE_REGIONS, type Scene, type View } from './scene.js';
import { LEAST_LEVEL_DB, spectrogramLevels } from './spectrogram-levels.js';
import { svgText, TILT_DB_PER_OCTAVE } from './svg-parts.js';

const GUTTER = 108;
/** Range of a spectrogram, in dB: from the loudest of the take down to about its room noise. */
const SHOWN_DB = 60;

/** The whole picture from checked input. */
export function composePicture(
  channels: readonly Samples[],
  list: RegionList,
  breakpoints: readonly GainBreakpoint[],
  settings: Required<DrawTakeOptions>,
): string {
  const { sampleRateHz, lengthSamples } = list;
  const topFrequencyHz = Math.min(settings.topFrequencyHz, sampleRateHz / 2);
  const closeUp = lengthSamples <= settings.closeUpSeconds * sampleRateHz;
  const single = closeUp && list.regions.length <= MOST_SINGLE_REGIONS;
  const details =
    closeUp && single
      ? []
      : planDetails(channels, list, settings, topFrequencyHz, { left: PICTURE_MARGIN, width: PICTURE_INNER });
  const size = { gutter: GUTTER, gainHeight: single ? 54 : 44, waveHeight: single ? 150 : 120 };
  const columns = PICTURE_INNER - GUTTER;
  const main: Omit<View, 'top'> | null =
    lengthSamples === 0
      ? null
      : {
          ...size,
          left: PICTURE_MARGIN + GUTTER,
          width: columns,
          startSample: 0,
          endSample: lengthSamples,
          rows: single ? 'score' : 'density',
          levels: spectrogramLevels(channels, sampleRateHz, {
            startSample: 0,
            endSample: lengthSamples,
            topFrequencyHz,
            columns,
            rows: single ? 190 : 120,
            tiltDbPerOctave: TILT_DB_PER_OCTAVE,
          }),
        };
  let loudestDb = LEAST_LEVEL_DB;
  for (const view of main === null ? [] : [main, ...details])
    for (const db of view.levels.levelsDb) if (db > loudestDb) loudestDb = db;
  // A silent take stays paper: its ceiling does not follow the silence down.
  const ceilingDb = 5 * Math.ceil(Math.max(-60, loudestDb) / 5);
  const scene: Scene = {
    channels,
    treated: list.regions.some(hasBandGain) ? renderGain([...channels], list) : null,
    list,
    breakpoints,
    topFrequencyHz,
    minConfidence: settings.minConfidence,
    floorDb: ceilingDb - SHOWN_DB,
    ceilingDb,
  };
  return assemble(scene, main, details, settings.name);
}

function assemble(
  scene: Scene,
  main: Omit<View, 'top'> | null,
  details: ReturnType<typeof planDetails>,
  name: string,
): string {
  const { list } = scene;
  const heading = name === '' ? 'Take' : name;
  const facts = factsLine(scene);
  const shownName = fitText(heading, 24, PICTURE_INNER, true);
  let body = svgText(PICTURE_MARGIN, 46, shownName, { size: 24, bold: true });
  body += svgText(PICTURE_MARGIN, 70, facts, { size: 14, colour: SOFT_INK });
  const legend = drawLegend(scene, PICTURE_MARGIN, 86, PICTURE_INNER);
  body += legend.svg;
  let y = 86 + legend.height + 14;
  const notes: string[] = [];
  if (main === null) {
    body += svgText(PICTURE_MARGIN, y + 20, 'The clip is empty.', { size: 16 });
    y += 40;
  } else {
    const marks = drawDetailMarks(main, details, y);
    const view = { ...main, top: y + marks.height };
    const drawn = drawView(scene, view);
    body += drawn.svg + marks.svg(drawn.bottom - 22);
    y = drawn.bottom + 8;
    if (drawn.droppedCount > 0) notes.push(`${drawn.droppedCount} labels left out for want of room.`);
    if (main.rows === 'density')
      notes.push(...densityNotes(list.regions.length, details.length, drawn.tallestShare));
    if (list.regions.length === 0) notes.push('No regions.');
    const seen = main.levels;
    if ((main.endSample - main.startSample) / seen.columns > 2 * seen.frameSamples * seen.framesPerColumn)
      notes.push('Spectrum: samples of each column.');
    const places = flowItems(
      notes.map((note) => textWidth(note, 12.5)),
      PICTURE_INNER,
      10,
    );
    for (const [i, note] of notes.entries()) {
      const { x, row } = places[i] as FlowPlace;
      body += svgText(PICTURE_MARGIN + x, y + 12 + row * 17, note, { size: 12.5, colour: SOFT_INK });
    }
    const lastRow = places[places.length - 1]?.row;
    y += lastRow === undefined ? 0 : 24 + lastRow * 17;
    const drawnDetails = drawDetails(scene, details, y + 8);
    body += drawnDetails.svg;
    y = drawnDetails.bottom;
  }
  const height = Math.ceil(y + 16);
  const description = [
    facts,
    ...summariseKinds(list.regions).map((s) => `${KIND_STYLES[s.kind].word}: ${summaryText(s)}.`),
    ...notes,
  ].join(' ');
  const patterns = summariseKinds(list.regions)
    .map((s) => kindPattern(s.kind))
    .join('');
  return picturePage({ heading, description, patterns, body, height });
}

/** What has to be said about an overview. */
function densityNotes(regionCount: number, detailCount: number, share: number): readonly string[] {
  if (regionCount === 0) return [];
  const details =
    detailCount === 0
      ? 'none is shown in detail'
      : `the ${detailCount} strongest, apart from one another, follow in detail`;
  return [
    `${regionCount} regions; ${details}.`,
    `Bars: share of the time of a column, tallest ${Math.round(100 * share)} %.`,
    ...(isDense(regionCount, PICTURE_INNER - GUTTER) ? ['Gain: the deepest of each column.'] : []),
  ];
}

/** Length, rate, channels, regions and how much is changed, in one line. */
function factsLine(scene: Scene): string {
  const { list, channels } = scene;
  const seconds = list.lengthSamples / list.sampleRateHz;
  const changed = list.regions.filter(regionIsActive);
  const changedSeconds =
    changed.reduce((sum, region) => sum + region.endSample - region.startSample, 0) / list.sampleRateHz;
  const uncertain = list.regions.filter((region) => region.confidence < scene.minConfidence).length;
  const parts = [
    seconds < 60 ? `${seconds.toFixed(2)} s` : timeText(seconds, 1, seconds),
    `${Number((list.sampleRateHz / 1000).toFixed(3))} kHz`,
    channels.length === 1 ? '1 channel' : `${channels.length} channels`,
    list.regions.length === 1 ? '1 region' : `${list.regions.length} regions`,
    `${changed.length} changed, ${changedSeconds.toFixed(2)} s in all`,
  ];
  if (uncertain > 0) parts.push(`${uncertain} uncertain`);
  return `${parts.join(' · ')}.`;
}
