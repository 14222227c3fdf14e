import type { Samples } from '../../src/signal/samples.js';
import { gaussian, mulberry32 } from './random.js';

/** Bursts of noise and of tone at random: nothing like a voice, and all the more odd stretches. */
export function jumble(seed: number, length: number, channelCount: number): Samples[] {
  const uniform = mulberry32(seed);
  const normal = gaussian(uniform);
  const channels = Array.from({ length: channelCount }, () => new Float32Array(length));
  for (let at = 0; at < length; ) {
    const end = Math.min(length, at + Math.round(uniform() * 3000));
    const level = 10 ** (-4 * uniform());
    const pitch = uniform();
    const noisy = uniform() < 0.5;
    for (const samples of channels)
      for (let i = at; i < end; i++) samples[i] = level * (noisy ? normal() : Math.sin(pitch * i));
    at = end + 1;
  }
  return channels;
}
