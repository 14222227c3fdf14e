import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';

/** All warnings but those of a slow machine. */
export const CHECKS = { bundlerTimings: false, pluginTimings: false };

/** Bundles one module's text as an app would: minified, what is not used dropped. Gives the code, its sizes and what it is made of. */
export async function bundle(folder, text) {
  const entry = join(folder, 'bundle-entry.js');
  writeFileSync(entry, text);
  const warnings = [];
  const result = await build({
    root: folder,
    configFile: false,
    logLevel: 'silent',
    build: {
      write: false,
      target: 'es2022',
      minify: true,
      modulePreload: false,
      // Not Vite's library mode, which leaves the blanks in.
      rolldownOptions: {
        input: entry,
        checks: CHECKS,
        preserveEntrySignatures: 'strict',
        onwarn: (warning) => warnings.push(warning.message),
      },
    },
  });
  const [chunk] = [result].flat()[0].output;
  return {
    code: chunk.code,
    bytes: chunk.code.length,
    gzipBytes: gzipSync(chunk.code).length,
    warnings,
    chunk,
  };
}
