import { type MidiData, parseMidi, writeMidi } from 'midi-file';
import * as x from '../../../src/exchange/index.js';
import { checkRegionList } from '../../../src/regions/index.js';
import { checkValue } from '../lib/check-value.js';
import { must } from '../lib/failure.js';
import { type Forms, form } from '../lib/form.js';
import type { Random } from '../lib/random-tools.js';
import { damagedBytes } from './hostile-bytes.js';
import { damagedData } from './hostile-plain-data.js';
import { pooled, soundList } from './sound-lists.js';

const CLIP = { sampleRateHz: 48000, lengthSamples: 480000 };
const PATH = /^\$/;

const cueChunks = pooled((random) => x.regionsToCuePoints(soundList(random)));
const midiFiles = pooled((random) => {
  const list = soundList(random);
  return x.gainToMidi({ ...list, regions: list.regions.map(({ band: _, ...rest }) => rest) });
});
const midiBytes = pooled((random) => Uint8Array.from(writeMidi(midiFiles(random) as unknown as MidiData)));
/** What a parser of somebody else makes of damaged bytes, or nothing where it throws: that is its own affair. */
function parsed(parse: () => unknown): unknown {
  try {
    return parse();
  } catch {
    return undefined;
  }
}

/**
 * Forms that another program has parsed already: plain data of any shape. Cue points come from damaged values alone: `wavefile` never comes
 * back from some damaged files.
 */
export const VALUE_FORMS: Forms = {
  'cue-point chunks': form({
    make: (random: Random) => damagedData(cueChunks(random), random),
    read: (chunks) => x.regionsFromCuePoints(chunks, CLIP),
    check: checkCues,
    path: PATH,
  }),
  'MIDI values': form({
    make: (random: Random) => damagedData(midiFiles(random), random),
    read: (file) => x.gainFromMidi(file, CLIP),
    check: checkPoints,
    path: PATH,
  }),
  'MIDI values of a damaged file': form({
    make: (random: Random) => {
      const bytes = damagedBytes(midiBytes(random), random);
      return parsed(() => parseMidi(bytes));
    },
    read: (file) => x.gainFromMidi(file, CLIP),
    check: checkPoints,
    path: PATH,
    weight: 0.5,
  }),
};

function checkCues(list: Parameters<typeof x.regionsToJson>[0]): void {
  checkRegionList(list);
  checkValue(list, { frozen: true });
}

function checkPoints(points: Parameters<typeof x.breakpointGainAt>[0]): void {
  checkValue(points, { frozen: true });
  for (const { sample } of points)
    must(Number.isFinite(x.breakpointGainAt(points, sample)), 'must be played', sample);
}
