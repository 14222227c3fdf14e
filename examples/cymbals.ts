/** Finds the strokes on a synthesised hi-hat and crash track and brings the loud ones down along their decay. */
import { detectCymbals } from '../src/detection/detect-cymbals.js';
import { renderGain } from '../src/gain/render-gain.js';
import { tameCymbals } from '../src/gain/tame-cymbals.js';
import { makeCymbalTrack } from './lib/demo/cymbals.js';

const { samples, sampleRateHz, truth, drums } = makeCymbalTrack({ seed: 3 });
const found = detectCymbals(samples, { sampleRateHz });
const tamed = tameCymbals(found, samples);
const out = renderGain(samples, tamed);

const seconds = (count: number): number => count / sampleRateHz;
const near = (sample: number, other: number): boolean => Math.abs(seconds(sample - other)) < 0.02;
const heard = truth.filter(({ masked }) => !masked);
const hits = heard.filter((entry) =>
  found.regions.some(({ onsetSample }) => near(onsetSample ?? -sampleRateHz, entry.startSample)),
).length;
const alone = drums.filter((drum) => drum.alone);
const taken = alone.filter(({ sample }) =>
  found.regions.some(({ onsetSample }) => near(onsetSample ?? -sampleRateHz, sample)),
).length;

console.log(`${seconds(samples.length).toFixed(0)} s of hi-hat and crash: ${truth.length} strokes`);
console.log(
  `${heard.length} of them stand out of the rings beneath them; found ${found.regions.length}, right ${hits}`,
);
console.log(`drums that leak in alone: ${alone.length}, taken for a cymbal: ${taken}`);
console.log('');
console.log('at s    lasts ms   dB over median   cut dB   back over ms');
for (const region of tamed.regions.slice(0, 14)) {
  const { levelDbfs = 0, medianDbfs = 0 } = region.reason.numbers;
  const onset = region.onsetSample ?? region.startSample;
  const lasts = 1000 * seconds((region.offsetSample ?? region.endSample) - onset);
  console.log(
    [
      seconds(onset).toFixed(2).padStart(4),
      lasts.toFixed(0).padStart(8),
      (levelDbfs - medianDbfs).toFixed(1).padStart(12),
      region.gainDb.toFixed(1).padStart(9),
      (1000 * seconds(region.fadeOutSamples)).toFixed(0).padStart(11),
    ].join('  '),
  );
}
const cut = tamed.regions.filter(({ gainDb }) => gainDb < 0);
const changed = out.filter((x, i) => x !== samples[i]).length;
console.log('');
console.log(
  `${cut.length} of ${tamed.regions.length} strokes cut; ${((100 * changed) / out.length).toFixed(0)} % of the samples changed`,
);
