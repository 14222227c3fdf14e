import type { PictureAnswer, PictureRequest, SamplesMessage } from './messages.js';
import { spectrogramPixels } from './spectrogram-pixels.js';
import { createWaveform, type Waveform } from './waveform.js';

// Drawing has a thread of its own, so that zooming stays quick while the other worker searches or decides.
let samples: SamplesMessage | null = null;
let waveform: Waveform | null = null;

addEventListener('message', (event: MessageEvent<{ samplesFrom: MessagePort } | PictureRequest>) => {
  const { data } = event;
  if (!('samplesFrom' in data)) {
    void picture(data);
    return;
  }
  samples = null;
  data.samplesFrom.onmessage = (sent: MessageEvent<SamplesMessage>) => {
    samples = sent.data;
    waveform = createWaveform(samples.channels);
    data.samplesFrom.close();
    postMessage('ready');
  };
});

async function picture({ view, columns, width, height, isDark }: PictureRequest): Promise<void> {
  if (samples === null || waveform === null) return;
  const { channels, sampleRateHz } = samples;
  // Another take may have come between the question and this.
  const endSample = Math.min(view.endSample, (channels[0] as Float32Array).length);
  const startSample = Math.min(view.startSample, endSample - 1);
  const topFrequencyHz = Math.min(16000, sampleRateHz / 2);
  const { least, most } = waveform.columns(startSample, endSample, columns);
  const size = { width, height };
  const pixels = spectrogramPixels(
    channels,
    sampleRateHz,
    { startSample, endSample, topFrequencyHz },
    size,
    isDark,
  );
  const image = await createImageBitmap(new ImageData(pixels, width, height));
  const answer: PictureAnswer = { view: { startSample, endSample }, least, most, image, topFrequencyHz };
  postMessage(answer, { transfer: [least.buffer, most.buffer, image] });
}
