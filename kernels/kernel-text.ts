import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import asc from 'assemblyscript/asc';

/** The kernels of this folder, compiled. */
export interface CompiledKernels {
  readonly bytes: Uint8Array;
  /** The same as text, one instruction a line. */
  readonly listing: string;
}

/** The file src/simd/kernel-bytes.ts as it has to be. */
export function kernelText({ bytes }: CompiledKernels): string {
  return `/*
 * Made by \`npm run build:kernels\` from the folder kernels; not to be edited.
 */

/** The kernels as a WebAssembly module of ${bytes.length} bytes, in base64. */
export const KERNEL_BYTES: string =
  '${Buffer.from(bytes).toString('base64')}';
`;
}

/** Compiles them: the same sources and compiler give the same bytes. */
export async function compileKernelSources(): Promise<CompiledKernels> {
  const folder = fileURLToPath(new URL('.', import.meta.url));
  const written = new Map<string, string | Uint8Array>();
  const { error, stderr } = await asc.main(
    [
      'index.ts',
      '--outFile',
      'kernels.wasm',
      '--textFile',
      'kernels.wat',
      // Sums are neither reordered nor fused by any of this: WebAssembly has no such freedom without relaxed vectors.
      '--optimizeLevel',
      '3',
      '--shrinkLevel',
      '1',
      '--enable',
      'simd',
      '--runtime',
      'stub',
      '--noAssert',
      '--importMemory',
      '--noExportMemory',
    ],
    {
      readFile: (name) => (/^[\w-]+\.ts$/.test(name) ? readFileSync(`${folder}${name}`, 'utf8') : null),
      writeFile: (name, contents) => {
        written.set(name, contents);
      },
      listFiles: () => [],
    },
  );
  if (error) throw new Error(`${stderr.toString()}\n${error.message}`);
  return {
    bytes: new Uint8Array(written.get('kernels.wasm') as Uint8Array),
    listing: String(written.get('kernels.wat')),
  };
}
