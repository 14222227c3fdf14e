import { describe, expect, it } from 'vitest';
import { commandOf, KEYS } from '../../examples/browser/state/keys.js';
import { matchText, takeLevelDb } from '../../examples/browser/state/listening.js';
import {
  decibelText,
  lengthText,
  regionText,
  summaryText,
  timeText,
} from '../../examples/browser/state/words.js';
import { pageWith, THREE } from './page.js';

const press = (key: string, more: object = {}) => ({
  key,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  ...more,
});

describe('keys', () => {
  it('stand for one command each', () => {
    const ways = KEYS.map(({ key, shift, ctrl }) => `${key} ${shift} ${ctrl ?? false}`);
    expect(new Set(ways).size).toBe(ways.length);
  });

  it('work with Caps Lock, and tell Shift apart', () => {
    expect(commandOf(press('D'), 'page', true)).toBe('turnDown');
    expect(commandOf(press('U', { shiftKey: true }), 'page', true)).toBe('previousUncertain');
    expect(commandOf(press('z', { ctrlKey: true }), 'page', true)).toBe('undo');
    expect(commandOf(press('Z', { metaKey: true, shiftKey: true }), 'page', true)).toBe('redo');
  });

  it('leave the browser its own: Ctrl with letters, Alt, fields, Space on a button, arrows outside of the view', () => {
    expect(commandOf(press('d', { ctrlKey: true }), 'page', true)).toBeUndefined();
    expect(commandOf(press('d', { altKey: true }), 'page', true)).toBeUndefined();
    expect(commandOf(press('d'), 'field', true)).toBeUndefined();
    expect(commandOf(press(' '), 'button', true)).toBeUndefined();
    expect(commandOf(press(' '), 'view', true)).toBe('play');
    expect(commandOf(press('ArrowUp'), 'page', true)).toBeUndefined();
    expect(commandOf(press('ArrowUp'), 'view', true)).toBe('gainUp');
  });

  it('can be switched off outside of the view (WCAG 2.1, criterion 2.1.4, from memory)', () => {
    expect(commandOf(press('d'), 'page', false)).toBeUndefined();
    expect(commandOf(press('d'), 'view', false)).toBe('turnDown');
    expect(commandOf(press('z', { ctrlKey: true }), 'page', false)).toBe('undo');
  });
});

describe('words', () => {
  it('write decibels, times and lengths', () => {
    expect([decibelText(-6), decibelText(1.55), decibelText(0)]).toEqual(['−6 dB', '+1.6 dB', '0 dB']);
    expect([
      timeText(154080, 48000),
      timeText(59.9999 * 48000, 48000),
      timeText(63.21 * 48000, 48000),
    ]).toEqual(['3.210 s', '1:00.000', '1:03.210']);
    expect([lengthText(5376, 48000), lengthText(60000, 48000)]).toEqual(['112 ms', '1.25 s']);
  });

  it('say what a region is and what a list holds', () => {
    const list = pageWith(THREE).history?.present;
    if (list === undefined) throw new Error('no list');
    const [first] = list.regions;
    if (first === undefined) throw new Error('no region');
    expect(regionText(first, 48000)).toBe('S sibilant, 1.000 s, 100 ms, −6 dB, confidence 0.90');
    expect(regionText({ ...first, bypassed: true, locked: true }, 48000)).toMatch(/, off, locked$/);
    expect(summaryText(list)).toBe('3 regions, 2 turned down, 1 uncertain');
  });
});

describe('matched loudness', () => {
  const loudness = { recordedLufs: -18, tamedLufs: -19.5 };
  const page = { ...pageWith(THREE), matchLoudness: true, loudness };

  it('turns the louder one down by the difference and nothing up', () => {
    expect(takeLevelDb({ ...page, listen: 'recorded' })).toBe(-1.5);
    expect(takeLevelDb({ ...page, listen: 'tamed' })).toBe(0);
    const boosted = { recordedLufs: -19.5, tamedLufs: -18 };
    expect(takeLevelDb({ ...page, listen: 'tamed', loudness: boosted })).toBe(-1.5);
  });

  it('never touches what was taken away, nor what cannot be measured', () => {
    expect(takeLevelDb({ ...page, listen: 'removed' })).toBe(0);
    const silent = { recordedLufs: Number.NEGATIVE_INFINITY, tamedLufs: Number.NEGATIVE_INFINITY };
    expect(takeLevelDb({ ...page, listen: 'recorded', loudness: silent })).toBe(0);
    expect(matchText({ ...page, loudness: silent })).toMatch(/Too short or too soft/);
    expect(matchText(page)).toBe('-18.0 LUFS recorded, -19.5 tamed. As recorded plays 1.5 dB lower.');
  });
});
