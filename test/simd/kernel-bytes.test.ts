import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { type CompiledKernels, compileKernelSources, kernelText } from '../../kernels/kernel-text.js';
import { decodeBase64 } from '../../src/simd/decode-base64.js';
import { KERNEL_BYTES } from '../../src/simd/kernel-bytes.js';
import { platformWebAssembly } from '../lib/web-assembly.js';

let compiled: CompiledKernels;
beforeAll(async () => {
  compiled = await compileKernelSources();
});

describe('the bytes of the kernels', () => {
  it('are what their sources compile to', () => {
    expect(readFileSync('src/simd/kernel-bytes.ts', 'utf8')).toBe(kernelText(compiled));
  });

  it('are read from base64 as Node reads it', () => {
    expect([...decodeBase64(KERNEL_BYTES)]).toEqual([...Buffer.from(KERNEL_BYTES, 'base64')]);
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 50 }), (bytes) => {
        expect(decodeBase64(Buffer.from(bytes).toString('base64'))).toEqual(bytes);
      }),
    );
  });

  it('ask for nothing but memory, and hold no instruction whose result hangs on the processor', () => {
    const bytes = decodeBase64(KERNEL_BYTES);
    const { Module } = platformWebAssembly();
    const module = new Module(bytes);
    expect(Module.imports(module)).toEqual([{ module: 'env', name: 'memory', kind: 'memory' }]);
    expect(
      Module.exports(module)
        .map(({ name }) => name)
        .sort(),
    ).toEqual(['blockPowers', 'filterRows', 'multiplyRows', 'pairPowers']);
    // Relaxed vectors are the instructions that may differ (WebAssembly core specification 3.0, their names begin so).
    expect(compiled.listing).toMatch(/f64x2\.mul/);
    expect(compiled.listing).not.toMatch(/relaxed/);
  });
});
