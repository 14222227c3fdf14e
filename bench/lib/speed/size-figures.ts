import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { SpeedFigure } from './speed-figure.js';
import { spreadOf } from './spread.js';

/**
 * What the main entry weighs in an app that does the job of the README, minified and gzipped, the model included. A bundler drops what
 * the app does not use: all that the entry hands on from its folders is told beside it, without a goal.
 */
export function sizeFigures(): readonly SpeedFigure[] {
  const job = '{ detectConsonants, fixedCut, placeEdges, renderGain }';
  return [
    {
      name: 'main entry bundled for the job and gzipped, kB',
      reach: 30,
      aim: 18,
      higherIsBetter: false,
      digits: 1,
      measured: spreadOf([bundledKilobytes(job)]),
      note: `\`${job}\`, model included; everything that the entry hands on is ${bundledKilobytes('*').toFixed(1)} kB`,
    },
  ];
}

/** Thousands of bytes of some of the main entry. In a process of its own, since a bundler leaves much behind. */
function bundledKilobytes(names: string): number {
  const folder = mkdtempSync(join(tmpdir(), 'lenition-size-'));
  try {
    const script = `
      import { bundle } from ${JSON.stringify(pathToFileURL('.ci/check-consumers/bundle.mjs').href)};
      const [folder, text] = process.argv.slice(1);
      console.log((await bundle(folder, text)).gzipBytes);`;
    const text = `export ${names} from ${JSON.stringify(join(process.cwd(), 'src/index.ts'))};`;
    const printed = execFileSync(
      process.execPath,
      ['--input-type=module', '--eval', script, '--', folder, text],
      { encoding: 'utf8' },
    );
    return Number(printed) / 1000;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
