import { expect, it } from 'vitest';
import { problemLine, refuse } from '../../examples/lib/result.js';
import { regionsFromJson } from '../../src/exchange/regions-from-json.js';

/** What a person reads of a text that is no region file. */
function said(text: string): readonly string[] {
  const read = regionsFromJson(text);
  return read.ok ? [] : read.problems.map(problemLine);
}

it('the whole of a broken file is told as the file, not as the root of its data', () => {
  expect(said('no JSON at all')[0]).toMatch(/^the file must be JSON text \(RFC 8259\); received /);
  expect(said('[]')[0]).toBe('the file must be an object; received an array of 0');
});

it('a field of it is told by its name', () => {
  const file = {
    format: 'lenition.regions',
    version: 1,
    sampleRateHz: 1,
    lengthSamples: 9,
    nextId: 1,
    regions: [],
  };
  expect(said(JSON.stringify(file))).toEqual(['sampleRateHz must lie within [8000, 192000]; received 1']);
});

it('any other place is told as it is', () => {
  const told = refuse('sample rate', 'must lie within 8000 to 192000 Hz', '4000');
  expect(told.ok ? [] : told.problems.map(problemLine)).toEqual([
    'sample rate must lie within 8000 to 192000 Hz; received 4000',
  ]);
});
