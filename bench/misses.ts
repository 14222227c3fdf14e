/**
 * Writes the tables of docs/misses.md anew: every event behind the figures that fall short, with what was seen there. What was looked at
 * before keeps its verdict where the event is found in the same place. `--help` lists the options.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { loadCorpus } from './lib/corpus.js';
import { carriedVerdicts, NOT_LOOKED_AT } from './lib/misses/carried-verdicts.js';
import { type ErrorRow, listedRows } from './lib/misses/listed-rows.js';
import { sectionTable, withTable } from './lib/misses/section-table.js';
import { voicedCutPlaces } from './lib/misses/voiced-cut-places.js';
import { isReleasedIntoSibilant } from './lib/released-into-sibilant.js';
import { type ClipDetector, scoreClips } from './lib/score-folder.js';
import { markdownTable } from './lib/table.js';

const HELP = `npm run bench:misses -- --errors DIR [options]

  --errors DIR   lists of events that \`npm run bench:held-out -- --errors DIR\` wrote
  --corpus DIR   folder of folders of NAME.wav + NAME.tsv (default ../shared/corpus)
  --file FILE    page whose tables are written anew (default docs/misses.md)`;

const { values: options } = parseArgs({
  options: {
    errors: { type: 'string' },
    corpus: { type: 'string', default: '../shared/corpus' },
    file: { type: 'string', default: 'docs/misses.md' },
    help: { type: 'boolean', default: false },
  },
});

if (options.help) console.log(HELP);
else if (options.errors === undefined) {
  console.error('--errors DIR: which lists of events? See --help.');
  process.exitCode = 1;
} else main(options.errors, options.corpus, options.file);

function main(errors: string, corpus: string, file: string): void {
  const rowsOf = (folder: string, what: string): readonly ErrorRow[] =>
    listedRows(readFileSync(join(errors, `${folder}.tsv`), 'utf8'), what);
  let text = readFileSync(file, 'utf8');
  for (const folder of ['an4', 'pjs_singing'])
    text = withVerdicts(
      text,
      `Wrong place, ${folder}`,
      ['clip', 'at s', 'found', 'ms', 'confidence', 'between', 'voice dB'],
      rowsOf(folder, 'wrong place').map((row) => [
        row.clip,
        row.start,
        row.kind,
        (1000 * (Number(row.end) - Number(row.start))).toFixed(0),
        row.confidence,
        row.between.join(' · ').trim(),
        row.voiceDb,
      ]),
    );
  text = withVoicedCut(text, corpus, 'kathleen_en48k');
  const stops = rowsOf('an4', 'stop missed');
  const clips = new Map(loadCorpus(join(corpus, 'an4')).map((clip) => [clip.name, clip]));
  const alone = stops.filter(({ clip, start }) => {
    const labels = clips.get(clip)?.labels ?? [];
    const stop = labels.find(({ startSeconds }) => startSeconds.toFixed(3) === start);
    return stop === undefined || !isReleasedIntoSibilant(labels, stop);
  });
  console.log(`\nt and k missed in an4: ${stops.length}, ${stops.length - alone.length} of them before an s`);
  text = withVerdicts(
    text,
    't and k',
    ['clip', 'from s', 'to s', 'phone', 'after'],
    alone.map((row) => [row.clip, row.start, row.end, row.phone, row.between[0]]),
  );
  writeFileSync(file, text);
}

/** The text with new rows in the table under a heading, and the verdicts of the old ones. Says how many there are of each. */
function withVerdicts(
  text: string,
  heading: string,
  columns: readonly string[],
  rows: readonly (readonly string[])[],
): string {
  const table = sectionTable(text, heading, 'clip');
  const place = (cells: readonly string[]) => ({ clip: cells[0] ?? '', seconds: Number(cells[1]) });
  const verdicts = carriedVerdicts(
    rows.map(place),
    table.rows.map((cells) => ({ ...place(cells), verdict: cells.at(-1) ?? NOT_LOOKED_AT })),
  );
  const counts = new Map<string, number>();
  for (const verdict of verdicts) counts.set(verdict, (counts.get(verdict) ?? 0) + 1);
  console.log(`\n${heading}: ${rows.length}, before ${table.rows.length}`);
  for (const [verdict, count] of [...counts].sort((a, b) => b[1] - a[1]))
    console.log(`  ${verdict}: ${count}`);
  for (const [i, row] of rows.entries())
    if (verdicts[i] === NOT_LOOKED_AT) console.log(`  not looked at: ${row.join('  ')}`);
  const written = rows.map((row, i) => [...row, verdicts[i] as string]);
  return withTable(text, table, markdownTable([...columns, 'looked at'], written));
}

/** The text with the places of the shipped detector. */
function withVoicedCut(text: string, corpus: string, folder: string): string {
  const clips = loadCorpus(join(corpus, folder));
  const detect: ClipDetector = ({ channels, sampleRateHz }) =>
    detectConsonants(channels, { sampleRateHz }).regions;
  const places = voicedCutPlaces(scoreClips(folder, clips, detect));
  const heading = `Voiced sound cut, ${folder}`;
  const ms = (seconds: number): string => (1000 * seconds).toFixed(0);
  const sum = (of: (place: (typeof places)[number]) => number): string =>
    ms(places.reduce((total, place) => total + of(place), 0));
  const far = places.filter(({ soundingSeconds }) => soundingSeconds > 0.02).length;
  console.log(
    `\n${heading}: ${places.length} places, ${sum((p) => p.cutSeconds)} ms, ${sum((p) => p.soundingSeconds)} ms sounding, ${far} over 20 ms`,
  );
  const rows = places.map((p) => [
    p.clip,
    p.startSeconds.toFixed(3),
    p.kind,
    ms(p.cutSeconds),
    ms(p.soundingSeconds),
  ]);
  const table = sectionTable(text, heading, 'clip');
  return withTable(text, table, markdownTable(['clip', 'at s', 'found', 'cut ms', 'sounding ms'], rows));
}
