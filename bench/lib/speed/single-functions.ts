import Benchmark from 'benchmark';
import { markAndCut } from '../../../src/gain/mark-and-cut.js';
import { renderGain } from '../../../src/gain/render-gain.js';
import { editRegions } from '../../../src/regions/edit-regions.js';
import { markdownTable } from '../table.js';
import { mixedSignal } from './mixed-signal.js';
import { evenRegions } from './render-figures.js';

const RATE = 48_000;

/** How often single functions run in a second, by benchmark.js: on the clock, so only fair on a machine with nothing else to do. */
export function singleFunctionTable(): string {
  const samples = mixedSignal(60, RATE);
  const lengthSamples = samples.length;
  const few = evenRegions({ lengthSamples, count: 6, regionSamples: 4800, gainDb: -6 });
  const many = evenRegions({ lengthSamples, count: 50_000, regionSamples: 28, gainDb: -6 });
  const suite = new Benchmark.Suite();
  const add = (name: string, work: () => unknown): void => {
    suite.add(name, work, { maxTime: 1 });
  };
  add('`renderGain`, a minute, 1 % in regions', () => renderGain(samples, few));
  add('`markAndCut`, a range in a list of 6', () => markAndCut(few, 100_000, 110_000, samples));
  add('`editRegions`, one of 50,000', () =>
    editRegions(many, ({ id }) => (id === 25_000 ? { gainDb: -3 } : undefined)),
  );
  const rows: string[][] = [];
  suite.on('cycle', ({ target }: { readonly target: Benchmark }) => {
    if (target.error) throw target.error;
    rows.push([target.name ?? '', target.hz.toPrecision(3), `±${target.stats.rme.toFixed(0)} %`]);
  });
  suite.run();
  return markdownTable(['function', 'times a second', 'error'], rows);
}
