import { createRowScores, MOST_ROWS, type RowKernels } from '../detection/row-scores.js';
import type { NetworkParts, RowScores } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import { createAllocator, type KernelArea } from './kernel-memory.js';

/** Doubles of the area for networks: the package's own takes 14,000 of them, and one twice as wide fits. */
export const NETWORK_AREA_DOUBLES = 40_000;

/** Ways to use a product, as the kernels number them. */
const WAYS = { write: 0, rectify: 1, addRectified: 2 } as const;

/** Whether the kernels can do a network: two columns to a vector, five taps, and room for it. */
export function fitsKernels({ inputCount, width, classCount, frameStep, layers }: NetworkParts): boolean {
  const columns = width % 2 === 0 && classCount % 2 === 0;
  if (!columns || layers.some(({ filter }) => filter.kernelFrames !== 5)) return false;
  const weights =
    (inputCount + 1) * width + layers.length * (6 * width + width * width) + (width + 1) * classCount;
  // Less than a step waits before the first layer.
  const kept = layers.reduce((sum, { filter }) => sum + 4 * filter.dilation * width, frameStep * width);
  const rows = MOST_ROWS * (inputCount + classCount + (layers.length + 2) * width);
  // Arrays are laid out at even places.
  return weights + kept + rows + 4 * layers.length + 16 <= NETWORK_AREA_DOUBLES;
}

/** `createRowScores` in the kernels, two columns to a vector. */
export function createSimdRowScores(area: KernelArea, parts: NetworkParts): RowScores {
  const { kernels } = area;
  const simd: Omit<RowKernels, 'allocate' | 'place'> = {
    multiplyRowsInto(out, rows, matrix, bias, rowCount, inner, outer, use = 'write') {
      kernels.multiplyRows(
        out.byteOffset,
        rows.byteOffset,
        matrix.byteOffset,
        bias.byteOffset,
        rowCount,
        inner,
        outer,
        WAYS[use],
      );
    },
    filterInner(out, rows, taps, outCount, { channelCount, dilation, step }) {
      const places = [out.byteOffset, rows.byteOffset, taps.byteOffset] as const;
      kernels.filterRows(...places, outCount, channelCount, dilation, step);
    },
  };
  // What this network has in the area while another one uses it.
  let kept: Doubles | undefined;
  let extent = 0;
  const user = {
    leave: () => {
      if (extent > 0) kept = area.doubles.slice(0, extent);
    },
    enter: () => {
      if (kept !== undefined) area.doubles.set(kept);
      kept = undefined;
    },
  };
  const allocate = createAllocator(area);
  const allocated = (length: number): Doubles => {
    const place = allocate(length);
    extent = (place.byteOffset - area.start) / 8 + length;
    return place.fill(0);
  };
  const placed = (values: Doubles): Doubles => {
    const place = allocated(values.length);
    place.set(values);
    return place;
  };
  area.claim(user);
  const network = createRowScores(parts, { ...simd, allocate: allocated, place: placed });
  return {
    ...network,
    take(inputs, at, rowCount) {
      area.claim(user);
      network.take(inputs, at, rowCount);
    },
    end() {
      // Nothing needs to be kept for what follows.
      extent = 0;
    },
  };
}
