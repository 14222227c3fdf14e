import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    setupFiles: ['test/lib/property-seed.ts', 'test/lib/same-bytes.ts'],
    // Of a machine that does much else: a limit must not tell a slow test from a failed one.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    // Files share what they load: the library has no state of its own, and loading it 200 times took half of the time.
    isolate: false,
    // By itself it leaves one core idle, which is half of a small machine.
    maxWorkers: '100%',
    // `npm run coverage`: what runs in processes of their own is not counted.
    coverage: {
      provider: 'v8',
      include: ['src/**'],
      // Re-exports, and the packed numbers of the trained model: no decision in either.
      exclude: ['src/index.ts', 'src/*/index.ts', 'src/detection/consonant-weights.ts'],
      reporter: ['text', 'json-summary'],
      reportOnFailure: true,
      thresholds: { branches: 95 },
    },
  },
});
