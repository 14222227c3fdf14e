import { describe, expect, it } from 'vitest';
import { createConsonantModel } from '../../src/detection/consonant-model.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { demoLead } from '../lib/demo-lead.js';

describe('the model of the package', () => {
  it('is handed out anew each time: who changes its numbers changes nobody else', () => {
    const { samples, sampleRateHz } = demoLead();
    const before = detectConsonants(samples, { sampleRateHz }).regions;
    expect(before.length).toBeGreaterThan(0);
    const mine = createConsonantModel();
    for (const numbers of [mine.frames.weights, mine.events.weights, mine.events.means, mine.events.spreads])
      numbers.fill(0);
    expect(detectConsonants(samples, { sampleRateHz }).regions).toEqual(before);
    for (const numbers of [createConsonantModel().frames.weights, createConsonantModel().events.weights])
      expect(numbers.some((value) => value !== 0)).toBe(true);
  });
});
