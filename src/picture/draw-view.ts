import { drawGain } from './draw-gain.js';
import { drawRegionRows, tallestShare } from './draw-regions.js';
import { drawSpectrogram } from './draw-spectrogram.js';
import { drawWaveform } from './draw-waveform.js';
import { kindCoverage } from './kind-coverage.js';
import { KIND_STYLES, SOFT_INK } from './kind-style.js';
import { coordinate, timeText } from './numbers.js';
import { regionSpan, regionsInView, type Scene, type View, viewX } from './scene.js';
import { svgLine, svgPath, svgRect, svgText } from './svg-parts.js';
import { timeTicks } from './time-ticks.js';

/** Markup of a view, the pixel below its last lane, and how many labels found no room. */
export interface DrawnView {
  readonly svg: string;
  readonly bottom: number;
  readonly droppedCount: number;
  /** Height of the tallest bar of a density view, as a share of its column's time. */
  readonly tallestShare: number;
}

/** All lanes of one stretch over a common time axis: gain, waveform, region rows, spectrogram. */
export function drawView(scene: Scene, view: View): DrawnView {
  const regions = regionsInView(scene, view);
  const single = view.rows === 'density' ? [] : regions;
  const coverage = kindCoverage(
    scene.list,
    view.startSample,
    view.endSample,
    Math.round(view.width),
    scene.minConfidence,
  );
  const gainTop = view.top;
  const waveTop = gainTop + view.gainHeight + 14;
  const rowsTop = waveTop + view.waveHeight + 8;
  let svg = '';
  for (const region of single) {
    const { x0, x1 } = regionSpan(view, region, 1);
    const { colour } = KIND_STYLES[region.kind];
    const dash = region.confidence < scene.minConfidence ? ' stroke-dasharray="4 3"' : '';
    svg += svgRect(x0, gainTop, x1 - x0, rowsTop - gainTop, `fill="${colour}" fill-opacity="0.08"`);
    const data = `M${coordinate(x0)} ${coordinate(gainTop)}V${coordinate(rowsTop)}M${coordinate(x1)} ${coordinate(gainTop)}V${coordinate(rowsTop)}`;
    svg += svgPath(data, `stroke="${colour}" stroke-width="0.7" stroke-opacity="0.7"${dash}`);
  }
  svg += drawGain(scene, view, gainTop, regions.length);
  svg += drawWaveform(scene, view, waveTop, single, coverage);
  const rows = drawRegionRows(scene, view, rowsTop, single, coverage);
  svg += rows.svg;
  const spectrogramTop = rowsTop + rows.height + 2;
  svg += drawSpectrogram(scene, view, spectrogramTop, single);
  const axisTop = spectrogramTop + view.levels.rows;
  svg += drawTimeAxis(scene, view, axisTop);
  return { svg, bottom: axisTop + 22, droppedCount: rows.droppedCount, tallestShare: tallestShare(coverage) };
}

function drawTimeAxis(scene: Scene, view: View, top: number): string {
  const { sampleRateHz, lengthSamples } = scene.list;
  const from = view.startSample / sampleRateHz;
  const to = view.endSample / sampleRateHz;
  const whole = lengthSamples / sampleRateHz;
  const { seconds, decimals } = timeTicks(from, to, Math.max(2, Math.floor(view.width / 80)));
  let svg = '';
  for (const second of seconds) {
    const x = viewX(view, second * sampleRateHz);
    const text = `${timeText(second, decimals, whole)}${whole < 60 ? ' s' : ''}`;
    // The outermost labels lean inwards so that none leaves the view or meets its neighbour's axis.
    const anchor = x < view.left + 24 ? 'start' : x > view.left + view.width - 24 ? 'end' : 'middle';
    svg += svgLine(x, top, x, top + 5, 'stroke="#5c5664" stroke-width="1"');
    svg += svgText(x, top + 17, text, { colour: SOFT_INK, anchor });
  }
  return svg;
}
