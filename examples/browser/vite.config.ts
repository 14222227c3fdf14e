import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import { publishedLibrary } from './published-library.js';

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  // Relative, so that the built page works from any folder of any server.
  base: './',
  plugins: [publishedLibrary()],
  worker: { format: 'es' },
  build: { target: 'es2022', sourcemap: true, emptyOutDir: true },
  server: { fs: { allow: [fileURLToPath(new URL('../..', import.meta.url))] } },
});
