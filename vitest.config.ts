import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    setupFiles: 'test/lib/property-seed.ts',
    testTimeout: 240_000,
    // What many tests share is made in hooks; ten seconds, the default, are not enough on a busy machine.
    hookTimeout: 240_000,
    coverage: { provider: 'v8', include: ['src/**'] },
  },
});
