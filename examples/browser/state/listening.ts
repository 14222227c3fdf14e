import { DEFAULT_EXCERPT_OPTIONS } from '../../../src/gain/excerpt.js';
import type { Region } from '../../../src/regions/region.js';
import { secondsToSamples } from '../../../src/regions/time.js';
import { type Listen, type PageState, type SampleRange, say } from './page-state.js';

/**
 * Level of the take alone, in dB, so that tamed and recorded are equally loud: the louder of the two is turned down, nothing is
 * turned up. What was taken away keeps its level whatever is chosen.
 */
export function takeLevelDb({ matchLoudness, loudness, listen }: PageState): number {
  if (!matchLoudness || loudness === null || listen === 'removed') return 0;
  const louderDb = loudness.recordedLufs - loudness.tamedLufs;
  // Silence has no loudness to match.
  if (!Number.isFinite(louderDb)) return 0;
  return Math.min(0, listen === 'recorded' ? -louderDb : louderDb) + 0;
}

/** What matching does, in words. */
export function matchText(state: PageState): string {
  const { matchLoudness, loudness } = state;
  if (!matchLoudness) return '';
  if (loudness === null) return 'Loudness is being measured.';
  const { recordedLufs, tamedLufs } = loudness;
  if (!Number.isFinite(recordedLufs - tamedLufs)) return 'Too short or too soft to be measured.';
  const difference = Math.abs(recordedLufs - tamedLufs).toFixed(1);
  const louder = recordedLufs >= tamedLufs ? 'As recorded' : 'Tamed';
  return `${recordedLufs.toFixed(1)} LUFS recorded, ${tamedLufs.toFixed(1)} tamed. ${louder} plays ${difference} dB lower.`;
}

/** A region with half a second on each side: a consonant by itself sounds harsher than it is. */
export function aroundRegion(region: Region, sampleRateHz: number, lengthSamples: number): SampleRange {
  const { preSeconds, postSeconds } = DEFAULT_EXCERPT_OPTIONS;
  return {
    startSample: Math.max(0, region.startSample - secondsToSamples(preSeconds, sampleRateHz)),
    endSample: Math.min(lengthSamples, region.endSample + secondsToSamples(postSeconds, sampleRateHz)),
  };
}

const LISTEN_WORDS: Readonly<Record<Listen, string>> = {
  tamed: 'tamed',
  recorded: 'as recorded',
  removed: 'what was taken away, at its own level',
};

/** What is listened to. */
export function listenTo(state: PageState, listen: Listen): PageState {
  return say({ ...state, listen }, `Listening: ${LISTEN_WORDS[listen]}.`);
}

/** Tamed in place of recorded, or the other way round. */
export function swapListen(state: PageState): PageState {
  return listenTo(state, state.listen === 'tamed' ? 'recorded' : 'tamed');
}

/** The chain of that name, or none. */
export function throughChain(state: PageState, name: string | null): PageState {
  const lastChainName = name ?? state.lastChainName;
  const words = name === null ? 'Without a mix chain.' : `Through the chain: ${name}.`;
  return say({ ...state, chainName: name, lastChainName }, words);
}
