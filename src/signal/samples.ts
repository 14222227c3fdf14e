/**
 * One channel of audio: 32-bit float samples, nominal range −1 to 1.
 *
 * Written as a return type so that the declaration means the same under TypeScript 5.4 to 7
 * (from 5.7 on, typed arrays carry the type of their buffer).
 */
export type Samples = ReturnType<Float32Array['slice']>;

/** A table column or any other array of doubles in a public result. */
export type Doubles = ReturnType<Float64Array['slice']>;

/** Audio of one channel, or of several channels of equal length. */
export type Channels = Samples | readonly Samples[];
