import * as x from '../../../src/exchange/index.js';
import { checkRegionList, type RegionList } from '../../../src/regions/index.js';
import { checkValue } from '../lib/check-value.js';
import { must } from '../lib/failure.js';
import { type Form, type Forms, form } from '../lib/form.js';
import type { Random } from '../lib/random-tools.js';
import { damagedText } from './hostile-bytes.js';
import { enormous, shuffled, swapped } from './hostile-text.js';
import { pooled, soundChain, soundHistory, soundList } from './sound-lists.js';

const JSON_PATH = /^\$/;
const LINE_PATH = /^(\$$|line \d+($|, [a-zA-Z]))/;
const CLIP = { sampleRateHz: 48000, lengthSamples: 480000 };

/** Hostile texts of one form: parts swapped, lines shuffled, bytes damaged, made up from a palette, and rarely enormous. */
function hostile(sound: (random: Random) => string, palette: readonly string[]): (random: Random) => string {
  const pool = pooled(sound);
  return (random) => {
    if (random.oneIn(500)) return enormous(pool(random), random);
    const way = random.below(10);
    if (way === 0 && !random.oneIn(3)) return madeUp(palette, random);
    let text = pool(random);
    // A few stay sound, under other line ends, so that reading to the end is tried too.
    if (way === 0) text = text.replaceAll('\n', random.pick(['\n', '\r\n', '\r']));
    else if (way < 5) text = swapped(text, random);
    if (way === 4 || way === 5) text = shuffled(text, random);
    if (way >= 6) text = damagedText(text, random);
    return random.oneIn(50) ? random.pick(['\uFEFF', '\uFEFF\uFEFF', '\0', '\n', ' ']) + text : text;
  };
}

function madeUp(palette: readonly string[], random: Random): string {
  let text = random.oneIn(4) ? '' : palette[0]!;
  for (let count = random.below(14); count > 0; count--)
    text += random.pick(['\n', '\n', '\n\n', '\r\n', '\r', '']) + random.pick(palette);
  return text;
}

/** A list that was read keeps every rule, is frozen, holds nothing of a prototype, and reads the same once more. */
function checkList(list: RegionList): void {
  checkRegionList(list);
  checkValue(list, { frozen: true });
  for (const region of list.regions)
    must(Object.getPrototypeOf(region) === Object.prototype, 'a region must be a plain object', region);
  const again = x.regionsFromJson(x.regionsToJson(list));
  must(
    again.ok && again.value.regions.length === list.regions.length,
    'what was read must be written and read',
    list,
  );
}

const json: readonly string[] = [
  '{"format":"lenition.regions","version":1',
  '"regions":[',
  '{',
  '}',
  ']',
  ',',
  '"id":1',
  '"__proto__":{}',
  ':',
  '1e999',
  'null',
  '"nextId":4',
];
const vtt: readonly string[] = [
  'WEBVTT lenition.regions.webvtt 1 sampleRateHz=48000 lengthSamples=480000 nextId=4',
  'WEBVTT',
  '-->',
  'WEBVTT -->',
  '00:00:00.100 --> 00:00:00.200',
  '00:00:00.100 --> 00:00:00.200 -->',
  '00:00.100-->00:00.200 align:start',
  '00:01.000 --> 00:00.200',
  '99999999999:00.000 --> 999999999999:00.000',
  'NOTE',
  'NOTE -->',
  'STYLE',
  'REGION',
  '1',
  '__proto__',
  '{"kind":"sibilant","gainDb":-6}',
  '{"__proto__":{"polluted":true}}',
  'sibilant -6 dB',
  '<v x>ss</v>',
  '&lt;&amp;',
  '\0',
];

const text = (parts: Parameters<typeof form<string, RegionList>>[0]): Form => form(parts);

/** Forms that are text. */
export const TEXT_FORMS: Forms = {
  'regions JSON': text({
    make: hostile((random) => x.regionsToJson(soundList(random)), json),
    read: x.regionsFromJson,
    check: (list) => {
      checkList(list);
      const again = x.regionsFromJson(x.regionsToJson(list));
      // The order of the numbers of a reason is the writer's own.
      must(
        again.ok && x.regionsToJson(again.value) === x.regionsToJson(list),
        'must read the same once more',
      );
    },
    path: JSON_PATH,
    weight: 2,
  }),
  'history JSON': form({
    make: hostile(
      (random) => x.historyToJson(soundHistory(random)),
      [...json, '"past":[', '"remove":[1]', '"insert":'],
    ),
    read: x.historyFromJson,
    check: (history) => {
      checkValue(history, { frozen: true });
      must(x.historyFromJson(x.historyToJson(history)).ok, 'what was read must be written and read');
    },
    path: JSON_PATH,
  }),
  'chain JSON': form({
    make: hostile(
      (random) => x.chainToJson(soundChain(random)),
      ['{"format":"lenition.chain","version":1', '"stages":[', ...json.slice(2)],
    ),
    read: x.chainFromJson,
    check: (chain) => {
      checkValue(chain, { frozen: true });
      must(x.chainFromJson(x.chainToJson(chain)).ok, 'what was read must be written and read', chain);
    },
    path: JSON_PATH,
  }),
  'region table': text({
    make: hostile(
      (random) => x.regionsToTable(soundList(random)),
      [
        '# lenition.regions.table 1 sampleRateHz=48000 lengthSamples=480000 nextId=4',
        '0.1\t0.2\tss',
        '0.1\t0.2',
        '\t\t\t',
        '"0.1"\t"0,2"\t"a""b"',
        '\\u0000',
        '#',
        'startSeconds\tendSeconds\tlabel',
        '-1\tNaN\tx',
        '1e999\t2e999\t',
      ],
    ),
    read: (table) => x.regionsFromTable(table, CLIP),
    check: checkList,
    path: LINE_PATH,
    weight: 2,
  }),
  WebVTT: text({
    make: hostile(
      (random) => x.regionsToWebVtt(soundList(random), { payload: random.pick(['text', 'metadata']) }),
      vtt,
    ),
    read: (file) => x.regionsFromWebVtt(file, CLIP),
    check: checkList,
    path: LINE_PATH,
    weight: 2,
  }),
  'gain CSV': form({
    make: hostile(
      (random) => {
        const list = soundList(random);
        const plain = list.regions.map(({ band: _, ...rest }) => rest);
        return x.gainToCsv({ ...list, regions: plain }, { errorDb: 1 });
      },
      [
        'seconds,sample,gainDb,law',
        '0,0,0,decibel',
        '0.5,24000,-6,linear',
        '"0","0","0","decibel"',
        ',,,',
        '"',
        '""',
        '0,0,NaN,x',
        '1,9007199254740993,0,linear',
      ],
    ),
    read: (csv) => x.gainFromCsv(csv, CLIP),
    check: (points) => {
      checkValue(points, { frozen: true });
      must(points.length > 0, 'must hold a point');
      for (const { sample } of points)
        must(Number.isFinite(x.breakpointGainAt(points, sample)), 'must be played', sample);
    },
    path: LINE_PATH,
  }),
};
