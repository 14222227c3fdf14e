/** Detects in the page what the test detects in Node: the built library and the same material. */
import { makeDemonstration } from '/lib/demo/demo.js';
import { detectConsonants } from '/lib/index.js';

/** The takes of the demonstration, made by this engine. */
export function demonstrationClips() {
  const { sampleRateHz, takes } = makeDemonstration();
  return takes.map(({ samples }) => ({ sampleRateHz, channels: [samples] }));
}

/** A clip from raw 32-bit floats, one file a channel. */
export async function fetchClip({ sampleRateHz, files }) {
  const channels = await Promise.all(
    files.map(async (file) => new Float32Array(await (await fetch(file)).arrayBuffer())),
  );
  return { sampleRateHz, channels };
}

/** As bench/lib/region-digest.ts has it, so that the two can be compared. */
export function recordsOf({ sampleRateHz, channels }, minConfidence) {
  return detectConsonants(channels, { sampleRateHz, minConfidence }).regions.map(
    ({ kind, startSample, endSample, onsetSample, offsetSample, confidence }) => ({
      kind,
      startSample,
      endSample,
      onsetSample,
      offsetSample,
      confidence,
    }),
  );
}

/** How far samples lie from those of a file: the greatest difference and how many differ. */
export async function compareSamples(clip, other) {
  const { channels } = await fetchClip(other);
  let most = 0;
  let count = 0;
  clip.channels.forEach((samples, c) => {
    if (samples.length !== channels[c].length) throw new Error('another length');
    for (let i = 0; i < samples.length; i++) {
      const apart = Math.abs(samples[i] - channels[c][i]);
      if (apart > 0) count++;
      most = Math.max(most, apart);
    }
  });
  return { most, count };
}
