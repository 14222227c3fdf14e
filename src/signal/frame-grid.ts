import { checkInteger, checkNumber, checkObject, checkSampleRate, typeError } from './check.js';

/** What {@link createFrameGrid} needs to know. */
export interface FrameGridOptions {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
  /** Frame length in seconds, at most 10; becomes the nearest even number of samples, at least 2. */
  readonly frameSeconds: number;
  /** Distance of frame centres in seconds, at most 10; becomes the nearest number of samples, at least 1. */
  readonly hopSeconds: number;
}

/**
 * Where the frames of an analysis lie. Frame k is centred on sample firstCentreSample + k·hopSamples and covers
 * the frameSamples samples that start frameSamples/2 before it; samples outside the clip count as 0, and so do
 * the places between frameSamples and fftSize.
 */
export interface FrameGrid {
  /** Sample rate in Hz. */
  readonly sampleRateHz: number;
  /** Length of a frame in samples, even. */
  readonly frameSamples: number;
  /** Distance of neighbouring centres in samples. */
  readonly hopSamples: number;
  /** Length of the transform: the next power of two from frameSamples on. */
  readonly fftSize: number;
  /** Centre of frame 0, in samples from the start of the clip. */
  readonly firstCentreSample: number;
  /** How many frames there are. */
  readonly frameCount: number;
  /** What stands outside the clip: zeros. */
  readonly padding: 'zero';
}

/**
 * Lays frames over a clip: frame 0 is centred on sample 0, so that every sample is near a centre, and the last
 * centre is the last multiple of the hop inside the clip: floor((length − 1) / hop) + 1 frames.
 *
 * @param options Rate, frame and hop.
 * @param lengthSamples Length of the clip in samples; 0 gives no frames, a clip shorter than a frame at least one.
 * @returns A frozen grid.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @example
 * import { createFrameGrid } from 'lenition/signal';
 * const grid = createFrameGrid({ sampleRateHz: 48000, frameSeconds: 0.02, hopSeconds: 0.005 }, 48000);
 * grid.frameSamples; // => 960
 * grid.fftSize; // => 1024
 * grid.frameCount; // => 200
 */
export function createFrameGrid(options: FrameGridOptions, lengthSamples: number): FrameGrid {
  return frameGridFor('createFrameGrid', options, lengthSamples);
}

/** The same for another function's options, whose name the messages then carry. */
export function frameGridFor(
  functionName: string,
  options: FrameGridOptions,
  lengthSamples: number,
): FrameGrid {
  checkObject(functionName, 'options', options);
  const { sampleRateHz, frameSeconds, hopSeconds } = options;
  checkSampleRate(functionName, sampleRateHz);
  checkNumber(functionName, 'frameSeconds', frameSeconds, Number.MIN_VALUE, 10);
  checkNumber(functionName, 'hopSeconds', hopSeconds, Number.MIN_VALUE, 10);
  checkInteger(functionName, 'lengthSamples', lengthSamples, 0);
  // Even, so that the centre of a periodic window falls on a sample.
  const frameSamples = Math.max(2, 2 * Math.round((frameSeconds * sampleRateHz) / 2));
  const hopSamples = Math.max(1, Math.round(hopSeconds * sampleRateHz));
  return Object.freeze({
    sampleRateHz,
    frameSamples,
    hopSamples,
    fftSize: nextPowerOfTwo(frameSamples),
    firstCentreSample: 0,
    frameCount: lengthSamples === 0 ? 0 : Math.floor((lengthSamples - 1) / hopSamples) + 1,
    padding: 'zero',
  });
}

/**
 * Centre of frame k in samples from the start of the clip: firstCentreSample + k·hopSamples.
 *
 * @param grid The grid.
 * @param frame Number of the frame, from 0; a whole number that may lie beyond the last frame.
 * @throws TypeError or RangeError where `frame` is no whole number.
 * @example
 * import { createFrameGrid, frameCentreSample } from 'lenition/signal';
 * const grid = createFrameGrid({ sampleRateHz: 48000, frameSeconds: 0.02, hopSeconds: 0.005 }, 48000);
 * frameCentreSample(grid, 3); // => 720
 */
export function frameCentreSample(grid: FrameGrid, frame: number): number {
  return centreSample('frameCentreSample', grid, frame);
}

/**
 * First sample of frame k: its centre less half a frame, so negative for the first frames.
 *
 * @param grid The grid.
 * @param frame Number of the frame, from 0; a whole number that may lie beyond the last frame.
 * @throws TypeError or RangeError where `frame` is no whole number.
 * @example
 * import { createFrameGrid, frameStartSample } from 'lenition/signal';
 * const grid = createFrameGrid({ sampleRateHz: 48000, frameSeconds: 0.02, hopSeconds: 0.005 }, 48000);
 * frameStartSample(grid, 0); // => -480
 */
export function frameStartSample(grid: FrameGrid, frame: number): number {
  return centreSample('frameStartSample', grid, frame) - Math.floor(grid.frameSamples / 2);
}

/**
 * Centre of frame k in seconds from the start of the clip.
 *
 * @param grid The grid.
 * @param frame Number of the frame, from 0; a whole number that may lie beyond the last frame.
 * @throws TypeError or RangeError where `frame` is no whole number.
 * @example
 * import { createFrameGrid, frameTimeSeconds } from 'lenition/signal';
 * const grid = createFrameGrid({ sampleRateHz: 48000, frameSeconds: 0.02, hopSeconds: 0.005 }, 48000);
 * frameTimeSeconds(grid, 3); // => 0.015
 */
export function frameTimeSeconds(grid: FrameGrid, frame: number): number {
  return centreSample('frameTimeSeconds', grid, frame) / grid.sampleRateHz;
}

function centreSample(functionName: string, grid: FrameGrid, frame: number): number {
  if (typeof grid?.firstCentreSample !== 'number')
    throw typeError(functionName, 'grid', 'must be of createFrameGrid', grid);
  checkInteger(functionName, 'frame', frame);
  return grid.firstCentreSample + frame * grid.hopSamples;
}

/** The least power of two that is `value` or more. */
function nextPowerOfTwo(value: number): number {
  let power = 1;
  while (power < value) power *= 2;
  return power;
}
