import { phoneFacts } from '../../bench/lib/phone-map.js';
import { SINGERS } from '../../examples/lib/demo/singers.js';
import { renderTake } from '../../examples/lib/demo/take.js';
import { truthOf } from '../../examples/lib/demo/truth.js';
import type { PhoneEvent } from '../../src/evaluation/phone-event.js';
import type { Samples } from '../../src/signal/samples.js';

/** The demonstration's lead: invented, synthesised, its phones known to the sample. */
export interface DemoLead {
  readonly sampleRateHz: number;
  readonly samples: Samples;
  readonly durationSeconds: number;
  readonly phones: readonly PhoneEvent[];
}

const sung = new Map<number, DemoLead>();

/** Sings the lead, once for each rate. Other rates sing other noise: for the same sound at another rate, resample this one. */
export function demoLead(sampleRateHz = 48_000): DemoLead {
  const lead = sung.get(sampleRateHz) ?? sing(sampleRateHz);
  sung.set(sampleRateHz, lead);
  return lead;
}

function sing(sampleRateHz: number): DemoLead {
  const { samples, phones } = renderTake(SINGERS[0]!, sampleRateHz);
  return {
    sampleRateHz,
    samples,
    durationSeconds: samples.length / sampleRateHz,
    phones: truthOf(phones).map(({ startSample, endSample, label }) => ({
      startSeconds: startSample / sampleRateHz,
      endSeconds: endSample / sampleRateHz,
      label,
      ...phoneFacts(label, 'latin'),
    })),
  };
}

/** Samples of the lead from one second to another. */
export function excerpt(lead: DemoLead, fromSeconds: number, toSeconds: number): Samples {
  const { samples, sampleRateHz } = lead;
  return samples.slice(Math.round(fromSeconds * sampleRateHz), Math.round(toSeconds * sampleRateHz));
}
