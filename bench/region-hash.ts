/**
 * Prints a hash of what the detector finds in the demonstration and in five songs, so that engines can be compared:
 * run it under each Node and compare the lines, or write a file under one and hold the others against it. `--help`
 * lists the options.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { simdEngine } from '../src/simd/simd-engine.js';
import { demonstrationClips, HASH_MIN_CONFIDENCE, songClips } from './lib/hash-clips.js';
import {
  type RegionRecord,
  recordDifferences,
  regionHashes,
  regionRecords,
  samplesHash,
} from './lib/region-digest.js';

const HELP = `npm run hash:regions -- [options]

  --songs DIR      folder of WAVs, the first five by name are used (default ../shared/corpus/pjs_singing); skipped where absent
  --write FILE     write the regions as JSON, to be held against later
  --against FILE   compare with such a file: kinds and edges must be equal, confidences within 1e-6
  --engine         find with the engine of lenition/simd`;

const { values: options } = parseArgs({
  options: {
    songs: { type: 'string', default: '../shared/corpus/pjs_singing' },
    write: { type: 'string' },
    against: { type: 'string' },
    engine: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});
if (options.help) {
  console.log(HELP);
  process.exit(0);
}

interface ClipRegions {
  readonly name: string;
  readonly samples: string;
  readonly regions: readonly RegionRecord[];
}

const engine = options.engine ? simdEngine() : null;
const songs = songClips(options.songs);
if (songs.length === 0) console.log(`songs: skipped, there are none in ${options.songs}`);
const found: ClipRegions[] = [...demonstrationClips(), ...songs].map(({ name, sampleRateHz, channels }) => ({
  name,
  samples: samplesHash(channels),
  regions: regionRecords(
    detectConsonants(channels, { sampleRateHz, minConfidence: HASH_MIN_CONFIDENCE, engine }),
  ),
}));

console.log(`Node ${process.version}, V8 ${process.versions.v8}, ${process.arch}`);
if (engine !== null) console.log(`with the engine: ${engine.problem ?? engine.name}`);
console.log('samples       kinds, edges  and confidences   regions');
for (const { name, samples, regions } of found) {
  const { edges, all } = regionHashes(regions);
  console.log(
    `${samples.slice(0, 12)}  ${edges.slice(0, 12)}  ${all.slice(0, 12)}  ${String(regions.length).padStart(11)}  ${name}`,
  );
}
const total = regionHashes(found.flatMap(({ regions }) => regions));
console.log(`all regions: kinds and edges ${total.edges}`);
console.log(`             and confidences ${total.all}`);

if (options.write !== undefined) writeFileSync(options.write, JSON.stringify(found));
if (options.against !== undefined) {
  const others = new Map(
    (JSON.parse(readFileSync(options.against, 'utf8')) as ClipRegions[]).map((clip) => [clip.name, clip]),
  );
  const problems = found.flatMap(({ name, samples, regions }) => {
    const other = others.get(name);
    if (other === undefined) return [`${name}: not in the file`];
    const differences = recordDifferences(regions, other.regions).map(
      (difference) => `${name}: ${difference}`,
    );
    // Samples alone may differ by a last bit, where an engine computes the demonstration's sines otherwise.
    if (samples !== other.samples) console.log(`note: the samples of ${name} differ`);
    return differences;
  });
  for (const problem of problems.slice(0, 20)) console.log(problem);
  if (found.length !== others.size) problems.push('another number of clips');
  console.log(
    problems.length === 0 ? 'the same as in the file' : `DIFFERS from the file: ${problems.length}`,
  );
  if (problems.length > 0) process.exitCode = 1;
}
