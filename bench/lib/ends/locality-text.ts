import { HOP_SECONDS, SLOT_FRAMES } from '../../../src/detection/detection-scale.js';
import { markdownTable } from '../table.js';
import type { LocalityRow } from './locality.js';

const SLOT_SECONDS = SLOT_FRAMES * HOP_SECONDS;
const share = (value: number | null | undefined): string => value?.toFixed(3) ?? '–';

function reachText(slots: number | undefined): string {
  return slots === undefined ? 'all' : (slots * SLOT_SECONDS).toFixed(1);
}

/** Strict F1 of each folder for each reach: clips by themselves / as one recording. */
export function localityTable(rows: readonly LocalityRow[]): string {
  const folders = [...(rows[0]?.alone.folderF1.keys() ?? [])];
  return markdownTable(
    ['references', 'back s', 'ahead s', ...folders, 'all'],
    rows.map(({ name, reach, alone, joined }) => [
      name,
      reachText(reach?.pastSlots),
      reachText(reach?.aheadSlots),
      ...folders.map(
        (folder) => `${share(alone.folderF1.get(folder))} / ${share(joined.folderF1.get(folder))}`,
      ),
      `${share(alone.figures.strictF1)} / ${share(joined.figures.strictF1)}`,
    ]),
  );
}

/** What locality costs, in words made of the figures. */
export function localityText(rows: readonly LocalityRow[]): string {
  const find = (name: string): LocalityRow | undefined => rows.find((row) => row.name === name);
  const [own, whole] = [find('as it is'), find('whole recording')];
  if (own === undefined || whole === undefined) return '';
  const difference = (pick: (row: LocalityRow) => number | null): string => {
    const points = 100 * ((pick(whole) ?? 0) - (pick(own) ?? 0));
    return `${points >= 0 ? '+' : '−'}${Math.abs(points).toFixed(1)}`;
  };
  return `Hearing the whole recording before judging any of it changes strict F1 by ${difference((row) => row.alone.figures.strictF1)} points on the clips by
themselves and by ${difference((row) => row.joined.figures.strictF1)} points where the clips of a folder are one recording of a minute.`;
}
