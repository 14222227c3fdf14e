// Renders two channels through the worklet and compares them with renderGain, bit for bit, in the same browser.
import { fixedCut, renderGain } from '../node_modules/lenition/dist/gain.js';
import { createRegionList, insertRegions } from '../node_modules/lenition/dist/regions.js';

const SAMPLE_RATE_HZ = 48000;
// No whole number of the 128-sample blocks of Web Audio: the last one overhangs the clip.
const LENGTH = 96007;

/** Noise on every sample, so that a shift by one sample shows anywhere. */
function noise(seed) {
  let state = seed;
  return Float32Array.from({ length: LENGTH }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) | 0;
    return state / 2 ** 32;
  });
}

function makeList() {
  const draft = (startSample, endSample) => ({ kind: 'sibilant', startSample, endSample });
  const list = insertRegions(createRegionList({ sampleRateHz: SAMPLE_RATE_HZ, lengthSamples: LENGTH }), [
    draft(0, 333),
    draft(1000, 1100),
    draft(30000, 36001),
    draft(36001, 40000),
    draft(95000, LENGTH),
  ]);
  const regions = list.regions.map((region) => ({
    ...region,
    fadeInSamples: Math.min(97, (region.endSample - region.startSample) >> 1),
    fadeOutSamples: 50,
  }));
  return fixedCut({ ...list, regions }, { gainDb: -6 });
}

async function renderInWorklet(channels, list) {
  const context = new OfflineAudioContext(channels.length, LENGTH, SAMPLE_RATE_HZ);
  await context.audioWorklet.addModule('./processor.js');
  const buffer = new AudioBuffer({
    numberOfChannels: channels.length,
    length: LENGTH,
    sampleRate: SAMPLE_RATE_HZ,
  });
  channels.forEach((channel, c) => {
    buffer.copyToChannel(channel, c);
  });
  const source = new AudioBufferSourceNode(context, { buffer });
  const node = new AudioWorkletNode(context, 'lenition-gain', {
    outputChannelCount: [channels.length],
    processorOptions: { list },
  });
  let fault = null;
  node.onprocessorerror = ({ message }) => {
    fault = message ?? 'the processor threw';
  };
  source.connect(node).connect(context.destination);
  source.start();
  const rendered = await context.startRendering();
  if (fault !== null) throw new Error(fault);
  return channels.map((_, c) => rendered.getChannelData(c));
}

/** Called by the check; gives counts over both channels. */
globalThis.compareWorklet = async () => {
  const channels = [noise(1), noise(2)];
  const list = makeList();
  const heard = await renderInWorklet(channels, list);
  const whole = renderGain(channels, list);
  const count = (differ) =>
    channels.reduce((sum, _, c) => sum + whole[c].filter((x, n) => differ(x, c, n)).length, 0);
  return {
    samples: channels.length * LENGTH,
    changed: count((x, c, n) => !Object.is(x, channels[c][n])),
    differing: count((x, c, n) => !Object.is(x, heard[c][n])),
  };
};
