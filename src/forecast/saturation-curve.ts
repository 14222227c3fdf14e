import { checkChoice, checkNumber, checkObject } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { DEFAULT_SATURATION_SETTINGS, SATURATION_CURVES, type SaturationCurve } from './chain.js';

/** What a memoryless saturation does to one value. */
export interface SaturationShape {
  /** Shape of the curve. */
  readonly curve: SaturationCurve;
  /** Gain into the curve in dB, −60 to 60. */
  readonly driveDb: number;
  /** Offset added before the curve, −0.9 to 0.9; 0 where left out. */
  readonly bias?: number;
}

/**
 * One value through a saturation, without oversampling, make-up or dry path: y = (f(d·x + b) − f(b)) / (d·f′(b)) with
 * drive d and bias b. Small values keep their size whatever the drive; 0 stays 0.
 *
 * @param value Any finite number.
 * @param shape Curve, drive and bias.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Common practice; the curves are plain mathematics.
 * @example
 * import { saturateValue } from 'lenition/forecast';
 * saturateValue(0.5, { curve: 'clip', driveDb: 20 }); // => 0.1
 */
export function saturateValue(value: number, shape: SaturationShape): number {
  checkNumber('saturateValue', 'value', value);
  checkObject('saturateValue', 'shape', shape);
  checkChoice('saturateValue', 'curve', shape.curve, SATURATION_CURVES);
  checkNumber('saturateValue', 'driveDb', shape.driveDb, -60, 60);
  checkNumber('saturateValue', 'bias', shape.bias ?? 0, -0.9, 0.9);
  const values = Float64Array.of(value);
  createShaper(shape)(values, 1);
  return values[0] as number;
}

/** Shapes the first `count` values in place. */
export type Shaper = (values: Doubles, count: number) => void;

/** One loop for each curve: a call through a function value in the loop would cost more than the curve. */
export function createShaper(shape: SaturationShape): Shaper {
  const { curve, driveDb, bias = DEFAULT_SATURATION_SETTINGS.bias } = shape;
  const drive = 10 ** (driveDb / 20);
  // From the table too where there is one, so that 0 gives exactly 0.
  const rest = curve === 'tanh' ? tanhFrom(tanhTable(), bias) : CURVES[curve](bias);
  const scale = 1 / (drive * SLOPES[curve](bias));
  switch (curve) {
    case 'tanh': {
      const table = tanhTable();
      return (values, count) => {
        for (let i = 0; i < count; i++)
          values[i] = scale * (tanhFrom(table, drive * (values[i] as number) + bias) - rest);
      };
    }
    case 'arctangent':
      return (values, count) => {
        for (let i = 0; i < count; i++)
          values[i] = scale * (arctangent(drive * (values[i] as number) + bias) - rest);
      };
    case 'cubic':
      return (values, count) => {
        for (let i = 0; i < count; i++)
          values[i] = scale * (cubic(drive * (values[i] as number) + bias) - rest);
      };
    case 'clip':
      return (values, count) => {
        for (let i = 0; i < count; i++)
          values[i] = scale * (clip(drive * (values[i] as number) + bias) - rest);
      };
  }
}

/** The table reaches to ±TANH_REACH, where tanh is within 5e-9 of ±1. */
const TANH_REACH = 10;
/** Steps of the table in one unit. Cubic Hermite error h⁴/384·max|f⁗|, under 7e-10: −183 dB of the curve's top. */
const TANH_STEPS = 64;

/** Value and slope (for one step) of tanh at each point. Math.tanh costs five times as much as looking it up here. */
function tanhTable(): Doubles {
  const points = 2 * TANH_REACH * TANH_STEPS + 1;
  const table = new Float64Array(2 * points);
  for (let i = 0; i < points; i++) {
    const value = Math.tanh(i / TANH_STEPS - TANH_REACH);
    table[2 * i] = value;
    table[2 * i + 1] = (1 - value * value) / TANH_STEPS;
  }
  return table;
}

function tanhFrom(table: Doubles, u: number): number {
  const position = (u + TANH_REACH) * TANH_STEPS;
  if (position <= 0) return -1;
  if (position >= 2 * TANH_REACH * TANH_STEPS) return 1;
  const i = Math.floor(position);
  const t = position - i;
  const a = table[2 * i] as number;
  const slopeA = table[2 * i + 1] as number;
  const slopeB = table[2 * i + 3] as number;
  const rise = (table[2 * i + 2] as number) - a;
  return a + t * (slopeA + t * (3 * rise - 2 * slopeA - slopeB + t * (slopeA + slopeB - 2 * rise)));
}

function arctangent(u: number): number {
  return (2 / Math.PI) * Math.atan((Math.PI / 2) * u);
}

function cubic(u: number): number {
  const v = clip(u);
  return v - (v * v * v) / 3;
}

function clip(u: number): number {
  return Math.min(1, Math.max(-1, u));
}

const CURVES: Readonly<Record<SaturationCurve, (u: number) => number>> = {
  tanh: Math.tanh,
  arctangent,
  cubic,
  clip,
};

/** f′(u) for |u| < 1. */
const SLOPES: Readonly<Record<SaturationCurve, (u: number) => number>> = {
  tanh: (u) => 1 - Math.tanh(u) ** 2,
  arctangent: (u) => 1 / (1 + ((Math.PI / 2) * u) ** 2),
  cubic: (u) => 1 - u * u,
  clip: () => 1,
};
