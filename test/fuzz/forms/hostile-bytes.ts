import type { Random } from '../lib/random-tools.js';

/** Bytes with a few flipped, exchanged, dropped, doubled, or set to an extreme. */
export function damagedBytes(bytes: Uint8Array, random: Random, head = 1): Uint8Array {
  let hurt = Uint8Array.from(bytes);
  for (let hits = 1 + random.below(random.oneIn(2) ? 1 : 4); hits > 0 && hurt.length > 0; hits--) {
    // What a file says of itself stands at its head: most damage goes there.
    const at = random.below(random.oneIn(2) ? Math.max(1, Math.floor(hurt.length * head)) : hurt.length);
    const way = random.below(6);
    if (way === 0) hurt[at]! ^= 1 << random.below(8);
    else if (way === 1) hurt[at] = hurt[random.below(hurt.length)]!;
    else if (way === 2) hurt = joined(hurt.subarray(0, at), hurt.subarray(at + 1 + random.below(5)));
    else if (way === 3)
      hurt = joined(hurt.subarray(0, at + 1), hurt.subarray(Math.max(0, at - random.below(40))));
    else if (way === 4) hurt[at] = random.pick([0, 1, 127, 128, 255]);
    else if (random.oneIn(4)) hurt = hurt.slice(0, at);
    else hurt.fill(random.pick([0, 255]), at, at + 4);
  }
  return hurt;
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array<ArrayBuffer> {
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

/** A text whose bytes were damaged on the way, as a reader of files would hand it over. */
export function damagedText(text: string, random: Random): string {
  return new TextDecoder().decode(damagedBytes(new TextEncoder().encode(text), random));
}
