import type { RegionList } from '../regions/region.js';
import { visitListBreaches } from '../regions/region-rules.js';
import { describe } from '../signal/check.js';
import { versionRule } from './at-current-version.js';
import { numberFromText } from './number-from-text.js';
import type { NoteProblem } from './parse-json.js';
import { jsonText } from './regions-to-json.js';
import type { TextLine } from './text-lines.js';

/** What a list says beside its regions. */
export type ListHead = Omit<RegionList, 'regions'>;

/** Longest head line: far more than the longest that is written, with tabs that a spreadsheet adds. */
const MOST_CHARACTERS_IN_HEAD = 1000;

/** The head of a list on one line: the name of the format, its version, and the numbers of the list as name=value. */
export function headText(format: string, version: number, list: RegionList): string {
  const { sampleRateHz, lengthSamples, nextId } = list;
  const numbers = Object.entries({ sampleRateHz, lengthSamples, nextId });
  return [format, version, ...numbers.map(([name, value]) => `${name}=${jsonText(value)}`)].join(' ');
}

/** True: the text begins a head of this format, whatever its version. */
export function isHead(text: string, format: string): boolean {
  return text.startsWith(format) && /^(?:$|[ \t])/.test(text.slice(format.length, format.length + 1));
}

/** The head that `headText` wrote; undefined where a problem was noted. Names that it does not know are passed over. */
export function readHead(
  { text, number }: TextLine,
  format: string,
  version: number,
  note: NoteProblem,
): ListHead | undefined {
  if (text.length > MOST_CHARACTERS_IN_HEAD) {
    note(`line ${number}`, `must be at most ${MOST_CHARACTERS_IN_HEAD} characters long`, String(text.length));
    return undefined;
  }
  const [versionText = '', ...pairs] = text
    .slice(format.length)
    .trim()
    .split(/[ \t]+/);
  const written = numberFromText(versionText);
  if (written !== version) {
    note(`line ${number}, version`, versionRule(written, version), describe(written));
    return undefined;
  }
  const values = new Map(pairs.map((pair) => [pair.split('=', 1)[0], pair.slice(pair.indexOf('=') + 1)]));
  const numberNamed = (name: keyof ListHead): number | string | undefined => {
    const value = values.get(name);
    return value === undefined ? undefined : numberFromText(value);
  };
  const head: unknown = {
    sampleRateHz: numberNamed('sampleRateHz'),
    lengthSamples: numberNamed('lengthSamples'),
    nextId: numberNamed('nextId'),
    regions: [],
  };
  const sound = visitListBreaches(head, '$', (path, rule, received) =>
    note(`line ${number}, ${path.slice(2)}`, rule, describe(received)),
  );
  return sound ? head : undefined;
}
