/** Makes the pictures of the README and the guides: the demonstration's lead, its stack, a forecast, and one for each way of deciding gains. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { makeDemonstration } from '../examples/lib/demo/make-demonstration.js';
import { UNCERTAIN_BELOW } from '../examples/lib/file-summary.js';
import { forecastRise } from '../src/forecast/forecast-rise.js';
import { fixedCut } from '../src/gain/fixed-cut.js';
import { measureLevels } from '../src/levels/measure-levels.js';
import { drawForecast } from '../src/picture/draw-forecast.js';
import { drawStack } from '../src/picture/draw-stack.js';
import { drawTake } from '../src/picture/draw-take.js';
import { groupEvents } from '../src/takes/group-events.js';
import { holdSum } from '../src/takes/hold-sum.js';
import type { Take } from '../src/takes/take.js';
import { FIGURE_CHAIN as chain, decisionFigures, foundStack } from './lib/decision-figures.js';

const FOLDER = fileURLToPath(new URL('../docs/pictures/', import.meta.url));

const { sampleRateHz, takes } = makeDemonstration();
const found = foundStack(takes, sampleRateHz);
const stack = found.map((take) => ({ ...take, list: fixedCut(take.list) }));
const [lead] = stack as [Take];
mkdirSync(FOLDER, { recursive: true });

const name = `demonstration-${lead.id}.wav`;
write('demonstration', drawTake(lead.channels, lead.list, { name, minConfidence: UNCERTAIN_BELOW }));

const groups = groupEvents(stack, { kinds: ['sibilant'] });
const levels = new Map(stack.map(({ id, channels, list }) => [id, measureLevels(channels, list)]));
write('stack', drawStack(holdSum(stack, groups, { levels }), groups, { name: `stack of ${name}` }));

const kinds = ['sibilant'] as const;
const forecast = forecastRise(lead.channels, lead.list, chain, { kinds });
write(
  'forecast',
  drawForecast(lead.list, forecast, { name, title: `Forecast: ${chain.name}`, targetDb: -3 }),
);

for (const figure of decisionFigures(found)) write(figure.name, figure.svg);

function write(picture: string, svg: string): void {
  writeFileSync(`${FOLDER}${picture}.svg`, svg);
  console.log(`wrote docs/pictures/${picture}.svg: ${svg.length} characters`);
}
