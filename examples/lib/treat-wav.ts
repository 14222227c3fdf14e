import { createBandChange } from '../../src/gain/band-change.js';
import { gainCurveInto } from '../../src/gain/gain-curve.js';
import type { RegionList } from '../../src/regions/region.js';
import { sampleCodec } from './sample-codec.js';
import type { Wav } from './wav-bytes.js';

/** New bytes for one stretch of a file. */
export interface Patch {
  readonly startByte: number;
  readonly bytes: Uint8Array;
}

/** What treating a WAV file changes in its bytes, and how much of it went beyond full scale. */
export interface Treatment {
  /** In order, without overlap; nothing outside them changes. */
  readonly patches: readonly Patch[];
  /**
   * Samples that were driven beyond full scale, by a boost or by a cut within a band, which can raise a peak: integers
   * were held there, floats were stored as they are.
   */
  readonly overSamples: number;
}

/**
 * Applies the gain of a region list to the stored samples of a WAV file: double product of the integer code or float
 * value with the library's gain, or its sum with the library's change where the region has a band, to the nearest code, ties
 * to even, without dither. The file's bytes are not changed; the new ones come back as patches, so that a copy with
 * them differs inside active regions alone.
 */
export function treatWav(wav: Wav, list: RegionList): Treatment {
  const { format } = wav;
  const frameBytes = (format.channelCount * format.bitsPerSample) / 8;
  const patches: Patch[] = [];
  let overSamples = 0;
  // Bands are filtered from the file as it is, whatever its other regions do to it.
  const source = sampleCodec(wav.bytes.subarray(wav.dataStartByte), format);
  const change = createBandChange(list);
  for (const region of list.regions) {
    if (region.bypassed || region.gainDb === 0) continue;
    const curve = new Float64Array(region.endSample - region.startSample);
    gainCurveInto(curve, list, region.startSample);
    const startByte = wav.dataStartByte + region.startSample * frameBytes;
    // Not slice(): on a Buffer that would be a view, and the input would be written to.
    const bytes = new Uint8Array(wav.bytes.subarray(startByte, startByte + curve.length * frameBytes));
    const codec = sampleCodec(bytes, format);
    const added = new Float64Array(curve.length);
    for (let c = 0; c < format.channelCount; c++) {
      const offset = c * codec.bytesPerSample;
      if (region.band !== undefined)
        change.into(added, region.startSample, (sample) => source.read(sample * frameBytes + offset));
      for (let i = 0; i < curve.length; i++) {
        const gain = curve[i] as number;
        const more = added[i] as number;
        // What is not changed keeps its bytes.
        if (gain === 1 && more === 0) continue;
        const at = i * frameBytes + offset;
        const old = codec.read(at);
        const value = gain * old + more;
        // A cut of float data that was beyond full scale already is no new fault.
        if (!codec.write(at, value) && Math.abs(value) > Math.abs(old)) overSamples++;
      }
    }
    patches.push({ startByte, bytes });
  }
  return { patches, overSamples };
}

/** The bytes of a file with its patches in place, as pieces to be written one after another; nothing is copied. */
export function* patchedPieces(bytes: Uint8Array, patches: readonly Patch[]): Generator<Uint8Array> {
  let at = 0;
  for (const patch of patches) {
    yield bytes.subarray(at, patch.startByte);
    yield patch.bytes;
    at = patch.startByte + patch.bytes.length;
  }
  yield bytes.subarray(at);
}
