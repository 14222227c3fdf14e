import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Properties } from '../fuzz/lib/property.js';

/**
 * Functions whose last argument is an object but no settings: lists of regions, tables, histories and models, which may come from anywhere and
 * hold more; and drafts, which may be made from objects of an app.
 */
const DATA = `bandwidthWarnings checkRegionList chainSettingFor compressionGainAt convWeightCount createBandChange
  createBandGainRenderer createConvClassifier createGainRenderer drawForecast errorRates gainBreakpoints historyToJson
  insertRegion istft lastEdit markRange misplacement overlapSeconds redo regionsToCuePoints regionsToJson regionsToTable
  removedSignal renderGain renderGainBlockInto renderGainInto saturateValue segmentRates setBand settingsGrid
  sibilanceSpread undo whatChanged`;

/** Functions to which a whole region list or a filter may say what sound is meant, of which they read a field or two. */
const CLIPS = `bandPass chainFromJson createChainProcessor createRegionList filterSections frequencyResponse gainFromCsv
  highPass highShelf historyFromJson integratedLoudness kWeighting loudnessTrack lowPass lowShelf magnitudeResponseDb
  peaking periodicity regionsFromCuePoints regionsFromJson regionsFromTable regionsFromWebVtt runChain
  smoothingCoefficient spectralCentroid spectralFlatness spectralFlux spectralMoments spectralPeak spectralSpread stft`;

const PASSED_OVER = new Set(`${DATA} ${CLIPS}`.split(/\s+/));

/** Whether a value may be settings: fast-check makes records with a prototype and without. */
const isPlain = (value: unknown): value is object =>
  typeof value === 'object' &&
  value !== null &&
  [Object.prototype, null].includes(Object.getPrototypeOf(value));

type Call = (...args: unknown[]) => unknown;

/** Whether a call is taken: what is refused for another reason says nothing about its settings. */
function isTaken(call: Call, args: readonly unknown[]): boolean {
  try {
    call(...args);
    return true;
  } catch {
    return false;
  }
}

/**
 * Tests of a folder: that each of its functions which takes settings refuses one that it does not know. `count` keeps the walk from passing over
 * any: so many there were, looked through by name, when this was written.
 */
export function describeMisspelt(module: object, properties: Properties, count: number): void {
  const withSettings = Object.entries(module).flatMap(([name, call]) => {
    if (typeof call !== 'function' || PASSED_OVER.has(name)) return [];
    const draws = fc.sample(properties[name]?.sound ?? fc.constant([]), { seed: 7, numRuns: 8 });
    const calls = (draws as unknown[][]).filter(
      (args) => isPlain(args.at(-1)) && isTaken(call as Call, args),
    );
    return calls.length > 0 ? ([[name, call as Call, calls]] as const) : [];
  });

  describe('a misspelt setting', () => {
    it.each(withSettings)('of %s is refused by its name', (name, call, calls) => {
      // Settings of a chain's stages have a text of their own, with the name as what was received.
      const refusal = String.raw`([a-z]+\.gainDB is not a field of [a-z]+: .*; received -3|[a-z]+ must have only the fields .*"gainDB")`;
      for (const args of calls)
        expect(() => call(...args.slice(0, -1), { ...(args.at(-1) as object), gainDB: -3 })).toThrow(
          new RegExp(`^${name}: ${refusal}$`),
        );
    });

    it('is met by all that take settings', () => {
      expect(withSettings.length).toBeGreaterThanOrEqual(count);
    });
  });
}
