import type { PageState, SampleRange } from './page-state.js';

/** Less than this is never on the screen. */
const LEAST_VIEW_SECONDS = 0.01;

/** A range moved and shortened so that it lies in the take. */
function fitted(startSample: number, samples: number, { take }: PageState): SampleRange {
  if (take === null) return { startSample: 0, endSample: 1 };
  const least = Math.min(take.lengthSamples, Math.ceil(LEAST_VIEW_SECONDS * take.sampleRateHz));
  const length = Math.round(Math.min(take.lengthSamples, Math.max(least, samples)));
  const start = Math.round(Math.min(Math.max(0, startSample), take.lengthSamples - length));
  return { startSample: start, endSample: start + length };
}

/** More of the take (factor above 1) or less of it; `aboutSample` stays where it is on the screen. */
export function zoomed(state: PageState, factor: number, aboutSample: number): PageState {
  const { startSample, endSample } = state.view;
  const part = (aboutSample - startSample) / (endSample - startSample);
  const samples = (endSample - startSample) * factor;
  return { ...state, view: fitted(aboutSample - part * samples, samples, state) };
}

/** The view moved by a share of its own length; negative is earlier. */
export function moved(state: PageState, share: number): PageState {
  const { startSample, endSample } = state.view;
  const samples = endSample - startSample;
  return { ...state, view: fitted(startSample + share * samples, samples, state) };
}

/** The view with this sample in its middle. */
export function centred(state: PageState, sample: number): PageState {
  const samples = state.view.endSample - state.view.startSample;
  return { ...state, view: fitted(sample - samples / 2, samples, state) };
}

/** The same view where the sample is in it, else one that begins a little before the sample. */
export function showing(state: PageState, sample: number): PageState {
  const { startSample, endSample } = state.view;
  if (sample >= startSample && sample < endSample) return state;
  const samples = endSample - startSample;
  return { ...state, view: fitted(sample - 0.1 * samples, samples, state) };
}

/** The whole take. */
export function whole(state: PageState): PageState {
  return { ...state, view: fitted(0, Number.MAX_SAFE_INTEGER, state) };
}

/** A stretch with as much again on each side. */
export function closeUp(state: PageState, { startSample, endSample }: SampleRange): PageState {
  const samples = endSample - startSample;
  return { ...state, view: fitted(startSample - samples, 3 * samples, state) };
}
