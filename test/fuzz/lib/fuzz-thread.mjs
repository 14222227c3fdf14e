// A thread starts without the loader for TypeScript; this file brings it and hands over.
import { tsImport } from 'tsx/esm/api';

await tsImport('./fuzz-worker.ts', import.meta.url);
