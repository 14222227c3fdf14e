import { LEAST_GAIN_DB, REGION_KINDS, type Region, type RegionKind } from '../regions/region.js';
import { colourRamp } from './colour-ramp.js';
import { flowItems } from './flow-items.js';
import { INK, KIND_STYLES, kindFill } from './kind-style.js';
import { gainText, textWidth } from './numbers.js';
import { regionIsActive } from './region-text.js';
import type { Scene } from './scene.js';
import { svgLine, svgPath, svgRect, svgText, TILT_DB_PER_OCTAVE } from './svg-parts.js';

const ROW = 22;
const SIZE = 12.5;
const OFF = 'off: bypassed, heard as recorded';

interface Item {
  readonly width: number;
  readonly draw: (x: number, y: number) => string;
}

/** What is in the list, kind by kind. */
export interface KindSummary {
  readonly kind: RegionKind;
  readonly count: number;
  readonly changedCount: number;
  /** Median gain of the changed ones, in dB; 0 where there are none. */
  readonly medianGainDb: number;
}

/** Counts and median gain of each kind that occurs, in the order of REGION_KINDS. */
export function summariseKinds(regions: readonly Region[]): readonly KindSummary[] {
  return REGION_KINDS.flatMap((kind) => {
    const ofKind = regions.filter((region) => region.kind === kind);
    if (ofKind.length === 0) return [];
    const gains = ofKind.filter(regionIsActive).map((region) => region.gainDb);
    gains.sort((a, b) => a - b);
    const middle = gains.length >> 1;
    const upper = gains[middle] ?? 0;
    const medianGainDb = gains.length % 2 === 1 ? upper : ((gains[middle - 1] ?? 0) + upper) / 2;
    return [{ kind, count: ofKind.length, changedCount: gains.length, medianGainDb }];
  });
}

/** A kind's summary in words, without its name. */
export function summaryText(summary: KindSummary): string {
  const { count, changedCount, medianGainDb } = summary;
  if (changedCount === 0) return `${count}, not changed`;
  const part = changedCount === count ? '' : `${changedCount} changed, `;
  const gain = medianGainDb <= LEAST_GAIN_DB ? 'mute' : `${gainText(medianGainDb)} dB`;
  return `${count}, ${part}median ${gain}`;
}

/** The legend: every kind that occurs, how before and after are drawn, the doubtful ones, and the shades of the spectrogram. */
export function drawLegend(
  scene: Scene,
  left: number,
  top: number,
  width: number,
): { readonly svg: string; readonly height: number } {
  const { regions } = scene.list;
  const kinds = summariseKinds(regions).map(kindItem);
  const keys = [
    keyItem('filled: with the gain; line: as recorded', beforeAfterSwatch),
    keyItem('gain', gainSwatch),
  ];
  if (regions.some((region) => region.confidence < scene.minConfidence))
    keys.push(keyItem(`? dashed, hollow: confidence under ${scene.minConfidence}`, uncertainSwatch));
  if (regions.some((region) => region.bypassed))
    keys.push({ width: textWidth(OFF, SIZE), draw: (x, y) => svgText(x, y + 13, OFF, { size: SIZE }) });
  const ramp = `${gainText(scene.floorDb)} to ${gainText(scene.ceilingDb)} dB; sine at full scale 0; lifted ${TILT_DB_PER_OCTAVE} dB per octave from 1 kHz`;
  keys.push(keyItem(ramp, rampSwatch, 72));
  let svg = '';
  let y = top;
  for (const group of [kinds, keys]) {
    const places = flowItems(
      group.map((item) => item.width),
      width,
      26,
    );
    group.forEach((item, i) => {
      const place = places[i] as { x: number; row: number };
      svg += item.draw(left + place.x, y + place.row * ROW);
    });
    y += group.length === 0 ? 0 : ((places[places.length - 1]?.row ?? 0) + 1) * ROW;
  }
  return { svg, height: y - top };
}

function kindItem(summary: KindSummary): Item {
  const style = KIND_STYLES[summary.kind];
  const name = `${style.tag} ${style.word}`;
  const nameWidth = textWidth(name, SIZE, true) + 6;
  const text = summaryText(summary);
  return {
    width: 36 + nameWidth + textWidth(text, SIZE),
    draw: (x, y) =>
      svgRect(
        x,
        y + 2.5,
        28,
        12,
        `fill="${kindFill(summary.kind)}" stroke="${style.colour}" stroke-width="1"`,
      ) +
      svgText(x + 36, y + 13, name, { size: SIZE, bold: true, colour: style.colour }) +
      svgText(x + 36 + nameWidth, y + 13, text, { size: SIZE }),
  };
}

function keyItem(text: string, swatch: (x: number, y: number) => string, swatchWidth = 28): Item {
  return {
    width: swatchWidth + 8 + textWidth(text, SIZE),
    draw: (x, y) => swatch(x, y) + svgText(x + swatchWidth + 8, y + 13, text, { size: SIZE }),
  };
}

function beforeAfterSwatch(x: number, y: number): string {
  return (
    svgRect(x, y + 1, 28, 15, `fill="#fff" stroke="${INK}" stroke-width="0.9"`) +
    svgRect(x, y + 5, 28, 7, `fill="${KIND_STYLES.sibilant.colour}"`)
  );
}

function gainSwatch(x: number, y: number): string {
  const data = `M${x} ${y + 3}H${x + 8}L${x + 10} ${y + 13}H${x + 18}L${x + 20} ${y + 3}H${x + 28}`;
  return svgPath(data, 'fill="#d8d2de"') + svgPath(data, `fill="none" stroke="${INK}" stroke-width="1.6"`);
}

function uncertainSwatch(x: number, y: number): string {
  return svgRect(x, y + 2.5, 28, 12, `fill="#fff" stroke="${INK}" stroke-width="1.4" stroke-dasharray="3 2"`);
}

function rampSwatch(x: number, y: number): string {
  const steps = colourRamp(12);
  const boxes = steps.map(([r, g, b], i) => svgRect(x + i * 6, y + 2, 6.5, 13, `fill="rgb(${r},${g},${b})"`));
  return `${boxes.join('')}${svgLine(x, y + 15, x + 72, y + 15, 'stroke="#8f8896" stroke-width="0.8"')}`;
}
