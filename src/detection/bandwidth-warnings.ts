import { channelList, checkFinite, checkObject, checkSampleRate } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { createBandMeter } from './band-meter.js';
import { BAND_COUNT, ROW_BANDS } from './detection-scale.js';
import { createRowStore } from './row-store.js';

/** Something about a recording that makes detection less sure. */
export interface BandwidthWarning {
  /** `lowSampleRate`: under 16 kHz. `narrowBand`: next to nothing above 4 kHz, at whatever rate. */
  readonly rule: 'lowSampleRate' | 'narrowBand';
  /** One sentence for a person. */
  readonly message: string;
}

/** Below this sample rate (Hz) much of an s lies beyond the recording's upper end. */
const LEAST_GOOD_RATE_HZ = 16000;
/** Band from which on 4 kHz is passed. */
const FIRST_BAND_OVER_4K = 11;
/** Energy above 4 kHz this far below the rest counts as none, in dB. Recorded voices lie at −5 to −29 (nine in ten of each labelled folder, measured), a 300–3400 Hz band of them near −40 or below. */
const NARROW_BAND_DB = -35;

/**
 * Says what about a recording makes its regions less sure: a sample rate below 16 kHz, or no energy to speak of
 * above 4 kHz (a telephone band carries little of s and f). Such files are still searched, with lower confidence.
 *
 * Rule of the second: in the loudest frame of each band group, 4–7.6 kHz lies over 35 dB below 80 Hz–4 kHz.
 *
 * @param channels as for `detectConsonants`
 * @returns an empty list where nothing is wrong; silence has no band to be too narrow
 * @throws as `detectConsonants`
 *
 * @example
 * import { bandwidthWarnings } from 'lenition/detection';
 * const tone = Float32Array.from({ length: 8000 }, (_, i) => 0.5 * Math.sin(0.3 * i));
 * bandwidthWarnings(tone, { sampleRateHz: 8000 }).map((warning) => warning.rule); // => ['lowSampleRate']
 */
export function bandwidthWarnings(
  channels: Channels,
  options: { readonly sampleRateHz: number },
): readonly BandwidthWarning[] {
  const list = channelList('bandwidthWarnings', channels);
  checkObject('bandwidthWarnings', 'options', options);
  const { sampleRateHz } = options;
  checkSampleRate('bandwidthWarnings', sampleRateHz);
  for (let c = 0; c < list.length; c++)
    checkFinite('bandwidthWarnings', `channels[${c}]`, list[c] as Samples);
  if (sampleRateHz < LEAST_GOOD_RATE_HZ) {
    const message = `The sample rate is ${sampleRateHz} Hz: much of an s lies above ${sampleRateHz / 2} Hz, so regions are less sure.`;
    return [{ rule: 'lowSampleRate', message }];
  }
  const { below, above } = loudestFrames(list, sampleRateHz);
  if (below === 0 || 10 * Math.log10((above + 1e-30) / below) > NARROW_BAND_DB) return [];
  const message =
    'There is next to no energy above 4 kHz, as over a telephone: s and f are mostly missing, so regions are less sure.';
  return [{ rule: 'narrowBand', message }];
}

/** Greatest frame power below and above 4 kHz. */
function loudestFrames(list: readonly Samples[], sampleRateHz: number): { below: number; above: number } {
  const meter = createBandMeter(sampleRateHz, list.length);
  const rows = createRowStore(ROW_BANDS);
  const greatest = { below: 0, above: 0 };
  const length = list[0]?.length ?? 0;
  for (let from = 0; from < length; from += sampleRateHz) {
    meter.push(
      list.map((samples) => samples.subarray(from, from + sampleRateHz) as Samples),
      rows,
    );
    read();
  }
  meter.flush(rows);
  read();
  return greatest;

  function read(): void {
    for (let row = rows.first; row < rows.end; row++) {
      const at = rows.at(row);
      let below = 0;
      let above = 0;
      for (let band = 0; band < BAND_COUNT; band++) {
        const power = rows.data[at + band] as number;
        if (band < FIRST_BAND_OVER_4K) below += power;
        else above += power;
      }
      greatest.below = Math.max(greatest.below, below);
      greatest.above = Math.max(greatest.above, above);
    }
    rows.dropBefore(rows.end);
  }
}
