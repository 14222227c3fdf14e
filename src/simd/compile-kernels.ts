import { decodeBase64 } from './decode-base64.js';
import { KERNEL_BYTES } from './kernel-bytes.js';

/** What the compiled module offers; places are in bytes. */
export interface Kernels {
  readonly memory: { readonly buffer: ArrayBuffer };
  pairPowers(
    first: number,
    second: number,
    tables: number,
    points: number,
    powerA: number,
    powerB: number,
    bins: number,
  ): void;
  multiplyRows(
    out: number,
    rows: number,
    matrix: number,
    bias: number,
    rowCount: number,
    inner: number,
    outer: number,
    way: number,
  ): void;
  filterRows(
    out: number,
    rows: number,
    taps: number,
    rowCount: number,
    width: number,
    dilation: number,
    step: number,
  ): void;
  blockPowers(
    samples: number,
    blockSamples: number,
    blockCount: number,
    numbers: number,
    out: number,
    leastState: number,
  ): void;
}

/** The part of WebAssembly that is used; the language's own library does not name it. */
declare const WebAssembly:
  | {
      readonly Module: new (bytes: Uint8Array) => object;
      readonly Instance: new (module: object, imports: object) => { readonly exports: object };
      readonly Memory: new (size: {
        readonly initial: number;
        readonly maximum: number;
      }) => Kernels['memory'];
    }
  | undefined;

/** Bytes of a page of memory. */
const PAGE_BYTES = 65_536;

/** Compiles the kernels with so many bytes of memory, or says why that cannot be. */
export function compileKernels(bytes: number): Kernels | string {
  if (typeof WebAssembly === 'undefined') return 'There is no WebAssembly here.';
  try {
    const pages = Math.ceil(bytes / PAGE_BYTES);
    const memory = new WebAssembly.Memory({ initial: pages, maximum: pages });
    const module = new WebAssembly.Module(decodeBase64(KERNEL_BYTES));
    const { exports } = new WebAssembly.Instance(module, { env: { memory } });
    return { ...(exports as Omit<Kernels, 'memory'>), memory };
  } catch (error) {
    // A content security policy without 'wasm-unsafe-eval', an engine without vectors, or no memory.
    return `WebAssembly may not be used here: ${error instanceof Error ? error.message : String(error)}`;
  }
}
