import {
  FADE_SHAPES,
  type FadeShape,
  LEAST_GAIN_DB,
  MOST_GAIN_DB,
  REGION_KINDS,
  type Region,
  type RegionKind,
} from '../regions/region.js';
import { numberOrNaN } from './number-from-text.js';

/** What the text of a cue point says about its region. */
export type LabelledFields = Partial<
  Pick<
    Region,
    | 'kind'
    | 'gainDb'
    | 'fadeInSamples'
    | 'fadeOutSamples'
    | 'fadeShape'
    | 'band'
    | 'bypassed'
    | 'locked'
    | 'confidence'
    | 'label'
  >
>;

/**
 * A region as the text of a cue point, for a person to read in a list of markers: kind and gain, then whatever is not
 * ordinary, then the label after a colon. `sibilant -6 dB, fades 144/240 linear: sun`.
 */
export function cueLabel(region: Region): string {
  const { kind, gainDb, fadeInSamples, fadeOutSamples, fadeShape, band, confidence, label } = region;
  const parts = [`${kind} ${gainDb} dB`];
  if (fadeInSamples + fadeOutSamples > 0) parts.push(`fades ${fadeInSamples}/${fadeOutSamples} ${fadeShape}`);
  // Without these two a region read back would sound another way.
  if (band !== undefined) parts.push(`band ${band.lowHz} to ${band.highHz} Hz`);
  if (region.bypassed) parts.push('bypassed');
  if (region.locked) parts.push('locked');
  const belief = Number(confidence.toFixed(CONFIDENCE_DECIMALS));
  if (belief !== 1) parts.push(`confidence ${belief}`);
  const head = parts.join(', ');
  return label === '' ? head : `${head}: ${escaped(label)}`;
}

/** A belief is no more exact than that, and a list of markers is narrow. */
const CONFIDENCE_DECIMALS = 3;

/** The reverse of cueLabel; a text of another form is the label alone. */
export function readCueLabel(text: string): LabelledFields {
  const colon = text.indexOf(': ');
  const head = colon < 0 ? text : text.slice(0, colon);
  const plain = { label: text };
  // Longer than any head of ours; saves splitting a hostile text.
  if (head.length > LONGEST_HEAD) return plain;
  const [first = '', ...items] = head.split(', ');
  const [, kind, gain] = first.match(/^([a-z]+) (\S+) dB$/) ?? [];
  const gainDb = numberOrNaN(gain ?? '');
  if (!isKind(kind) || !(gainDb >= LEAST_GAIN_DB && gainDb <= MOST_GAIN_DB)) return plain;
  let fields: LabelledFields = { kind, gainDb, label: colon < 0 ? '' : unescaped(text.slice(colon + 2)) };
  for (const item of items) {
    const more = readItem(item);
    if (more === undefined) return plain;
    fields = { ...fields, ...more };
  }
  return fields;
}

const LONGEST_HEAD = 300;

function readItem(item: string): LabelledFields | undefined {
  if (item === 'bypassed') return { bypassed: true };
  if (item === 'locked') return { locked: true };
  const words = item.split(' ');
  switch (words[0]) {
    case 'fades': {
      const [, fadeIn, fadeOut, shape] = item.match(/^fades (\d{1,16})\/(\d{1,16}) ([a-zA-Z]+)$/) ?? [];
      const [fadeInSamples, fadeOutSamples] = [Number(fadeIn), Number(fadeOut)];
      const safe = Number.isSafeInteger(fadeInSamples) && Number.isSafeInteger(fadeOutSamples);
      return safe && isShape(shape) ? { fadeInSamples, fadeOutSamples, fadeShape: shape } : undefined;
    }
    case 'band': {
      const [lowHz, highHz] = [numberOrNaN(words[1] ?? ''), numberOrNaN(words[3] ?? '')];
      const whole = words.length === 5 && words[2] === 'to' && words[4] === 'Hz';
      return whole && lowHz < highHz ? { band: { lowHz, highHz } } : undefined;
    }
    case 'confidence': {
      const confidence = numberOrNaN(words[1] ?? '');
      return words.length === 2 && confidence >= 0 && confidence <= 1 ? { confidence } : undefined;
    }
    default:
      return undefined;
  }
}

function isKind(word: string | undefined): word is RegionKind {
  return (REGION_KINDS as readonly (string | undefined)[]).includes(word);
}

function isShape(word: string | undefined): word is FadeShape {
  return (FADE_SHAPES as readonly (string | undefined)[]).includes(word);
}

/** RIFF text has no encoding that every program agrees on: what is not printable ASCII is written as in JSON. */
function escaped(label: string): string {
  return label.replace(/[^ -~]|\\/g, (unit) =>
    unit === '\\' ? '\\\\' : `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

function unescaped(text: string): string {
  return text.replace(/\\(?:\\|u([0-9a-fA-F]{4}))/g, (_, code: string | undefined) =>
    code === undefined ? '\\' : String.fromCharCode(Number.parseInt(code, 16)),
  );
}
