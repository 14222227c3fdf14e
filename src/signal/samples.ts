/**
 * One channel of audio that is read or written in place: 32-bit float samples, nominal range −1 to 1.
 *
 * From TypeScript 5.7 on, typed arrays carry the type of their buffer; this name means any buffer, so that arrays typed either way
 * can be passed.
 */
export type Samples = Float32Array;

/**
 * One channel of audio that the library made. Written as a return type so that the declaration means the same under
 * TypeScript 5.4 to 7: from 5.7 on, an array with a buffer of its own, which is what Web Audio's types ask for.
 */
export type NewSamples = ReturnType<Float32Array['slice']>;

/** A table column or any other array of doubles. */
export type Doubles = Float64Array;

/** Audio of one channel, or of several channels of equal length. */
export type Channels = Samples | readonly Samples[];
