import { rangeError } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { createRealTransform, createTransform, type RealTransform } from '../signal/transform.js';
import type { BandBlock } from './band-block.js';
import { bandKernel } from './band-kernel.js';

/** Gives one sample of a clip, by its position from 0 to the clip's length − 1. */
export type ReadSample = (sample: number) => number;

/** Filters blocks, with the transforms and kernels that it has made so far. */
export interface BandFilter {
  /** The part of a block's samples that lies in its band, first sample first; overwritten by the next call. */
  bandPart(block: BandBlock, read: ReadSample, lengthSamples: number): Doubles;
}

/** Transform, scratch memory and kernels of one size. */
interface Workshop {
  readonly transform: RealTransform;
  readonly frame: Doubles;
  readonly spectrum: Doubles;
  /** Frequency responses by band, oldest first. */
  readonly responses: Map<string, Doubles>;
}

/** Most kernels kept for one size of transform: enough for presets, and a bound where every region has its own band. */
const MOST_KEPT = 8;

/** A filter for any band at one sample rate: fast convolution, one transform for each block (overlap-save). */
export function createBandFilter(sampleRateHz: number): BandFilter {
  const workshops = new Map<number, Workshop>();
  return {
    bandPart(block: BandBlock, read: ReadSample, lengthSamples: number): Doubles {
      const { startSample, endSample, fftSize } = block;
      const reach = block.shape.reachSamples;
      let workshop = workshops.get(fftSize);
      if (workshop === undefined) {
        workshop = createWorkshop(fftSize);
        workshops.set(fftSize, workshop);
      }
      const { transform, frame, spectrum } = workshop;
      const response = responseOf(block, workshop, sampleRateHz);
      loadFrame(frame, startSample - reach, endSample + reach, read, lengthSamples);
      transform.forward(frame, spectrum);
      for (let k = 0; k < response.length; k++) {
        const factor = response[k] as number;
        spectrum[2 * k] = (spectrum[2 * k] as number) * factor;
        spectrum[2 * k + 1] = (spectrum[2 * k + 1] as number) * factor;
      }
      transform.inverse(spectrum, frame);
      return frame.subarray(reach, reach + endSample - startSample);
    },
  };
}

function createWorkshop(fftSize: number): Workshop {
  return {
    transform: createRealTransform(fftSize, createTransform(fftSize)),
    frame: new Float64Array(fftSize),
    spectrum: new Float64Array(fftSize + 2),
    responses: new Map(),
  };
}

/** The kernel's frequency response: real, since the kernel is symmetric about 0. */
function responseOf(block: BandBlock, workshop: Workshop, sampleRateHz: number): Doubles {
  const { shape, fftSize } = block;
  const { transform, frame, spectrum, responses } = workshop;
  const key = `${shape.lowHz} ${shape.highHz}`;
  const known = responses.get(key);
  if (known !== undefined) return known;
  const kernel = bandKernel(shape, sampleRateHz);
  frame.fill(0);
  frame[0] = kernel[0] as number;
  for (let n = 1; n < kernel.length; n++) {
    frame[n] = kernel[n] as number;
    frame[fftSize - n] = kernel[n] as number;
  }
  transform.forward(frame, spectrum);
  const response = Float64Array.from({ length: fftSize / 2 + 1 }, (_, k) => spectrum[2 * k] as number);
  for (const oldest of responses.keys()) {
    if (responses.size < MOST_KEPT) break;
    responses.delete(oldest);
  }
  responses.set(key, response);
  return response;
}

/**
 * Samples start to end − 1 to the front of the frame, zeros behind. Beyond its ends the clip is mirrored: silence there
 * would make a step of a first sample that is not 0, and a step holds every frequency.
 */
function loadFrame(
  frame: Doubles,
  start: number,
  end: number,
  read: ReadSample,
  lengthSamples: number,
): void {
  let i = 0;
  for (let s = start; s < end; s++) {
    const sample = s >= 0 && s < lengthSamples ? s : mirrored(s, lengthSamples);
    const x = read(sample);
    if (x - x !== 0) throw rangeError('BandChange.into', `read(${sample})`, 'must be finite', x);
    frame[i++] = x;
  }
  frame.fill(0, i);
}

/** The sample that a position outside the clip shows: the clip, then the clip backwards, and so on. */
function mirrored(sample: number, lengthSamples: number): number {
  const period = 2 * lengthSamples;
  const within = ((sample % period) + period) % period;
  return within < lengthSamples ? within : period - 1 - within;
}
