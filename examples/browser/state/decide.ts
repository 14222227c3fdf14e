import { evenedCut } from '../../../src/gain/evened-cut.js';
import { fixedCut } from '../../../src/gain/fixed-cut.js';
import { levelledCut } from '../../../src/gain/levelled-cut.js';
import type { LevelTable } from '../../../src/levels/region-level.js';
import { startHistory } from '../../../src/regions/history.js';
import { reconcile } from '../../../src/regions/reconcile.js';
import type { RegionList } from '../../../src/regions/region.js';
import { withEdit } from './edit.js';
import { type Decision, type PageState, say } from './page-state.js';
import { decibelText, summaryText } from './words.js';

/** Decides all gains of a list, but for `ahead`, which needs the samples and is worked out where they are. */
export function decideGains(list: RegionList, levels: LevelTable | null, decision: Decision): RegionList {
  const { how, cutDb, kinds } = decision;
  if (how === 'fixed') return fixedCut(list, { kinds, gainDb: -cutDb });
  if (levels === null) return list;
  if (how === 'level') return levelledCut(list, levels, { kinds, maxCutDb: cutDb });
  if (how === 'even') return evenedCut(list, levels, { kinds, maxCutDb: cutDb });
  return list;
}

/** A decision in words, as undo names it. */
export function decisionText({ how, cutDb, kinds }: Decision): string {
  const which = kinds.join(', ');
  if (how === 'fixed') return `All ${which}: ${decibelText(-cutDb)}`;
  const words = { level: 'to one level', even: 'more even', ahead: 'ahead of the chain' }[how];
  return `All ${which} ${words}, at most ${decibelText(-cutDb)}`;
}

/** The page after its own decision. */
export function applyDecision(state: PageState): PageState {
  const { history, levels, decision } = state;
  if (history === null) return state;
  if (decision.kinds.length === 0) return say(state, 'Choose at least one kind to decide.');
  if (decision.how !== 'fixed' && levels === null)
    return say(state, 'The regions are still being measured: try again in a moment.');
  const list = decideGains(history.present, levels, decision);
  if (list === history.present) return say(state, 'Every region has that gain already.');
  return withEdit(state, list, decisionText(decision));
}

/**
 * What a search found. The first time it begins the history, and the page's decision is its first edit; later it is brought
 * together with what was decided by hand, as one edit.
 */
export function receiveFound(state: PageState, found: RegionList, stopped: boolean): PageState {
  const { history } = state;
  if (history === null) return state;
  const ready: PageState = { ...state, phase: 'ready' };
  const end = stopped ? 'Stopped' : 'Found';
  if (history.present.regions.length === 0 && history.past.length === 0) {
    const begun = { ...ready, history: startHistory(found) };
    // Levels come later: the first decision is the one that needs none.
    const decision: Decision = { ...state.decision, how: 'fixed' };
    const cut = withEdit(begun, decideGains(found, null, decision), decisionText(decision));
    const list = cut.history?.present ?? found;
    return say({ ...cut, keptList: list }, `${end}: ${summaryText(list)}.`);
  }
  const { list, added } = reconcile(history.present, found);
  const edited = withEdit(ready, list, 'Searched again');
  return say(edited, `${end}: ${added.length} new. Edits by hand were carried over.`);
}
