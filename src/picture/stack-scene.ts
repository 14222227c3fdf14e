import type { EventGroup } from '../takes/event-group.js';
import type { GroupLevel } from '../takes/measure-groups.js';
import type { Take } from '../takes/take.js';
import { timeText } from './numbers.js';

/** What every part of a stack's picture draws from. */
export interface StackScene {
  readonly takes: readonly Take[];
  readonly lead: Take;
  readonly groups: readonly EventGroup[];
  /** Levels of the groups as they sound, and as they would without the gains of the lists. */
  readonly levels: readonly GroupLevel[];
  readonly recorded: readonly GroupLevel[];
  /** The common time line, from the first sample of the earliest take to the end of the latest. */
  readonly startSample: number;
  readonly endSample: number;
  readonly sampleRateHz: number;
}

/** How a take is named in the picture. */
export function takeName({ id }: Take): string {
  return typeof id === 'number' ? `take ${id}` : id;
}

/** A place on the common time line as text; takes may begin before its zero. */
export function lineTimeText(scene: StackScene, sample: number, decimals: number): string {
  const { sampleRateHz, startSample, endSample } = scene;
  const whole = Math.max(Math.abs(startSample), Math.abs(endSample)) / sampleRateHz;
  const seconds = sample / sampleRateHz;
  return `${seconds < 0 ? '−' : ''}${timeText(Math.abs(seconds), decimals, whole)}`;
}

/** A spread in milliseconds, without a fraction. */
export function spreadText(seconds: number): string {
  return `${Math.round(1000 * seconds)} ms`;
}

/** A level or a distance in decibels with its tenth, so that figures of a column line up. */
export function decibelText(db: number, plus: '' | '+' = ''): string {
  const text = Math.abs(db).toFixed(1);
  return `${db < 0 && text !== '0.0' ? '−' : plus}${text}`;
}
