import type { PackedWeights } from '../../src/detection/packed-weights.js';
import type { PackedModel } from './packed-model.js';

/** The text of src/detection/consonant-weights.ts; `origin` has the lines that say where the numbers come from. */
export function weightsSource(model: PackedModel, origin: readonly string[]): string {
  const { channelCount, kernelFrames, dilations, frameStep, hiddenCount } = model.shape;
  return `import type { PackedWeights } from './packed-weights.js';

/*
${origin.map((line) => ` * ${line}`).join('\n')}
 */

/** Shape of the networks. */
export const MODEL_SHAPE: {
  readonly channelCount: number;
  readonly kernelFrames: number;
  readonly dilations: readonly number[];
  readonly frameStep: number;
  readonly hiddenCount: number;
} = Object.freeze({
  channelCount: ${channelCount},
  kernelFrames: ${kernelFrames},
  dilations: Object.freeze([${dilations.join(', ')}]),
  frameStep: ${frameStep},
  hiddenCount: ${hiddenCount},
});

${packed('FRAME_WEIGHTS', 'All weights of the network for frames.', model.frameWeights)}
${packed('EVENT_MEANS', 'Mean of each measure of an event.', model.eventMeans)}
${packed('EVENT_SPREADS', 'Spread of each measure of an event.', model.eventSpreads)}
${packed('EVENT_WEIGHTS', 'All weights of the network for events.', model.eventWeights)}`;
}

/** Widest line that the formatter leaves alone. */
const LINE_WIDTH = 110;

function packed(name: string, text: string, weights: PackedWeights): string {
  const line = `  digits: '${weights.digits}',`;
  const digits = line.length <= LINE_WIDTH ? line : `  digits:\n    '${weights.digits}',`;
  return `/** ${text} */
export const ${name}: PackedWeights = Object.freeze({
  step: ${weights.step},
${digits}
});
`;
}
