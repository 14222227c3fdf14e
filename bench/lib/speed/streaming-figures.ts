import {
  type ConsonantDetector,
  createConsonantDetector,
} from '../../../src/detection/create-consonant-detector.js';
import type { Samples } from '../../../src/signal/samples.js';
import { tiled } from '../stack/tiled.js';
import { collectedBytes } from './collected-bytes.js';
import type { SpeedFigure } from './speed-figure.js';
import { type Spread, spreadOf } from './spread.js';
import { demonstrationVoices } from './voices.js';

const RATE = 48_000;
const BLOCK_SAMPLES = 4096;
/** Several at once, so that what the process does beside counts little. */
const DETECTORS = 24;
const SECONDS = 60;

/** Hands a stretch to a detector block by block; what it finds is dropped, as a reader of a stream would have used it. */
export function pushStretch(detector: ConsonantDetector, samples: Samples): void {
  for (let from = 0; from < samples.length; from += BLOCK_SAMPLES)
    detector.push(samples.subarray(from, from + BLOCK_SAMPLES));
}

/** The most that a detector holds during a minute, looked at every 10 s, in percent of the bytes of that minute. */
export function streamingShare(): Spread {
  const samples = tiled(demonstrationVoices().clips[0] as Samples, SECONDS * RATE);
  // Compiled code and tables that all detectors share are there before it counts.
  warmUp(samples);
  const before = collectedBytes();
  const detectors = Array.from({ length: DETECTORS }, () => createConsonantDetector({ sampleRateHz: RATE }));
  const stretch = 10 * RATE;
  let most = 0;
  for (let from = 0; from < samples.length; from += stretch) {
    for (const detector of detectors) pushStretch(detector, samples.subarray(from, from + stretch));
    most = Math.max(most, collectedBytes() - before);
  }
  // Keeps them alive up to here.
  for (const detector of detectors) detector.flush();
  return spreadOf([(100 * most) / DETECTORS / samples.byteLength]);
}

/** By itself, since a function holds on to what it made until it ends, and the detector of this one must be gone. */
function warmUp(samples: Samples): void {
  pushStretch(createConsonantDetector({ sampleRateHz: RATE }), samples);
}

/** The figure of streaming. */
export function streamingFigures(): readonly SpeedFigure[] {
  const measured = streamingShare();
  const kilobytes = (measured.median / 100) * SECONDS * RATE * 4e-3;
  return [
    {
      name: 'streaming state over a minute of audio, %',
      measured,
      reach: 5,
      aim: 1,
      higherIsBetter: false,
      digits: 1,
      note: `${kilobytes.toFixed(0)} kB held at most after collecting garbage; the minute has ${((SECONDS * RATE * 4) / 1e6).toFixed(1)} MB as floats`,
    },
  ];
}

/** Bytes held at each hour of a stream of so many hours. */
export function hourlyBytes(hours: number): readonly number[] {
  const minute = tiled(demonstrationVoices().clips[0] as Samples, 60 * RATE);
  const detector = createConsonantDetector({ sampleRateHz: RATE });
  pushStretch(detector, minute);
  return Array.from({ length: hours }, () => {
    for (let i = 0; i < 60; i++) pushStretch(detector, minute);
    return collectedBytes();
  });
}
