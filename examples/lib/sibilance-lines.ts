import { summariseTake } from '../../src/gain/summarise-take.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { overCutFlags } from '../../src/levels/over-cut-flags.js';
import type { RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { clock } from './format-table.js';

/** Most flagged regions that are listed one by one. */
const MOST_LISTED = 5;

/** Lines on how far the sibilants of a take are spread, before and after, and on those that may be cut too far. */
export function sibilanceLines(channels: readonly Samples[], list: RegionList): string[] {
  const levels = measureLevels(channels, list, { kinds: ['sibilant', 'fricative'] });
  const flags = overCutFlags(list, levels);
  const { before, after } = summariseTake(list, levels, { flags });
  if (before === null || after === null) return [];
  const spread = `  sibilance, softest to loudest tenth: ${before.p10Db.toFixed(1)} to ${before.p90Db.toFixed(1)} dB, now ${after.p10Db.toFixed(1)} to ${after.p90Db.toFixed(1)} dB`;
  const change =
    before.spreadDb > 0
      ? ` (a spread of ${before.spreadDb.toFixed(1)} dB, now ${after.spreadDb.toFixed(1)})`
      : '';
  return [`${spread}${change}`, ...flagLines(list, flags)];
}

function flagLines(list: RegionList, flags: ReturnType<typeof overCutFlags>): string[] {
  if (flags.length === 0) return ['  no cut goes below the level at which this voice may lisp'];
  const starts = new Map(list.regions.map((region) => [region.id, region.onsetSample ?? region.startSample]));
  const listed = flags
    .slice(0, MOST_LISTED)
    .map(({ id }) => clock((starts.get(id) as number) / list.sampleRateHz));
  const rest = flags.length > MOST_LISTED ? ` and ${flags.length - MOST_LISTED} more` : '';
  return [
    `  listen for a lisp: ${flags.length} cut${flags.length === 1 ? '' : 's'} may make an s sound like th, at ${listed.join(', ')}${rest}`,
  ];
}
