/**
 * Compiles the kernels and writes them as text into src/simd/kernel-bytes.ts; `--check` only says whether that is what they compile to.
 * The same sources and compiler give the same bytes.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { compileKernelSources, kernelText } from './kernel-text.js';

const FILE = fileURLToPath(new URL('../src/simd/kernel-bytes.ts', import.meta.url));

const text = kernelText(await compileKernelSources());
if (process.argv.includes('--check')) {
  const same = readFileSync(FILE, 'utf8') === text;
  console.log(same ? 'the kernels are what their sources compile to' : 'run npm run build:kernels');
  process.exitCode = same ? 0 : 1;
} else writeFileSync(FILE, text);
