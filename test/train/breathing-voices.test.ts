import { describe, expect, it } from 'vitest';
import type { LabelledPhone } from '../../bench/lib/corpus.js';
import { breathingVoices } from '../../bench/train/breathing-voices.js';
import { hasNoVoice } from '../../bench/train/has-no-voice.js';

const labels = (...classes: LabelledPhone['phoneClass'][]): LabelledPhone[] =>
  classes.map((phoneClass) => ({ phoneClass }) as LabelledPhone);

describe('hasNoVoice', () => {
  it('is true of breath and silence alone', () => {
    expect(hasNoVoice({ labels: labels('breath', 'silence') })).toBe(true);
    expect(hasNoVoice({ labels: labels('breath', 'sonorant') })).toBe(false);
    expect(hasNoVoice({ labels: labels('sibilant') })).toBe(false);
  });
});

describe('breathingVoices', () => {
  it('are those that speak in no clip of their own, however many composites borrow their breath', () => {
    const clip = (voice: string, voices: string[], ...classes: LabelledPhone['phoneClass'][]) => ({
      voice,
      voices,
      labels: labels(...classes),
    });
    const clips = [
      clip('air', ['air'], 'breath'),
      clip('ann', ['ann'], 'breath'),
      clip('ann', ['ann', 'air'], 'sonorant', 'breath'),
    ];
    expect([...breathingVoices(clips)]).toEqual(['air']);
    expect([...breathingVoices(clips.slice(0, 2))]).toEqual(['air', 'ann']);
  });
});
