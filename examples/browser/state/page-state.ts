import type { LevelTable } from '../../../src/levels/region-level.js';
import { createRegionList } from '../../../src/regions/create-region-list.js';
import { type EditHistory, startHistory } from '../../../src/regions/history.js';
import type { Region, RegionKind, RegionList } from '../../../src/regions/region.js';
import { regionById } from '../../../src/regions/region-by-id.js';
import type { Flag } from './notes.js';

/** Half-open, in samples of the take. */
export interface SampleRange {
  readonly startSample: number;
  readonly endSample: number;
}

/** What the page knows of the take that is open; the samples themselves live in workers. */
export interface TakeInfo {
  readonly name: string;
  readonly sampleRateHz: number;
  readonly lengthSamples: number;
  readonly channelCount: number;
  /** How it is stored, in words: "24-bit". */
  readonly format: string;
}

/** `removed` is input less output, at the level it has. */
export type Listen = 'tamed' | 'recorded' | 'removed';

/** How all regions get their gain. */
export const DECISIONS = ['fixed', 'level', 'even', 'ahead'] as const;
export type DecisionName = (typeof DECISIONS)[number];

export interface Decision {
  readonly how: DecisionName;
  /** The cut of `fixed`, the greatest cut of the others; in dB, above 0. */
  readonly cutDb: number;
  readonly kinds: readonly RegionKind[];
}

/** Integrated loudness in LUFS. */
export interface Loudness {
  readonly recordedLufs: number;
  readonly tamedLufs: number;
}

/** Everything the page shows, as one value that is never changed. */
export interface PageState {
  readonly phase: 'empty' | 'opening' | 'finding' | 'ready';
  readonly take: TakeInfo | null;
  readonly history: EditHistory | null;
  /** The list while a gain is being dragged: heard and drawn, not yet an edit. */
  readonly preview: RegionList | null;
  /** The list as it was last written to a file or made by the page alone: closing the page then loses nothing. */
  readonly keptList: RegionList | null;
  /** Measures of the regions as recorded. */
  readonly levels: LevelTable | null;
  /** Cuts that may have gone too far. */
  readonly flags: readonly Flag[];
  readonly chosenId: number | null;
  readonly cursorSample: number;
  readonly range: SampleRange | null;
  /** What of the take is on the screen. */
  readonly view: SampleRange;
  readonly listen: Listen;
  readonly matchLoudness: boolean;
  /** Loudness of the whole take; null while it is not known for the list as it is. */
  readonly loudness: Loudness | null;
  readonly backingName: string | null;
  readonly backingOn: boolean;
  /** Name of the preset that playing goes through. */
  readonly chainName: string | null;
  /** What the key brings back after `none`. */
  readonly lastChainName: string;
  readonly decision: Decision;
  readonly status: string;
}

/** The page before anything is open. */
export const EMPTY_PAGE: PageState = Object.freeze<PageState>({
  phase: 'empty',
  take: null,
  history: null,
  preview: null,
  keptList: null,
  levels: null,
  flags: [],
  chosenId: null,
  cursorSample: 0,
  range: null,
  view: { startSample: 0, endSample: 1 },
  listen: 'tamed',
  matchLoudness: false,
  loudness: null,
  backingName: null,
  backingOn: true,
  chainName: null,
  lastChainName: 'forward and bright',
  decision: { how: 'fixed', cutDb: 6, kinds: ['sibilant'] },
  status: '',
});

/** A take that was just read: no regions yet, the whole of it in view. What was chosen for listening stays. */
export function openTake(state: PageState, take: TakeInfo): PageState {
  const { sampleRateHz, lengthSamples } = take;
  const list = createRegionList({ sampleRateHz, lengthSamples });
  return {
    ...state,
    phase: 'finding',
    take,
    history: startHistory(list),
    preview: null,
    keptList: list,
    levels: null,
    flags: [],
    loudness: null,
    chosenId: null,
    cursorSample: 0,
    range: null,
    view: { startSample: 0, endSample: lengthSamples },
    listen: 'tamed',
    status: `${take.name} is open.`,
  };
}

/** The list that is drawn and heard; null before a take is open. */
export function shownList(state: PageState): RegionList | null {
  return state.preview ?? state.history?.present ?? null;
}

/** The chosen region as it is shown. */
export function chosenRegion(state: PageState): Region | undefined {
  const list = shownList(state);
  return list === null || state.chosenId === null ? undefined : regionById(list, state.chosenId);
}

/** True where closing the page would lose edits. */
export function hasUnsavedEdits(state: PageState): boolean {
  return state.history !== null && state.history.present !== state.keptList;
}

/** The page with a new line of status. */
export function say(state: PageState, status: string): PageState {
  return { ...state, status };
}
