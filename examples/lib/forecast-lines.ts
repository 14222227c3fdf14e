import type { Chain } from '../../src/forecast/chain.js';
import { type Forecast, forecastRise } from '../../src/forecast/forecast-rise.js';
import { keyedSpread } from '../../src/forecast/keyed-spread.js';
import type { RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { clock, shown } from './format-table.js';

const CHOICE = { kinds: ['sibilant'] } as const;

/** What the mix chain will do to the sibilants of a take, gains included. */
export function forecastSibilants(channels: readonly Samples[], list: RegionList, chain: Chain): Forecast {
  return forecastRise(channels, list, chain, CHOICE);
}

/** Lines on a forecast. */
export function forecastLines(
  channels: readonly Samples[],
  list: RegionList,
  chain: Chain,
  { byId, stages, medianRiseDb }: Forecast,
): string[] {
  if (medianRiseDb === null) return [];
  const rises = list.regions.flatMap((region) => {
    const rise = byId.get(region.id);
    return rise?.riseDb == null || rise.afterDb === null ? [] : [{ region, ...rise, afterDb: rise.afterDb }];
  });
  const loudest = rises.reduce((most, rise) => (rise.afterDb > most.afterDb ? rise : most));
  const at = clock((loudest.region.onsetSample ?? loudest.region.startSample) / list.sampleRateHz);
  const { before, after } = keyedSpread(channels, list, undefined, CHOICE);
  return [
    `  through the chain${chain.name === undefined ? '' : ` "${shown(chain.name)}"`}: sibilants rise by ${medianRiseDb.toFixed(1)} dB in the median; the loudest stands ${loudest.afterDb.toFixed(1)} dB against its voice, at ${at}`,
    ...stages.map(({ statement }) => `    ${shown(statement)}`),
    ...(before === null || after === null
      ? []
      : [
          `  a later compressor that hears the sibilants alone would have to work over ${before.spreadDb.toFixed(1)} dB as recorded, over ${after.spreadDb.toFixed(1)} dB now`,
        ]),
  ];
}
