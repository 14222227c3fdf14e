/** Makes the pictures of the README: the demonstration's lead, its stack and a forecast, treated as `npm start` does it. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { makeDemonstration } from '../examples/lib/demo/make-demonstration.js';
import { UNCERTAIN_BELOW } from '../examples/lib/file-summary.js';
import { detectConsonants } from '../src/detection/detect-consonants.js';
import type { Chain } from '../src/forecast/chain.js';
import { forecastRise } from '../src/forecast/forecast-rise.js';
import { CHAIN_PRESETS } from '../src/forecast/presets.js';
import { fixedCut } from '../src/gain/fixed-cut.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { measureLevels } from '../src/levels/measure-levels.js';
import { drawForecast } from '../src/picture/draw-forecast.js';
import { drawStack } from '../src/picture/draw-stack.js';
import { drawTake } from '../src/picture/draw-take.js';
import { groupEvents } from '../src/takes/group-events.js';
import { holdSum } from '../src/takes/hold-sum.js';
import type { Take } from '../src/takes/take.js';

const FOLDER = fileURLToPath(new URL('../docs/pictures/', import.meta.url));

const { sampleRateHz, takes } = makeDemonstration();
const stack = takes.map(({ name, samples }): Take => {
  const found = detectConsonants(samples, { sampleRateHz });
  return {
    id: name,
    channels: samples,
    list: fixedCut(placeEdges(found, samples)),
    offsetSamples: 0,
    gainDb: 0,
  };
});
const [lead] = stack as [Take];
mkdirSync(FOLDER, { recursive: true });

const name = `demonstration-${lead.id}.wav`;
write('demonstration', drawTake(lead.channels, lead.list, { name, minConfidence: UNCERTAIN_BELOW }));

const groups = groupEvents(stack, { kinds: ['sibilant'] });
const levels = new Map(stack.map(({ id, channels, list }) => [id, measureLevels(channels, list)]));
write('stack', drawStack(holdSum(stack, groups, { levels }), groups, { name: `stack of ${name}` }));

const chain = CHAIN_PRESETS.find((preset) => preset.name === 'forward and bright') as Chain;
const kinds = ['sibilant'] as const;
const forecast = forecastRise(lead.channels, lead.list, chain, { kinds });
write(
  'forecast',
  drawForecast(lead.list, forecast, { name, title: `Forecast: ${chain.name}`, targetDb: -3 }),
);

function write(picture: string, svg: string): void {
  writeFileSync(`${FOLDER}${picture}.svg`, svg);
  console.log(`wrote docs/pictures/${picture}.svg: ${svg.length} characters`);
}
