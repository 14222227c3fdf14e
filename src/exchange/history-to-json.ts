import { checkHistory, type EditHistory, type RecordedEdit } from '../regions/history.js';
import type { RegionList } from '../regions/region.js';
import { rangeError } from '../signal/check.js';
import { HISTORY_FORMAT, HISTORY_FORMAT_VERSION, MOST_REPLAYED } from './history-format.js';
import { MOST_CHARACTERS_IN_FILE, MOST_JSON_SHAPE } from './region-format.js';
import { jsonText, regionsToJson } from './regions-to-json.js';

/**
 * An edit history as the text of a history file: JSON (RFC 8259) with the present list as a whole region file and each
 * edit as the step that leads away from the present: the ids that go, and a region file with those that come in their
 * place. So an edit of one region in 50,000 adds one region line, and `historyFromJson` gives the history back exactly.
 *
 * @param history a history; its lists are checked, so that what is written can be read
 * @returns the text, to be stored as UTF-8 without a byte-order mark, a line feed at the end
 * @throws RangeError or TypeError where a list breaks a rule of `checkRegionList` or the text would be too large to be read:
 * longer than MOST_CHARACTERS_IN_FILE, with more objects and arrays than MOST_JSON_SHAPE says, or with more
 * regions times edits than MOST_REPLAYED
 *
 * @example
 * import { createRegionList, startHistory } from 'lenition/regions';
 * import { historyFromJson, historyToJson } from 'lenition/exchange';
 * const history = startHistory(createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 }));
 * const result = historyFromJson(historyToJson(history));
 * result.ok && result.value.maxEdits; // => 200
 */
export function historyToJson(history: EditHistory): string {
  checkHistory('historyToJson', history);
  const { past, present, future, maxEdits } = history;
  const edits = [...past, ...future];
  const written = past.map((edit) => edit.before).concat(future.map((edit) => edit.after));
  const regions = written.reduce((sum, list) => sum + list.regions.length, present.regions.length);
  // An edit has four of its own (itself, its ids, its region file, that one's array), a region at most four.
  const containers = 4 * regions + 4 * edits.length + 5;
  if (containers > MOST_JSON_SHAPE.containers)
    throw rangeError('historyToJson', 'history', 'must hold fewer regions and edits', regions);
  if (present.regions.length * edits.length > MOST_REPLAYED)
    throw rangeError('historyToJson', 'history', 'must hold fewer edits for so many regions', edits.length);
  const text = `{
  "format": ${jsonText(HISTORY_FORMAT)},
  "version": ${HISTORY_FORMAT_VERSION},
  "maxEdits": ${jsonText(maxEdits)},
  "present": ${nested(present)},
  "past": ${arrayText(past.map((edit) => stepText(edit, edit.after, edit.before)))},
  "future": ${arrayText(future.map((edit) => stepText(edit, edit.before, edit.after)))}
}
`;
  if (text.length > MOST_CHARACTERS_IN_FILE)
    throw rangeError(
      'historyToJson',
      'history',
      `must give at most ${MOST_CHARACTERS_IN_FILE} characters`,
      text.length,
    );
  return text;
}

function stepText({ label }: RecordedEdit, from: RegionList, to: RegionList): string {
  const ids = from.regions.map((region) => jsonText(region.id)).join(', ');
  return `{ "label": ${jsonText(label)}, "remove": [${ids}], "insert": ${nested(to)} }`;
}

/** A region file inside of another: labels hold no line ends, so each line can be indented. */
function nested(list: RegionList): string {
  return regionsToJson(list).trimEnd().replaceAll('\n', '\n  ');
}

function arrayText(items: readonly string[]): string {
  return items.length === 0 ? '[]' : `[\n  ${items.join(',\n  ')}\n  ]`;
}
