import type { RegionList } from '../regions/region.js';
import type { Samples } from '../signal/samples.js';
import type { DrawTakeOptions } from './draw-take.js';
import { drawView } from './draw-view.js';
import { INK, KIND_STYLES, SOFT_INK } from './kind-style.js';
import { fitText } from './numbers.js';
import { placeLabels } from './place-labels.js';
import { regionLine } from './region-text.js';
import { MOST_SINGLE_REGIONS, type Scene, type View, viewX } from './scene.js';
import { spectrogramLevels } from './spectrogram-levels.js';
import { type Detail, strongestRegions } from './strongest-regions.js';
import { svgLine, svgRect, svgText, TILT_DB_PER_OCTAVE } from './svg-parts.js';

const GUTTER = 52;
const COLUMN_GAP = 24;
const MARK = 18;

/** A detail, and its view but for the height at which it lies. */
export interface PlannedDetail extends Detail, Omit<View, 'top'> {}

/** Chooses the details of a take and looks at their spectra; two beside each other. */
export function planDetails(
  channels: readonly Samples[],
  list: RegionList,
  settings: Required<DrawTakeOptions>,
  topFrequencyHz: number,
  room: { readonly left: number; readonly width: number },
): readonly PlannedDetail[] {
  const roll = Math.max(1, Math.round(settings.rollSeconds * list.sampleRateHz));
  const half = (room.width - COLUMN_GAP) / 2;
  const width = half - GUTTER;
  return strongestRegions(channels, list, settings.detailCount, roll).map((detail, i) => ({
    ...detail,
    left: room.left + (i % 2) * (half + COLUMN_GAP) + GUTTER,
    width,
    gutter: GUTTER,
    gainHeight: 42,
    waveHeight: 96,
    rows: countWithin(list, detail) > MOST_SINGLE_REGIONS ? 'density' : 'line',
    levels: spectrogramLevels(channels, list.sampleRateHz, {
      startSample: detail.startSample,
      endSample: detail.endSample,
      topFrequencyHz,
      columns: Math.round(width),
      rows: 130,
      tiltDbPerOctave: TILT_DB_PER_OCTAVE,
    }),
  }));
}

function countWithin(list: RegionList, detail: Detail): number {
  return list.regions.filter((r) => r.startSample < detail.endSample && r.endSample > detail.startSample)
    .length;
}

/** Numbered flags over the overview that say where the details lie. */
export function drawDetailMarks(
  main: Omit<View, 'top'>,
  details: readonly PlannedDetail[],
  top: number,
): { readonly height: number; readonly svg: (foot: number) => string } {
  if (details.length === 0) return { height: 0, svg: () => '' };
  const xs = details.map((d) => viewX({ ...main, top }, (d.region.startSample + d.region.endSample) / 2));
  const requests = xs.map((centre) => ({ centre, width: MARK + 4, priority: 0 }));
  // As many lanes as marks: none can be dropped.
  const limits = { left: main.left, right: main.left + main.width, lanes: details.length, gap: 2, shift: 30 };
  const { placed, laneCount } = placeLabels(requests, limits);
  const height = laneCount * (MARK + 3) + 4;
  const svg = (foot: number): string =>
    placed
      .map((p) => {
        const y = top + height - 4 - (p.lane + 1) * (MARK + 3) + 3;
        const x = xs[p.index] as number;
        const centre = (p.left + p.right) / 2;
        return (
          svgLine(centre, y + MARK, x, top + height, `stroke="${INK}" stroke-width="0.9"`) +
          svgLine(x, top + height, x, foot, `stroke="${INK}" stroke-width="0.9" stroke-dasharray="2 3"`) +
          drawNumber(centre - (MARK + 4) / 2, y, p.index + 1)
        );
      })
      .join('');
  return { height, svg };
}

/** The detail panels in rows of two. */
export function drawDetails(
  scene: Scene,
  details: readonly PlannedDetail[],
  top: number,
): { readonly svg: string; readonly bottom: number } {
  const { sampleRateHz, lengthSamples } = scene.list;
  let svg = '';
  let y = top;
  for (let i = 0; i < details.length; i += 2) {
    let bottom = y;
    for (const [k, detail] of details.slice(i, i + 2).entries()) {
      const left = detail.left - detail.gutter;
      const line = regionLine(detail.region, scene.minConfidence, sampleRateHz, lengthSamples / sampleRateHz);
      svg += drawNumber(left, y, i + k + 1);
      svg += svgText(
        left + MARK + 12,
        y + 14,
        fitText(line, 13.5, detail.width + detail.gutter - MARK - 12, true),
        {
          size: 13.5,
          bold: true,
          colour: KIND_STYLES[detail.region.kind].colour,
        },
      );
      const drawn = drawView(scene, { ...detail, top: y + MARK + 10 });
      svg += drawn.svg;
      let foot = drawn.bottom;
      if (drawn.droppedCount > 0) {
        const text = `${drawn.droppedCount} labels left out for want of room.`;
        svg += svgText(detail.left, foot + 10, text, { colour: SOFT_INK });
        foot += 16;
      }
      bottom = Math.max(bottom, foot);
    }
    y = bottom + 20;
  }
  return { svg, bottom: y };
}

function drawNumber(x: number, y: number, number: number): string {
  return (
    svgRect(x, y, MARK + 4, MARK, `fill="${INK}" rx="3"`) +
    svgText(x + (MARK + 4) / 2, y + 13.5, String(number), {
      colour: '#fff',
      anchor: 'middle',
      bold: true,
      size: 13,
    })
  );
}
