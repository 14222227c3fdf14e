import { checkDoubles, rangeError, typeError } from './check.js';
import type { Doubles, Samples } from './samples.js';

/**
 * Copies one frame of a clip, times a window, into a transform's input; zeros fill the rest of `frame` and whatever
 * lies outside the clip.
 *
 * @param frame Takes the frame; at least as long as the window (fftSize values for an FFT plan).
 * @param samples The clip. Its values are not checked here: analyses check the whole clip once.
 * @param startSample First sample of the frame, a whole number; may be negative or past the end.
 * @param window Window values, as many as the frame has samples.
 * @throws TypeError for wrong kinds of array; RangeError where the window is longer than `frame` or `startSample` is
 * no whole number.
 * @example
 * import { windowedFrameInto } from 'lenition/signal';
 * const frame = new Float64Array(4);
 * windowedFrameInto(frame, Float32Array.of(1, 2, 3), -1, Float64Array.of(1, 0.5, 1));
 * Array.from(frame); // => [0, 0.5, 2, 0]
 */
export function windowedFrameInto(
  frame: Doubles,
  samples: Samples,
  startSample: number,
  window: Doubles,
): void {
  checkDoubles('windowedFrameInto', 'frame', frame);
  if (!(samples instanceof Float32Array))
    throw typeError('windowedFrameInto', 'samples', 'must be a Float32Array', samples);
  checkDoubles('windowedFrameInto', 'window', window);
  if (!Number.isSafeInteger(startSample))
    throw rangeError('windowedFrameInto', 'startSample', 'must be a whole number', startSample);
  const length = window.length;
  if (length > frame.length)
    throw rangeError('windowedFrameInto', 'window.length', `must be at most ${frame.length}`, length);
  const from = Math.min(length, Math.max(0, -startSample));
  const to = Math.max(from, Math.min(length, samples.length - startSample));
  frame.fill(0, 0, from);
  for (let i = from; i < to; i++) frame[i] = (samples[startSample + i] as number) * (window[i] as number);
  frame.fill(0, to);
}
