import type { Region, RegionList, RegionReason } from './region.js';

/** A frozen region with the known fields alone, in the order in which files write them. Checks nothing. */
export function freezeRegion(region: Region): Region {
  return Object.freeze({
    id: region.id,
    kind: region.kind,
    onsetSample: region.onsetSample,
    offsetSample: region.offsetSample,
    startSample: region.startSample,
    endSample: region.endSample,
    gainDb: region.gainDb,
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
