import type { BiquadCoefficients } from './biquad-design.js';
import { checkDoubles, checkFinite, checkInteger, checkNumber, rangeError, typeError } from './check.js';
import type { Doubles, NewSamples, Samples } from './samples.js';

/** One second-order section, or several in a row. */
export type BiquadSections = BiquadCoefficients | readonly BiquadCoefficients[];

/**
 * Filters a clip through one or several sections, from rest. Arithmetic is in doubles throughout; only the result is
 * rounded to 32 bits. The output is as long as the input: what would ring on after its end is left out.
 *
 * @param samples The clip; empty gives empty. It is not changed.
 * @param sections Coefficients, at least one section.
 * @returns A new array of the same length.
 * @throws TypeError or RangeError for wrong arrays, NaN or Infinity in samples (with the index) or in coefficients.
 * @see Smith, "Introduction to Digital Filters", 2007 (transposed direct form II).
 * @example
 * import { filterSamples } from 'lenition/signal';
 * const delay = { b0: 0, b1: 1, b2: 0, a1: 0, a2: 0 };
 * Array.from(filterSamples(Float32Array.of(1, 2, 3), delay)); // => [0, 1, 2]
 */
export function filterSamples(samples: Samples, sections: BiquadSections): NewSamples {
  const list = sectionList('filterSamples', sections);
  checkBlock('filterSamples', 'samples', samples);
  const out = new Float32Array(samples.length);
  run(out, samples, list, createBiquadState(list.length));
  return out;
}

/**
 * Memory of a filter at rest, for {@link filterBlockInto}: two numbers per section. One state serves one channel.
 *
 * @param sectionCount Number of sections, 1 to 1000.
 * @throws TypeError or RangeError for any other count.
 * @example
 * import { createBiquadState } from 'lenition/signal';
 * createBiquadState(2).length; // => 4
 */
export function createBiquadState(sectionCount: number): Doubles {
  checkInteger('createBiquadState', 'sectionCount', sectionCount, 1, 1000);
  return new Float64Array(2 * sectionCount);
}

/**
 * Filters the next block of a stream; blocks of any lengths give exactly what {@link filterSamples} gives for the
 * whole. No delay beyond the filter's own. Nothing is allocated where `sections` is an array.
 *
 * @param out Takes the result; as long as `block`. It may be `block` itself, but must not overlap it otherwise.
 * @param block The next samples; may be empty.
 * @param sections Coefficients, at least one section.
 * @param state From {@link createBiquadState}, two numbers per section; changed.
 * @throws TypeError or RangeError for wrong arrays, NaN or Infinity in the block (with the index) or in coefficients;
 * `out` and `state` are then unchanged.
 * @example
 * import { createBiquadState, filterBlockInto } from 'lenition/signal';
 * const delay = [{ b0: 0, b1: 1, b2: 0, a1: 0, a2: 0 }];
 * const state = createBiquadState(1);
 * const block = Float32Array.of(1, 2);
 * filterBlockInto(block, block, delay, state);
 * Array.from(block); // => [0, 1]
 */
export function filterBlockInto(
  out: Samples,
  block: Samples,
  sections: BiquadSections,
  state: Doubles,
): void {
  const list = sectionList('filterBlockInto', sections);
  checkBlock('filterBlockInto', 'block', block);
  if (!(out instanceof Float32Array))
    throw typeError('filterBlockInto', 'out', 'must be a Float32Array', out);
  if (out.length !== block.length)
    throw rangeError(
      'filterBlockInto',
      'out.length',
      `must equal that of block (${block.length})`,
      out.length,
    );
  checkDoubles('filterBlockInto', 'state', state, 2 * list.length);
  run(out, block, list, state);
}

/** Sections as a list; throws where there is none or a coefficient is not a finite number. */
export function sectionList(functionName: string, sections: BiquadSections): readonly BiquadCoefficients[] {
  const list = (Array.isArray(sections) ? sections : [sections]) as readonly BiquadCoefficients[];
  if (list.length === 0) throw rangeError(functionName, 'sections', 'must hold at least one section', list);
  for (const section of list) {
    if (typeof section !== 'object' || section === null)
      throw typeError(functionName, 'sections', 'must hold coefficients b0, b1, b2, a1, a2', section);
    checkNumber(functionName, 'b0', section.b0);
    checkNumber(functionName, 'b1', section.b1);
    checkNumber(functionName, 'b2', section.b2);
    checkNumber(functionName, 'a1', section.a1);
    checkNumber(functionName, 'a2', section.a2);
  }
  return list;
}

function checkBlock(functionName: string, parameter: string, samples: Samples): void {
  if (!(samples instanceof Float32Array))
    throw typeError(functionName, parameter, 'must be a Float32Array', samples);
  checkFinite(functionName, parameter, samples);
}

/** Sample by sample through all sections, so that nothing is rounded to 32 bits between them. */
function run(out: Samples, input: Samples, list: readonly BiquadCoefficients[], state: Doubles): void {
  const last = list.length;
  for (let n = 0; n < input.length; n++) {
    let x = input[n] as number;
    for (let s = 0; s < last; s++) {
      const { b0, b1, b2, a1, a2 } = list[s] as BiquadCoefficients;
      const y = b0 * x + (state[2 * s] as number);
      state[2 * s] = settled(b1 * x - a1 * y + (state[2 * s + 1] as number));
      state[2 * s + 1] = settled(b2 * x - a2 * y);
      x = y;
    }
    out[n] = x;
  }
}

/** A tail that decays through subnormal doubles would run many times slower than sound does. */
function settled(value: number): number {
  return value > -1e-300 && value < 1e-300 ? 0 : value;
}
