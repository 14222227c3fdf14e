import { interpolateMagma } from 'd3-scale-chromatic';
import { encode } from 'fast-png';
import type { RegionEvent } from '../../src/evaluation/region-events.js';
import { stft } from '../../src/signal/stft.js';
import type { LabelledClip } from './corpus.js';

const BAND_COLOURS: Readonly<Record<string, string>> = {
  sibilant: '#e4572e',
  fricative: '#e9a23b',
  stop: '#3b8ea5',
  burst: '#3b8ea5',
  breath: '#7a9e4a',
  sonorant: '#c9cdd2',
  silence: '#f3f4f2',
};

/**
 * A stretch of a clip as an SVG for looking at: spectrogram, under it the labels and under those the regions, drawn to
 * the same time axis. For people who check scores by eye.
 */
export function clipPicture(
  clip: LabelledClip,
  regions: readonly RegionEvent[],
  fromSeconds: number,
  toSeconds: number,
): string {
  const height = 300;
  const image = spectrogram(clip, fromSeconds, toSeconds, height);
  const width = Math.max(900, Math.round(400 * (toSeconds - fromSeconds)));
  const x = (seconds: number): string =>
    (((seconds - fromSeconds) / (toSeconds - fromSeconds)) * width).toFixed(1);
  const bar = (
    e: { startSeconds: number; endSeconds: number },
    y: number,
    name: string,
    text: string,
  ): string => {
    if (e.endSeconds <= fromSeconds || e.startSeconds >= toSeconds) return '';
    const left = Number(x(Math.max(fromSeconds, e.startSeconds)));
    const right = Number(x(Math.min(toSeconds, e.endSeconds)));
    const lines =
      y > height + 30 ? `<path d="M${left} 0V${y}M${right} 0V${y}" stroke="#fff" stroke-opacity="0.7"/>` : '';
    return `<rect x="${left}" y="${y}" width="${(right - left).toFixed(1)}" height="24" fill="${BAND_COLOURS[name] ?? '#b07aa1'}" stroke="#fff"/><text x="${left + 2}" y="${y + 16}">${text}</text>${lines}`;
  };
  const seconds = Array.from(
    { length: Math.floor((toSeconds - fromSeconds) * 10) + 1 },
    (_, i) => fromSeconds + i / 10,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height + 80}" font-family="DejaVu Sans, sans-serif" font-size="11">`,
    `<rect width="${width}" height="${height + 80}" fill="#fff"/>`,
    `<image href="data:image/png;base64,${Buffer.from(image).toString('base64')}" width="${width}" height="${height}" preserveAspectRatio="none"/>`,
    ...clip.labels.map((l) => bar(l, height + 2, l.phoneClass, l.label)),
    ...regions.map((r) => bar(r, height + 34, r.label, `${r.label} ${r.confidence.toFixed(2)}`)),
    ...seconds.map((s) => `<text x="${x(s)}" y="${height + 74}" fill="#666">${s.toFixed(1)}</text>`),
    '</svg>',
  ].join('\n');
}

function spectrogram(clip: LabelledClip, from: number, to: number, height: number): Uint8Array {
  const rate = clip.sampleRateHz;
  const channel = clip.channels[0] as Float32Array;
  const part = channel.slice(Math.round(from * rate), Math.round(to * rate));
  const table = stft(part, { sampleRateHz: rate, frameSeconds: 0.008, hopSeconds: 0.002, window: 'hann' });
  const width = table.grid.frameCount;
  const level = (frame: number, bin: number): number => {
    const at = 2 * (frame * table.binCount + bin);
    return 10 * Math.log10((table.values[at] ?? 0) ** 2 + (table.values[at + 1] ?? 0) ** 2 + 1e-12);
  };
  let loudest = Number.NEGATIVE_INFINITY;
  for (let f = 0; f < width; f++)
    for (let b = 0; b < table.binCount; b++) loudest = Math.max(loudest, level(f, b));
  const data = new Uint8Array(width * height * 3);
  for (let f = 0; f < width; f++)
    for (let y = 0; y < height; y++) {
      const bin = Math.floor(((height - 1 - y) / height) * table.binCount);
      const shade = Math.max(0, Math.min(1, 1 + (level(f, bin) - loudest) / 70));
      const colour = Number.parseInt(interpolateMagma(shade).slice(1), 16);
      data.set([colour >> 16, (colour >> 8) & 255, colour & 255], 3 * (y * width + f));
    }
  return encode({ width, height, data, channels: 3, depth: 8 });
}
