import fc from 'fast-check';
import { type Browser, chromium } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AudioParamEvent } from '../../src/exchange/audio-param-event.js';
import { gainToAudioParamEvents } from '../../src/exchange/gain-to-audio-param-events.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { everyShape, greatestGain } from '../exchange/audio-param-clips.js';
import { AudioParamOracle, schedule } from '../exchange/audio-param-oracle.js';
import { listOf, noise, region } from '../gain/lists.js';
import { fadedLists } from '../lib/faded-lists.js';
import { chromiumLaunch } from './lib/chromium.js';

/**
 * Of the greatest gain, −114 dB: Chromium rounds values to 32-bit floats, and adds up the samples of a linear ramp four at a time in them, up to 32
 * times in a block of 128 (READ, audio_param_handler.cc of Chromium); each sum may be off by 2^-24. Our own events are off by 2^-24 at most.
 */
const IN_FLOATS = 2 ** -19;

describe('the events for an AudioParam', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch(chromiumLaunch());
  });
  afterAll(() => browser?.close());

  for (const rate of [8000, 22050, 44100, 48000, 96000])
    it(`give a GainNode gainAt at every sample of clip after clip, from anywhere in them, at ${rate} Hz`, async () => {
      // One gain, clips one after another: late start times, too, and an event list that runs on.
      const events: AudioParamEvent[] = [];
      const expected: number[] = new Array(100).fill(1);
      const allowed: number[] = new Array(100).fill(IN_FLOATS);
      // The seed keeps what the browser hears the same from run to run; rates differ in theirs.
      fc.sample(fadedLists(), { numRuns: 60, seed: rate }).forEach((drawn, i) => {
        const list = { ...drawn, sampleRateHz: rate };
        const offsetSample = i % 3 === 0 ? 0 : Math.floor(list.lengthSamples * ((i * 0.618) % 1));
        const startTimeSeconds = expected.length / rate;
        events.push(
          ...gainToAudioParamEvents(list, { startTimeSeconds, offsetSample, rampsPerFade: 65536 }).events,
        );
        for (let s = offsetSample; s < list.lengthSamples; s++) expected.push(gainAt(list, s));
        // A sample of pause: the value after a clip is 1.
        expected.push(1);
        while (allowed.length < expected.length) allowed.push(IN_FLOATS * greatestGain(list));
      });
      const heard = await renderInBrowser(browser, new Float32Array(expected.length).fill(1), rate, events);
      const wrong = expected.flatMap((gain, i) =>
        Math.abs((heard[i] as number) - gain) <= (allowed[i] as number) ? [] : [[i, heard[i], gain]],
      );
      expect(wrong.slice(0, 5)).toEqual([]);
    });

  for (const rate of [44100, 48000])
    it(`make of noise what renderGain makes of it, with every shape and touching regions, at ${rate} Hz`, async () => {
      const list = everyShape(rate);
      const samples = noise(list.lengthSamples, 7);
      const rendered = renderGain(samples, list);
      for (const rampsPerFade of [64, 65536]) {
        const { events } = gainToAudioParamEvents(list, { rampsPerFade });
        const heard = await renderInBrowser(browser, samples, rate, events);
        // No fade here steps by more than the greatest gain, and no sample of the noise is beyond 1.
        const chords = rampsPerFade === 64 ? (Math.PI ** 2 / 16 / 64 ** 2) * greatestGain(list) : 0;
        const allowed = IN_FLOATS * greatestGain(list) + chords;
        let worst = 0;
        heard.forEach((x, i) => {
          worst = Math.max(worst, Math.abs(x - (rendered[i] as number)));
        });
        expect(worst).toBeLessThan(allowed);
      }
    });

  it('give a context at another rate the gain of the same moment', async () => {
    const list = everyShape(44100);
    const { events } = gainToAudioParamEvents(list);
    const param = schedule(new AudioParamOracle(), events);
    const heard = await renderInBrowser(browser, new Float32Array(48000).fill(1), 48000, events);
    let worst = 0;
    heard.forEach((gain, j) => {
      worst = Math.max(worst, Math.abs(gain - param.valueAt(j / 48000)));
    });
    expect(worst).toBeLessThan(IN_FLOATS * greatestGain(list));
  });

  it('turn a sound down, which a page without the events does not', async () => {
    const list = listOf(4800, region({ startSample: 1000, endSample: 2000, gainDb: -20 }));
    const sound = new Float32Array(4800).fill(1);
    const { events } = gainToAudioParamEvents(list);
    const [cut, plain] = [
      await renderInBrowser(browser, sound, 48000, events),
      await renderInBrowser(browser, sound, 48000, []),
    ];
    expect([cut[999], cut[1000], cut[1999], cut[2000]]).toEqual([1, Math.fround(0.1), Math.fround(0.1), 1]);
    expect(plain.every((x) => x === 1)).toBe(true);
  });
});

/** What a GainNode makes of a sound that starts at time 0, its gain scheduled as the documentation shows. */
async function renderInBrowser(
  browser: Browser,
  samples: Float32Array,
  contextRateHz: number,
  events: readonly AudioParamEvent[],
): Promise<Float32Array> {
  const page = await browser.newPage();
  try {
    const sound = Buffer.from(samples.slice().buffer).toString('base64');
    const heard: string = await page.evaluate(
      `(${RENDER})('${sound}', ${contextRateHz}, ${JSON.stringify(events)})`,
    );
    return new Float32Array(Uint8Array.from(Buffer.from(heard, 'base64')).buffer);
  } finally {
    await page.close();
  }
}

const RENDER = `async (sound, rate, events) => {
  const samples = new Float32Array(Uint8Array.from(atob(sound), (c) => c.charCodeAt(0)).buffer);
  const context = new OfflineAudioContext(1, samples.length, rate);
  const buffer = context.createBuffer(1, samples.length, rate);
  buffer.copyToChannel(samples, 0);
  const source = new AudioBufferSourceNode(context, { buffer });
  const node = new GainNode(context);
  source.connect(node).connect(context.destination);
  const { gain } = node;
  for (const event of events) gain[event.method](...event.args);
  source.start();
  const done = (await context.startRendering()).getChannelData(0);
  const bytes = new Uint8Array(done.buffer, done.byteOffset, done.byteLength);
  let text = '';
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return btoa(text);
}`;
