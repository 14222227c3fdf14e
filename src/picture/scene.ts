import type { GainBreakpoint } from '../gain/gain-breakpoints.js';
import type { Region, RegionList } from '../regions/region.js';
import type { Samples } from '../signal/samples.js';
import type { SpectrogramLevels } from './spectrogram-levels.js';

/** More regions than this in one view are drawn as shares of columns: one by one they could not be told apart. */
export const MOST_SINGLE_REGIONS = 150;

/** What every part of the picture draws from. */
export interface Scene {
  readonly channels: readonly Samples[];
  /** The clip with its gains where a region has a band; null: the gains alone say it. */
  readonly treated: readonly Samples[] | null;
  readonly list: RegionList;
  readonly breakpoints: readonly GainBreakpoint[];
  readonly minConfidence: number;
  readonly topFrequencyHz: number;
  /** Spectrogram shown as paper, with all below, and as ink, with all above, in dB. */
  readonly floorDb: number;
  readonly ceilingDb: number;
}

/** A stretch of the clip and the room that its lanes get. Positions in pixels. */
export interface View {
  readonly left: number;
  readonly width: number;
  readonly top: number;
  readonly startSample: number;
  readonly endSample: number;
  /** Room left of `left` for axes. */
  readonly gutter: number;
  readonly gainHeight: number;
  readonly waveHeight: number;
  readonly levels: SpectrogramLevels;
  /** `score`: a row for each kind, each region by itself. `density`: a row for each kind, share of each column. `line`: all in one row. */
  readonly rows: 'score' | 'density' | 'line';
}

/** Regions that reach into a view, in time order. */
export function regionsInView(scene: Scene, view: View): readonly Region[] {
  return scene.list.regions.filter(
    (region) => region.startSample < view.endSample && region.endSample > view.startSample,
  );
}

/** Position of a sample in a view, in pixels. */
export function viewX(view: View, sample: number): number {
  return view.left + ((sample - view.startSample) / (view.endSample - view.startSample)) * view.width;
}

/** Left and right edge of a region in a view, cut to it and at least `least` pixels apart. */
export function regionSpan(view: View, region: Region, least: number): { x0: number; x1: number } {
  const x0 = Math.max(view.left, viewX(view, region.startSample));
  const x1 = Math.min(view.left + view.width, viewX(view, region.endSample));
  return { x0: Math.min(x0, view.left + view.width - least), x1: Math.max(x1, x0 + least) };
}
