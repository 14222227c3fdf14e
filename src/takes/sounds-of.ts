import { changesAudio } from '../gain/changes-audio.js';
import type { Region, RegionKind } from '../regions/region.js';

/** One noise of a take: a region, or the pieces that it was split into. Positions in the take's own samples. */
export interface Sound {
  readonly kind: RegionKind;
  readonly regions: readonly Region[];
  /** Start and end of the noise as far as it is heard: see soundsOf. */
  readonly startSample: number;
  readonly endSample: number;
}

/** A piece with this gain or less is as good as silent beside the rest of its noise. */
const MUTED_DB = -40;

/**
 * The noises of a list in order of time. Touching regions of one kind follow each other as long as the measured edges between them are
 * missing, as splitting and marking leave them. A noise lasts from onset to offset, or from start to end where these are
 * unknown; pieces at its ends that are muted count only as far as their fade beside the rest. A noise that is muted wholly counts whole: it is still there to be found.
 */
export function soundsOf(regions: readonly Region[]): readonly Sound[] {
  const sounds: Sound[] = [];
  for (let first = 0; first < regions.length; ) {
    let past = first + 1;
    while (past < regions.length && isOne(regions[past - 1] as Region, regions[past] as Region)) past++;
    sounds.push(sound(regions.slice(first, past)));
    first = past;
  }
  return sounds;
}

function isOne(before: Region, after: Region): boolean {
  return (
    before.kind === after.kind &&
    before.endSample === after.startSample &&
    before.offsetSample === null &&
    after.onsetSample === null
  );
}

function sound(regions: readonly Region[]): Sound {
  const first = regions[0] as Region;
  const last = regions[regions.length - 1] as Region;
  const whole = noiseOf(first, last);
  const heard = regions.filter((region) => !isMuted(region));
  if (heard.length === 0) return { kind: first.kind, regions, ...whole };
  const lead = heard[0] as Region;
  const tail = heard[heard.length - 1] as Region;
  const before = regions[regions.indexOf(lead) - 1];
  const after = regions[regions.indexOf(tail) + 1];
  return {
    kind: first.kind,
    regions,
    startSample:
      before === undefined
        ? whole.startSample
        : Math.max(whole.startSample, lead.startSample - before.fadeOutSamples),
    endSample:
      after === undefined ? whole.endSample : Math.min(whole.endSample, tail.endSample + after.fadeInSamples),
  };
}

/** From onset to offset; from start to end where one edge is unknown and the other would lie beyond. */
function noiseOf(first: Region, last: Region): { startSample: number; endSample: number } {
  const startSample = first.onsetSample ?? first.startSample;
  const endSample = last.offsetSample ?? last.endSample;
  return startSample < endSample
    ? { startSample, endSample }
    : { startSample: first.startSample, endSample: last.endSample };
}

function isMuted(region: Region): boolean {
  return changesAudio(region) && region.gainDb <= MUTED_DB;
}
