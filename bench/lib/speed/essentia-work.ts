import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Samples } from '../../../src/signal/samples.js';
import { FOUR_BANDS } from './analysis-work.js';
import { FRAME_SAMPLES, HOP_SAMPLES } from './raw-transforms.js';

/** Fetched when asked for, never a dependency: it has 10 MB and a licence that ours is not. */
const PACKAGE = 'essentia.js@0.1.3';

/** A vector on the far side; what is not deleted stays there for ever. */
interface Vector {
  delete(): void;
}

/** The part of it that is used, each function giving an object of its results. */
interface Essentia {
  arrayToVector(samples: Samples): Vector;
  RMS(signal: Vector): { readonly rms: number };
  ZeroCrossingRate(signal: Vector): { readonly zeroCrossingRate: number };
  Windowing(signal: Vector, normalized: boolean, size: number, type: string): { readonly frame: Vector };
  Spectrum(frame: Vector, size: number): { readonly spectrum: Vector };
  Flatness(spectrum: Vector): { readonly flatness: number };
  Centroid(spectrum: Vector, range: number): { readonly centroid: number };
  EnergyBand(
    spectrum: Vector,
    sampleRateHz: number,
    lowHz: number,
    highHz: number,
  ): { readonly energyBand: number };
}

/** Fetches it into a folder of its own, hands it over, and removes it; null where it cannot be fetched. */
export function withEssentia<T>(use: (essentia: Essentia) => T): T | null {
  const folder = mkdtempSync(join(tmpdir(), 'lenition-essentia-'));
  try {
    writeFileSync(join(folder, 'package.json'), '{}');
    try {
      const args = ['install', '--prefix', folder, '--no-audit', '--no-fund', '--ignore-scripts', PACKAGE];
      execFileSync('npm', args, { stdio: 'ignore', timeout: 120_000, cwd: folder });
    } catch {
      return null;
    }
    const { Essentia, EssentiaWASM } = createRequire(join(folder, 'package.json'))('essentia.js');
    return use(new Essentia(EssentiaWASM) as Essentia);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The same features of the same frames; gives the sum of its centroids, so that they are computed. */
export function essentiaWork(essentia: Essentia, samples: Samples, sampleRateHz: number): number {
  const last = samples.length - FRAME_SAMPLES;
  let sum = 0;
  for (let start = 0; start < samples.length; start += HOP_SAMPLES) {
    const from = Math.min(start, last);
    const signal = essentia.arrayToVector(samples.subarray(from, from + FRAME_SAMPLES) as Samples);
    essentia.RMS(signal);
    essentia.ZeroCrossingRate(signal);
    const { frame } = essentia.Windowing(signal, false, FRAME_SAMPLES, 'hann');
    const { spectrum } = essentia.Spectrum(frame, FRAME_SAMPLES);
    essentia.Flatness(spectrum);
    sum += essentia.Centroid(spectrum, sampleRateHz / 2).centroid;
    for (const { lowHz, highHz } of FOUR_BANDS) essentia.EnergyBand(spectrum, sampleRateHz, lowHz, highHz);
    for (const vector of [signal, frame, spectrum]) vector.delete();
  }
  return sum;
}
