import { bandwidthWarnings } from '../src/detection/bandwidth-warnings.js';
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { drawTake } from '../src/picture/draw-take.js';
import { simdEngine } from '../src/simd/simd-engine.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';
import { runTame } from './lib/run-tame.js';

// A reader such as `head` may close the pipe early; the files are written all the same.
process.stdout.on('error', () => {});
process.stderr.on('error', () => {});

// Finds in two thirds of the time; the regions are the same with it and without.
const engine = simdEngine();

// exitCode, not exit(): what is still on its way to a pipe gets through.
process.exitCode = runTame(process.argv.slice(2), {
  stdout: (text) => process.stdout.write(text),
  stderr: (text) => process.stderr.write(text),
  stderrIsTerminal: process.stderr.isTTY === true,
  nowSeconds: () => performance.now() / 1000,
  tools: {
    detectConsonants: (channels, options) => detectConsonants(channels, { ...options, engine }),
    bandwidthWarnings,
    drawTake,
  },
  makeDemonstration,
});
