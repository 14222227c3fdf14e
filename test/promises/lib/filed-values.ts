import type { Chain } from '../../../src/forecast/chain.js';
import type { EditHistory } from '../../../src/regions/history.js';
import type { Region, RegionList } from '../../../src/regions/region.js';
import { FILED_LIST } from '../../exchange/text-form-checks.js';

const [, burst] = FILED_LIST.regions as readonly [Region, Region];
/** The list's own figures with the regions that an edit touched. */
const touched = (regions: readonly Region[], nextId = FILED_LIST.nextId): RegionList => ({
  ...FILED_LIST,
  nextId,
  regions,
});

/** What version-1.history holds, written out by hand: the burst was marked; that it was bypassed was undone. */
export const FILED_HISTORY: EditHistory = {
  past: [{ label: 'mark', before: touched([], 3), after: touched([burst]) }],
  present: FILED_LIST,
  future: [
    { label: 'bypass “it”', before: touched([burst]), after: touched([{ ...burst, bypassed: true }]) },
  ],
  maxEdits: 150,
};

/** What version-1.chain holds, written out by hand: a stage of each kind. */
export const FILED_CHAIN: Chain = {
  name: 'kept “as it was”',
  stages: [
    { kind: 'equaliser', name: 'top', filters: [{ kind: 'highShelf', frequencyHz: 8000, gainDb: 3 }] },
    {
      kind: 'compressor',
      thresholdDb: -20.5,
      ratio: 4,
      kneeDb: 6,
      attackSeconds: 0.005,
      releaseSeconds: 0.1,
      detector: 'peak',
    },
    { kind: 'saturation', curve: 'tanh', driveDb: 6 },
  ],
};
