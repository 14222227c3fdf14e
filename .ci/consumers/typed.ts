// What a strict TypeScript user writes; compiled as an ES module, as CommonJS and for a bundler, and not run.
import { detectConsonants, fixedCut, placeEdges, type Region, renderGain, type Samples } from 'lenition';
import { createConsonantDetector, type DetectionOptions } from 'lenition/detection';
import { errorRates, eventScores, type SoundEvent } from 'lenition/evaluation';
import { type Result, regionsFromJson, regionsToJson } from 'lenition/exchange';
import { analyse } from 'lenition/features';
import { type Chain, type Forecast, forecastRise } from 'lenition/forecast';
import { createGainRenderer, removedSignal } from 'lenition/gain';
import { measureLevels } from 'lenition/levels';
import { drawTake } from 'lenition/picture';
import { createRegionList, insertRegion, type RegionList } from 'lenition/regions';
import { type Channels, rmsDbfs } from 'lenition/signal';
import { type Engine, simdEngine } from 'lenition/simd';
import { groupEvents, type Take } from 'lenition/takes';

// Audio comes typed in two ways: new arrays carry their buffer's type from TypeScript 5.7 on, and functions
// that say Float32Array alone mean any buffer.
const own = new Float32Array(96000);
declare function decode(): Float32Array;
const plain = decode();

const ownSamples: Samples = own;
const plainSamples: Samples = plain;
const stereo: Channels = [own, plain];

const options: DetectionOptions = { sampleRateHz: 48000 };
const found: RegionList = detectConsonants(stereo, options);
const list: RegionList = fixedCut(placeEdges(found, stereo), { gainDb: -6 });
const fromOwn: Float32Array = renderGain(own, list);
const fromPlain: Float32Array = renderGain(plain, list);
const both: Float32Array[] = renderGain([own, plain], list);
const copied: Float32Array = removedSignal(plain, list);

const engine: Engine = simdEngine();
const detector = createConsonantDetector({ ...options, engine });
const live: readonly Region[] = [...detector.push(plain), ...detector.flush()];
const renderer = createGainRenderer(list, { startSample: 0 });
renderer.pushInto([own, plain], [own, plain]);

const marked = insertRegion(createRegionList({ sampleRateHz: 48000, lengthSamples: 96000 }), {
  kind: 'sibilant',
  startSample: 0,
  endSample: 480,
});
const parsed: Result<RegionList> = regionsFromJson(regionsToJson(marked));
const problem: string = parsed.ok ? '' : `${parsed.problems[0]?.path} ${parsed.problems[0]?.rule}`;

const level: number | undefined = measureLevels(plain, list).byId.get(1)?.rmsDbfs;
const loudness: number = rmsDbfs(plain);
const column: ArrayLike<number> = analyse(plain, { sampleRateHz: 48000, features: ['levelDb'] }).columns
  .levelDb;
const takes: readonly Take[] = [{ id: 'lead', channels: plain, list, offsetSamples: 0, gainDb: 0 }];
const groups: number = groupEvents(takes).length;
const chain: Chain = {
  stages: [{ kind: 'equaliser', filters: [{ kind: 'highShelf', frequencyHz: 3000, gainDb: 4 }] }],
};
const forecast: Forecast = forecastRise(plain, list, chain);
const events: readonly SoundEvent[] = [{ startSeconds: 0, endSeconds: 0.1, label: 's' }];
const score: number | null = errorRates(eventScores(events, events)).fMeasure;
const svg: string = drawTake(plain, list, { name: 'take' });

// What must not compile. A result of type any would let each of these pass.
// @ts-expect-error a list is no audio
renderGain(list, list);
// @ts-expect-error a region is not changed in place
if (marked.regions[0] !== undefined) marked.regions[0].gainDb = -6;
// @ts-expect-error there is no such kind
insertRegion(marked, { kind: 'vowel', startSample: 0, endSample: 480 });
// @ts-expect-error the sample rate is never left to chance
detectConsonants(own, {});
// @ts-expect-error the value is there only where the text was read
parsed.value;
// @ts-expect-error a picture is a string
drawTake(own, list).x;

export {
  both,
  column,
  copied,
  forecast,
  fromOwn,
  fromPlain,
  groups,
  level,
  live,
  loudness,
  ownSamples,
  plainSamples,
  problem,
  score,
  svg,
};

// What the library makes goes into Web Audio, whose types ask from TypeScript 5.9 on for an array with a buffer of its own.
const webAudio: ReturnType<Float32Array['slice']>[] = [
  renderGain(plain, list),
  ...renderGain([own, plain], list),
  removedSignal(plain, list),
];

export { webAudio };
