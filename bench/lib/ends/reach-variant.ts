import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import type { detectConsonants } from '../../../src/detection/detect-consonants.js';
import type { ClipDetector } from '../score-folder.js';
import { withBuilt } from '../with-built.js';

/** How far the level references look, in slots of 85 ms. */
export interface Reach {
  readonly pastSlots: number;
  readonly aheadSlots: number;
}

const SCALE_FILE = /[\\/]src[\\/]detection[\\/]detection-scale\.ts$/;

/**
 * The library's own detector with another reach of its references and nothing else changed: its source is bundled with the two constants
 * replaced. For research: nothing like it is published, since such a detector cannot follow a stream.
 */
export async function detectorWithReach(reach: Reach): Promise<ClipDetector> {
  return withBuilt(
    'reach',
    'src/detection/detect-consonants.ts',
    async (script) => {
      const built = (await import(pathToFileURL(script).href)) as {
        readonly detectConsonants: typeof detectConsonants;
      };
      return ({ channels, sampleRateHz }) => built.detectConsonants(channels, { sampleRateHz }).regions;
    },
    {
      esbuildPlugins: [
        {
          name: 'another reach',
          setup({ onLoad }) {
            onLoad({ filter: SCALE_FILE }, ({ path }) => ({
              contents: withReach(readFileSync(path, 'utf8'), reach),
              loader: 'ts',
            }));
          },
        },
      ],
    },
  );
}

/** The text of detection-scale.ts with other constants. Throws where they are not found: silence would compare a thing with itself. */
export function withReach(source: string, { pastSlots, aheadSlots }: Reach): string {
  const replaced = (text: string, name: string, value: number): string => {
    const pattern = new RegExp(`(export const ${name} = )\\d+;`);
    if (!pattern.test(text)) throw new Error(`detection-scale.ts: no constant ${name}`);
    return text.replace(pattern, `$1${value};`);
  };
  return replaced(replaced(source, 'PAST_SLOTS', pastSlots), 'AHEAD_SLOTS', aheadSlots);
}
