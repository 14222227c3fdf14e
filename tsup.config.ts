import { existsSync, readdirSync } from 'node:fs';
import { defineConfig } from 'tsup';

/** Every folder of src with an index is an entry of its own, beside the main one. */
const folders = readdirSync('src').filter((folder) => existsSync(`src/${folder}/index.ts`));

export default defineConfig({
  entry: {
    index: 'src/index.ts',
    ...Object.fromEntries(folders.map((folder) => [folder, `src/${folder}/index.ts`])),
  },
  format: ['esm', 'cjs'],
  dts: true,
  sourcemap: true,
  clean: true,
  target: 'es2022',
  // No platform's globals or module conditions: the same files run in a page, a worklet and Node.
  platform: 'neutral',
  // An audio worklet and a page without a bundler resolve no bare imports, so everything is bundled.
  noExternal: [/./],
  esbuildOptions(options) {
    // The neutral platform names no fields for packages without an exports map, such as fft.js.
    options.mainFields = ['module', 'main'];
  },
});
