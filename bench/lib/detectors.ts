import { existsSync } from 'node:fs';
import type { MeasuredRegion } from '../../src/evaluation/region-events.js';
import type { Channels } from '../../src/signal/samples.js';
import type { ClipDetector } from './score-folder.js';
import { thresholdRule } from './threshold-rule.js';

/** A detector that can be chosen on the command line; settings are what its JSON file says. */
export interface NamedDetector {
  readonly name: string;
  readonly withSettings: (settings: Readonly<Record<string, unknown>>) => ClipDetector;
}

/** The plain two-threshold rule, for comparison. */
export const RULE: NamedDetector = {
  name: 'rule',
  withSettings:
    ({ minConfidence = 0, ...settings }) =>
    ({ channels, sampleRateHz }) =>
      thresholdRule(channels, sampleRateHz, settings).filter(
        (region) => region.confidence >= Number(minConfidence),
      ),
};

type Detect = (
  channels: Channels,
  options: { readonly sampleRateHz: number } & Readonly<Record<string, unknown>>,
) => { readonly regions: readonly MeasuredRegion[] };

/** The library's own detector, or null while there is none. */
export async function ownDetector(): Promise<NamedDetector | null> {
  const file = new URL('../../src/detection/detect-consonants.ts', import.meta.url);
  if (!existsSync(file)) return null;
  const { detectConsonants } = (await import(file.href)) as { readonly detectConsonants: Detect };
  return {
    name: 'lenition',
    withSettings:
      (settings) =>
      ({ channels, sampleRateHz }) =>
        detectConsonants(channels, { ...settings, sampleRateHz }).regions,
  };
}
