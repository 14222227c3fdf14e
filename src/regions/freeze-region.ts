import type { Region, RegionBand, RegionList, RegionReason } from './region.js';

/** A region that may yet hold `band: undefined`: how an edit says that the band goes. */
export type RegionFields = Omit<Region, 'band'> & { readonly band?: RegionBand | undefined };

/** A frozen region with the known fields alone, in the order in which files write them. Checks nothing. */
export function freezeRegion(region: RegionFields): Region {
  const { band } = region;
  return Object.freeze({
    id: region.id,
    kind: region.kind,
    onsetSample: region.onsetSample,
    offsetSample: region.offsetSample,
    startSample: region.startSample,
    endSample: region.endSample,
    gainDb: region.gainDb,
    // Left out where there is none, as in files: a region without a band has no such field.
    ...(band === undefined ? {} : { band: Object.freeze({ lowHz: band.lowHz, highHz: band.highHz }) }),
    confidence: region.confidence,
    bypassed: region.bypassed,
    locked: region.locked,
    fadeInSamples: region.fadeInSamples,
    fadeOutSamples: region.fadeOutSamples,
    fadeShape: region.fadeShape,
    label: region.label,
    reason: freezeReason(region.reason),
  });
}

function freezeReason(reason: RegionReason): RegionReason {
  // A frozen reason is shared by every later version of its region.
  if (Object.isFrozen(reason) && Object.isFrozen(reason.numbers)) return reason;
  // fromEntries defines own properties, so even a number named `__proto__` stays a number.
  const numbers = Object.freeze(Object.fromEntries(Object.entries(reason.numbers)));
  return Object.freeze({ rule: reason.rule, numbers });
}

/** A frozen list around regions that are frozen already; takes the array over. Checks nothing. */
export function freezeList(list: RegionList): RegionList {
  return Object.freeze({
    sampleRateHz: list.sampleRateHz,
    lengthSamples: list.lengthSamples,
    nextId: list.nextId,
    regions: Object.freeze(list.regions),
  });
}
