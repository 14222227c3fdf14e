import type { Region } from '../regions/region.js';
import { KIND_STYLES, PAPER, SOFT_INK } from './kind-style.js';
import { coordinate, gainText } from './numbers.js';
import type { Scene, View } from './scene.js';
import { regionSpan } from './scene.js';
import { spectrogramImage } from './spectrogram-image.js';
import { svgLine, svgPath, svgRect, svgText } from './svg-parts.js';

const NARROW = 28;

/** The spectrogram lane: as recorded, with a frequency axis in kHz; edges of single regions are drawn over it. */
export function drawSpectrogram(scene: Scene, view: View, top: number, regions: readonly Region[]): string {
  const { left, width, levels } = view;
  const height = levels.rows;
  const image = spectrogramImage(levels, scene.floorDb, scene.ceilingDb);
  const parts = [
    `<image x="${coordinate(left)}" y="${coordinate(top)}" width="${coordinate(width)}" height="${coordinate(height)}"` +
      ` preserveAspectRatio="none" href="${image}"/>`,
  ];
  parts.push(svgRect(left, top, width, height, 'fill="none" stroke="#8f8896" stroke-width="0.8"'));
  if (view.gutter >= 80) parts.push(svgText(left - view.gutter, top + 26, 'Spectrum', { bold: true }));
  const stepHz = frequencyStepHz(scene.topFrequencyHz, Math.max(2, Math.floor(height / 26)));
  for (let hz = 0; hz <= scene.topFrequencyHz + 0.5; hz += stepHz) {
    const y = top + height * (1 - hz / scene.topFrequencyHz);
    const base = Math.max(y + 4, top + 9);
    parts.push(svgLine(left - 4, y, left, y, 'stroke="#8f8896" stroke-width="0.8"'));
    parts.push(
      svgText(left - 6, base, `${gainText(hz / 1000).replace('+', '')}${hz === 0 ? ' kHz' : ''}`, {
        colour: SOFT_INK,
        anchor: 'end',
      }),
    );
  }
  for (const region of regions) {
    const { x0, x1 } = regionSpan(view, region, 1);
    const foot = top + height;
    // Lines all the way down would hide a narrow region; there only their ends are drawn.
    const ends = x1 - x0 < NARROW ? [top, top + 7, foot - 7, foot] : [top, foot];
    let data = '';
    for (const x of [x0, x1])
      for (let i = 0; i < ends.length; i += 2)
        data += `M${coordinate(x)} ${coordinate(ends[i] as number)}V${coordinate(ends[i + 1] as number)}`;
    const dash = region.confidence < scene.minConfidence ? ' stroke-dasharray="5 4"' : '';
    parts.push(svgPath(data, `fill="none" stroke="${PAPER}" stroke-width="2.6" stroke-opacity="0.75"`));
    parts.push(
      svgPath(data, `fill="none" stroke="${KIND_STYLES[region.kind].colour}" stroke-width="1"${dash}`),
    );
  }
  return parts.join('');
}

/** Distance of frequency ticks: 0.5, 1, 2, 4, 5 or 10 kHz and so on, at most `most` of them. */
function frequencyStepHz(topHz: number, most: number): number {
  for (const step of [500, 1000, 2000, 4000, 5000, 10000, 20000, 40000])
    if (topHz / step <= most) return step;
  return 50000;
}
