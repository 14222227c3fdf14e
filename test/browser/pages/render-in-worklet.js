/** Renders clips through an audio worklet in an offline context and counts the samples that differ from renderGain. */
import { createBandGainRenderer, renderGain } from '/lib/gain.js';

/** Seeded noise over −1 to 1: a linear congruential generator, Numerical Recipes' constants (from memory). */
function noise(length, seed) {
  let state = seed >>> 0;
  return new Float32Array(length).map(() => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2147483648 - 1;
  });
}

const bitsOf = (samples) => new Uint32Array(samples.buffer, samples.byteOffset, samples.length);

function countDifferences(one, other) {
  const a = bitsOf(one);
  const b = bitsOf(other);
  let count = 0;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) count++;
  return count;
}

/**
 * Plays noise from `startSample` of the clip to its end through the worklet. Gives how many samples differ in their bits
 * from the whole-clip render, how many that render changed at all, and its bits as numbers of the first channel.
 */
export async function renderInWorklet({
  list,
  channelCount,
  banded = false,
  startSample = 0,
  rendererStartSample = startSample,
}) {
  const { sampleRateHz, lengthSamples } = list;
  const clip = Array.from({ length: channelCount }, (_, c) => noise(lengthSamples, 11 + c));
  const whole = renderGain(clip, list);
  const latency = banded ? createBandGainRenderer(list).latencySamples : 0;

  const played = lengthSamples - startSample;
  const context = new OfflineAudioContext(channelCount, played + latency, sampleRateHz);
  await context.audioWorklet.addModule('/pages/gain-processor.js');
  const buffer = context.createBuffer(channelCount, played, sampleRateHz);
  clip.forEach((samples, c) => {
    buffer.copyToChannel(samples.subarray(startSample), c);
  });
  const source = context.createBufferSource();
  source.buffer = buffer;
  const node = new AudioWorkletNode(context, 'gain', {
    numberOfInputs: 1,
    numberOfOutputs: 1,
    outputChannelCount: [channelCount],
    channelCount,
    channelCountMode: 'explicit',
    processorOptions: { list, startSample: rendererStartSample, banded },
  });
  let failure = null;
  node.onprocessorerror = (event) => {
    failure = String(event.message ?? event.type);
  };
  source.connect(node).connect(context.destination);
  source.start();
  const rendered = await context.startRendering();

  let differing = 0;
  let changed = 0;
  for (let c = 0; c < channelCount; c++) {
    const heard = rendered.getChannelData(c).subarray(latency);
    differing += countDifferences(heard, whole[c].subarray(startSample));
    changed += countDifferences(clip[c], whole[c]);
  }
  return { differing, changed, latency, failure, first: Array.from(whole[0]) };
}
