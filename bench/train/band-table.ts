import { createBandMeter } from '../../src/detection/band-meter.js';
import { ROW_BANDS } from '../../src/detection/detection-scale.js';
import { createRowStore } from '../../src/detection/row-store.js';
import type { Samples } from '../../src/signal/samples.js';

/** Band powers of a whole clip. */
export interface BandTable {
  readonly frameCount: number;
  /** ROW_BANDS numbers a frame. In shared memory, so that workers need no copies. */
  readonly powers: Float64Array;
  readonly hopSeconds: number;
}

/** Measures a clip as the detector does. */
export function bandTable(channels: readonly Samples[], sampleRateHz: number): BandTable {
  const meter = createBandMeter(sampleRateHz, channels.length);
  const rows = createRowStore(ROW_BANDS);
  meter.push(channels, rows);
  meter.flush(rows);
  const count = rows.end * ROW_BANDS;
  const powers = new Float64Array(new SharedArrayBuffer(count * Float64Array.BYTES_PER_ELEMENT));
  powers.set(rows.data.subarray(0, count));
  return { frameCount: rows.end, powers, hopSeconds: meter.hopSamples / sampleRateHz };
}
