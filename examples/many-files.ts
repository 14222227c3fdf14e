/** Taming many files: spread over the cores of the machine; one that is broken costs the others nothing. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { makeDemonstration } from './lib/demo/make-demonstration.js';
import { shown } from './lib/format-table.js';
import { type ManyFilesOptions, parseManyFilesOptions } from './lib/many-files-options.js';
import { planOutputs, prepareDirectory } from './lib/output-plan.js';
import { type Problem, problemLine } from './lib/result.js';
import { tameManyFiles } from './lib/tame-many-files.js';
import { encodeWave } from './lib/wave-file.js';

// A reader such as `head` may close the pipe early; the files are written all the same.
process.stdout.on('error', () => {});
process.stderr.on('error', () => {});

const options = parseManyFilesOptions(process.argv.slice(2), availableParallelism());
if (!options.ok) complain(options.problems[0] as Problem);
else if (options.value.files.length > 0) await run(options.value, options.value.files, 'out');
else {
  const scratch = mkdtempSync(join(tmpdir(), 'lenition-'));
  await run(options.value, makeFiles(scratch), join(scratch, 'out'));
  rmSync(scratch, { recursive: true });
}

async function run(asked: ManyFilesOptions, files: readonly string[], usual: string): Promise<void> {
  const directory = asked.outDirectory ?? usual;
  const unwritable = prepareDirectory(directory);
  if (unwritable !== null) return complain(unwritable);
  // Before anything is written: no result may be one of the inputs, or that of another one.
  const plans = planOutputs(files, directory, undefined);
  let done = 0;
  const results = await tameManyFiles(files, plans, {
    ...asked,
    progress: (file, { ok }) => {
      const count = `[${++done}/${files.length}]`;
      process.stderr.write(`${count} ${shown(basename(file))}: ${ok ? 'done' : 'refused'}\n`);
    },
  });
  for (const [i, result] of results.entries()) {
    const words = result.ok
      ? `${result.value.regionCount} regions, ${result.value.cutCount} sibilants turned down`
      : `refused: ${result.problems.map(problemLine).join('; ')}`;
    console.log(shown(`${basename(files[i] as string)}: ${words}`));
  }
  const tamed = results.filter(({ ok }) => ok).length;
  process.exitCode = tamed === files.length ? 0 : 2;
  console.log(`${tamed} of ${files.length} files tamed, exit code ${process.exitCode}`);
}

function complain(problem: Problem): void {
  process.stderr.write(`${shown(problemLine(problem))}\n`);
  process.exitCode = 2;
}

/** The takes of the demonstration as files, and one that broke off halfway. */
function makeFiles(folder: string): readonly string[] {
  const { sampleRateHz, takes } = makeDemonstration();
  const files = takes.map(({ name, samples }) => ({
    path: join(folder, `${name}.wav`),
    bytes: encodeWave([samples], { sampleRateHz, depth: '32f' }),
  }));
  const half = files[0]!.bytes.subarray(0, files[0]!.bytes.length / 2);
  files.splice(2, 0, { path: join(folder, 'broken-off.wav'), bytes: half });
  for (const { path, bytes } of files) writeFileSync(path, bytes);
  return files.map(({ path }) => path);
}
