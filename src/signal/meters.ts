import { checkFinite, typeError } from './check.js';
import { decibelsFromAmplitude } from './decibels.js';
import type { Samples } from './samples.js';

/**
 * Root mean square: √(Σx² / N).
 *
 * @param samples One channel; empty gives 0.
 * @returns Amplitude, 1 for a square wave at full scale, √½ for a sine at full scale.
 * @throws TypeError unless it is a Float32Array; RangeError for NaN or Infinity (with the index).
 * @example
 * import { rms } from 'lenition/signal';
 * rms(Float32Array.of(0.5, -0.5, 0.5, -0.5)); // => 0.5
 */
export function rms(samples: Samples): number {
  checkSamples('rms', samples);
  return rootMeanSquare(samples);
}

/**
 * Root mean square in dBFS: 20·log10(rms / 1). The reference is a constant 1, so a full-scale sine reads −3.01 dBFS
 * (the other custom, AES17, adds 3.01 dB and lets that sine read 0).
 *
 * @param samples One channel; empty or all zero gives −Infinity.
 * @throws TypeError unless it is a Float32Array; RangeError for NaN or Infinity (with the index).
 * @example
 * import { rmsDbfs } from 'lenition/signal';
 * rmsDbfs(Float32Array.of(1, -1, 1, -1)); // => 0
 */
export function rmsDbfs(samples: Samples): number {
  checkSamples('rmsDbfs', samples);
  return decibelsFromAmplitude(rootMeanSquare(samples));
}

/**
 * Sample peak: the greatest |x|. What lies between samples may be higher; this is no true-peak meter.
 *
 * @param samples One channel; empty gives 0.
 * @throws TypeError unless it is a Float32Array; RangeError for NaN or Infinity (with the index).
 * @example
 * import { peak } from 'lenition/signal';
 * peak(Float32Array.of(0.25, -0.5, 0)); // => 0.5
 */
export function peak(samples: Samples): number {
  checkSamples('peak', samples);
  return greatestMagnitude(samples);
}

/**
 * Sample peak in dBFS: 20·log10 of the greatest |x|.
 *
 * @param samples One channel; empty or all zero gives −Infinity.
 * @throws TypeError unless it is a Float32Array; RangeError for NaN or Infinity (with the index).
 * @example
 * import { peakDbfs } from 'lenition/signal';
 * peakDbfs(Float32Array.of(0, -1, 0.5)); // => 0
 */
export function peakDbfs(samples: Samples): number {
  checkSamples('peakDbfs', samples);
  return decibelsFromAmplitude(greatestMagnitude(samples));
}

function checkSamples(functionName: string, samples: Samples): void {
  if (!(samples instanceof Float32Array))
    throw typeError(functionName, 'samples', 'must be a Float32Array', samples);
  checkFinite(functionName, 'samples', samples);
}

function rootMeanSquare(samples: Samples): number {
  if (samples.length === 0) return 0;
  let sum = 0;
  for (const x of samples) sum += x * x;
  return Math.sqrt(sum / samples.length);
}

function greatestMagnitude(samples: Samples): number {
  let greatest = 0;
  for (const x of samples) greatest = Math.max(greatest, Math.abs(x));
  return greatest;
}
