import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { SpeedFigure } from './speed-figure.js';
import { spreadOf } from './spread.js';

const GOAL = { reach: 30, aim: 18, higherIsBetter: false, digits: 1 } as const;

/** What the main entry weighs in an app, minified and gzipped: all of it, and what the job in the README takes of it. */
export function sizeFigures(): readonly SpeedFigure[] {
  const job = '{ detectConsonants, fixedCut, placeEdges, renderGain }';
  return [
    {
      ...GOAL,
      name: 'main entry bundled and gzipped, kB',
      measured: spreadOf([bundledKilobytes('*')]),
      note: 'all of it, model included',
    },
    {
      ...GOAL,
      name: 'what the job takes of the main entry, kB',
      measured: spreadOf([bundledKilobytes(job)]),
      note: `\`${job}\`, model included, the rest dropped by the bundler`,
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
