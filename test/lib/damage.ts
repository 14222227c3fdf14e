import { mulberry32 } from './random.js';

/** Copies of a text with a few bytes flipped, exchanged, dropped or doubled; the same seed gives the same ones. */
export function* damaged(text: string, seed: number, count: number): Generator<string, undefined> {
  const uniform = mulberry32(seed);
  const below = (limit: number): number => Math.floor(uniform() * limit);
  const bytes = new TextEncoder().encode(text);
  for (let i = 0; i < count; i++) {
    let hurt = Uint8Array.from(bytes);
    for (let hits = 1 + below(3); hits > 0; hits--) {
      const at = below(hurt.length);
      const way = below(4);
      if (way === 0) hurt[at]! ^= 1 << below(8);
      else if (way === 1) hurt[at] = bytes[below(bytes.length)]!;
      else if (way === 2)
        hurt = Uint8Array.from([...hurt.subarray(0, at), ...hurt.subarray(at + 1 + below(3))]);
      else
        hurt = Uint8Array.from([...hurt.subarray(0, at + 1), ...hurt.subarray(Math.max(0, at - below(40)))]);
    }
    yield new TextDecoder().decode(hurt);
  }
  return undefined;
}
