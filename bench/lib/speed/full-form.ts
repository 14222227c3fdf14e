import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { relative } from 'node:path';
import { analysisFigures } from './analysis-figures.js';
import { detectionFigures } from './detection-figures.js';
import { essentiaLine } from './essentia-line.js';
import { growthTable, isLinear } from './growth.js';
import { growths } from './growth-figures.js';
import { machineLine } from './machine-line.js';
import { performancePage, reportText, type SpeedReport } from './page.js';
import { renderFigures } from './render-figures.js';
import { singleFunctionTable } from './single-functions.js';
import { sizeFigures } from './size-figures.js';
import { exitCodeOf, speedFigureTable } from './speed-figure.js';
import { startFigures } from './start-figures.js';
import { hourlyBytes, streamingFigures } from './streaming-figures.js';

/** What the command was asked for. */
export interface FullOptions {
  readonly corpus: string;
  /** An hour for `npm start` and ten for the stream. */
  readonly long: boolean;
  readonly essentia: boolean;
  /** The page to write, or undefined: none. */
  readonly write: string | undefined;
}

const progress = (text: string): unknown => process.stderr.write(`${text}\n`);

/** Measures everything, prints it, writes the page where asked, and gives 1 where a reach falls short or growth is not linear. */
export function fullForm({ corpus, long, essentia, write }: FullOptions): 0 | 1 {
  const machine = machineLine();
  const figures = [
    // First of all, while the engine has compiled nothing for other work.
    ...told('analysis', analysisFigures),
    ...told('detection', () => detectionFigures(corpus)),
    ...told('rendering', renderFigures),
    ...told('streaming', streamingFigures),
    ...told('npm start', () => startFigures(long ? 3600 : 300)),
    ...told('size', sizeFigures),
  ];
  const grown = told('growth', growths);
  const report: SpeedReport = {
    machine,
    goals: speedFigureTable(figures),
    growth: growthTable(grown),
    functions: told('single functions', singleFunctionTable),
    lines: [
      ...(essentia ? [told('essentia.js', essentiaLine)] : []),
      ...(long ? [told('ten hours', tenHours)] : []),
    ],
  };
  console.log(reportText(report));
  if (write !== undefined) writePage(write, performancePage(report));
  return grown.every(isLinear) ? exitCodeOf(figures) : 1;
}

/** In the form that `npm run lint` asks of every page of the project. */
function writePage(file: string, text: string): void {
  writeFileSync(file, text);
  if (relative(process.cwd(), file).startsWith('..')) return;
  execFileSync('npx', ['--no-install', 'biome', 'format', '--write', file], { stdio: 'ignore' });
}

function told<T>(what: string, work: () => T): T {
  progress(`measuring: ${what}`);
  return work();
}

function tenHours(): string {
  const bytes = hourlyBytes(10);
  const change = (Math.max(...bytes) - Math.min(...bytes)) / 1000;
  return `Ten hours streamed block by block: what the process holds changes by ${change.toFixed(0)} kB at most from hour to hour.`;
}
