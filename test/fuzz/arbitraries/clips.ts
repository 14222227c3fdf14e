import fc from 'fast-check';
import type { Channels, Samples } from '../../../src/signal/samples.js';
import { mulberry32 } from '../../lib/random.js';
import { rates } from './numbers.js';

/** Audio with its rate. */
export interface Clip {
  readonly sampleRateHz: number;
  readonly lengthSamples: number;
  readonly channels: Channels;
}

/** What a clip may be. */
export interface ClipLimits {
  /** Most seconds; the shortest cases (0, 1 and 2 samples, a frame and its neighbours) are drawn whatever it says. */
  readonly mostSeconds?: number;
  readonly mostChannels?: number;
  readonly rates?: fc.Arbitrary<number>;
  /** Greatest magnitude; far above full scale unless told otherwise. */
  readonly mostLevel?: number;
  readonly leastSamples?: number;
}

const CHARACTERS = [
  'silence',
  'impulse',
  'dc',
  'alternating',
  'noise',
  'tone',
  'voice',
  'denormal',
  'parts',
] as const;
type Character = (typeof CHARACTERS)[number];

/** Frames that something in the library works in, in seconds: lengths around them are drawn often. */
const FRAMES_SECONDS = [0.001, 0.002667, 0.005333, 0.01, 0.02, 0.021333, 0.04, 0.1, 0.4];

/** One channel of one character; the same seed gives the same samples. */
export function makeChannel(
  character: Character,
  length: number,
  level: number,
  seed: number,
  sampleRateHz: number,
): Samples {
  const uniform = mulberry32(seed);
  const noise = (): number => 2 * uniform() - 1;
  const out = new Float32Array(length);
  const turn = 2 * Math.PI * (0.001 + 0.45 * uniform());
  const pitch = (2 * Math.PI * (80 + 300 * uniform())) / sampleRateHz;
  const at = Math.floor(uniform() * length);
  const part = Math.max(1, Math.floor(length / 7));
  for (let i = 0; i < length; i++) {
    if (character === 'impulse') out[i] = i === at ? level : 0;
    else if (character === 'dc') out[i] = level;
    else if (character === 'alternating') out[i] = i % 2 === 0 ? level : -level;
    else if (character === 'noise') out[i] = level * noise();
    else if (character === 'tone') out[i] = level * Math.sin(turn * i);
    else if (character === 'denormal') out[i] = 1e-40 * noise();
    else if (character === 'voice' || (character === 'parts' && Math.floor(i / part) % 3 === 0)) {
      // Ten harmonics falling by half each, enough for a pitch.
      let sum = 0;
      for (let k = 1, a = 0.5; k <= 10; k++, a /= 2) sum += a * Math.sin(k * pitch * i);
      out[i] = level * sum;
    } else if (character === 'parts') out[i] = Math.floor(i / part) % 3 === 1 ? 0.3 * level * noise() : 0;
  }
  return out;
}

/** Any clip: lengths 0, 1, 2, around a frame or a few blocks; every character; far below and above full scale. */
export function clips(limits: ClipLimits = {}): fc.Arbitrary<Clip> {
  const { mostSeconds = 0.1, mostChannels = 8, mostLevel = 1e6, leastSamples = 0 } = limits;
  const length = fc.oneof(
    { weight: 1, arbitrary: fc.constantFrom(0, 1, 2).map((n) => () => n) },
    {
      weight: 2,
      arbitrary: fc.tuple(fc.constantFrom(...FRAMES_SECONDS), fc.integer({ min: -1, max: 1 })).map(
        ([seconds, by]) =>
          (rate: number) =>
            Math.round(seconds * rate) + by,
      ),
    },
    {
      weight: 1,
      arbitrary: fc.constantFrom(255, 256, 257, 511, 512, 513, 1023, 1024, 1025).map((n) => () => n),
    },
    {
      weight: 3,
      arbitrary: fc.nat(1000).map((n) => (rate: number) => Math.round((n / 1000) * mostSeconds * rate)),
    },
  );
  const levels = [1e-30, 1e-5, 0.1, 0.5, 1, 4, 1e6, 3e38].filter((level) => level <= mostLevel);
  return fc
    .record({
      rate: limits.rates ?? rates,
      length,
      channelCount: fc.oneof(fc.constantFrom(0, 1, 2), fc.integer({ min: 1, max: mostChannels })),
      characters: fc.array(fc.constantFrom(...CHARACTERS), { minLength: 1, maxLength: 3 }),
      level: fc.oneof(fc.constantFrom(0.1, 0.5, 1), fc.constantFrom(...levels)),
      seed: fc.nat(),
    })
    .map(({ rate, length: lengthOf, channelCount, characters, level, seed }) => {
      const most = Math.max(Math.round(mostSeconds * rate), 2);
      const lengthSamples = Math.min(Math.max(lengthOf(rate), leastSamples), most);
      // 0 channels stands for a bare array.
      const channels = Array.from({ length: Math.min(Math.max(channelCount, 1), mostChannels) }, (_, c) =>
        makeChannel(characters[c % characters.length]!, lengthSamples, level, seed + c, rate),
      );
      return {
        sampleRateHz: rate,
        lengthSamples,
        channels: channelCount === 0 ? channels[0]! : channels,
      };
    });
}

/** Clips of one channel. */
export function monoClips(limits: ClipLimits = {}): fc.Arbitrary<Clip & { readonly channels: Samples }> {
  return clips({ ...limits, mostChannels: 1 }).map((clip) => ({
    ...clip,
    channels: listed(clip.channels)[0]!,
  }));
}

/** The channels as a list. */
export function listed(channels: Channels): readonly Samples[] {
  return channels instanceof Float32Array ? [channels] : channels;
}
