import { describe, expect, it } from 'vitest';
import { createRandom } from '../../bench/train/random.js';
import { cutGraph } from '../../bench/voices/cut-graph.js';
import { japanesePhones } from '../../bench/voices/line-phones.js';
import type { ProtobufModule } from '../../bench/voices/neural-packages.js';
import { NEURAL_VOICES, neuralLines } from '../../bench/voices/neural-voices.js';
import { heldVowels, sungPitches } from '../../bench/voices/sung-line.js';
import { LEAD_SECONDS, tokenLabels } from '../../bench/voices/token-labels.js';

describe('a line of romanised Japanese in phones', () => {
  it('spells syllables as they are said: the consonants of Hepburn’s table', () => {
    expect(japanesePhones('shi chi tsu fu hi ji sha jo')).toBe('ɕi ʨi ʦɨ ɸɯ çi ʥi ɕa ʥo.');
    expect(japanesePhones('hashitte shinjite')).toBe('haɕiʔte ɕiɴʥite.');
  });

  it('pauses once the line is long', () => {
    expect(japanesePhones('kakakakakakakakakakakakakakakakaka ka')).toMatch(/ka, ka\.$/);
  });
});

describe('labels from tokens and durations', () => {
  // Units of 25 ms, all of it 53 ms earlier but the ends: by hand.
  it('halves what lies between two phones, and joins pauses', () => {
    const labels = tokenLabels([...'$sˈiː ʃ,$'], [10, 4, 2, 4, 2, 2, 6, 4, 10]);
    const edges = [0, 0.25, 0.375, 0.575, 0.75, 1.1].map((s, i) => (i % 5 === 0 ? s : s - LEAD_SECONDS));
    expect(labels.map(([, , phone]) => phone)).toEqual(['sil', 's', 'i', 'sh', 'sil']);
    labels.forEach(([start, end], i) => {
      expect(start).toBeCloseTo(edges[i] as number, 9);
      expect(end).toBeCloseTo(edges[i + 1] as number, 9);
    });
  });

  it('calls a glide no affricate: j is a sibilant in romanised Japanese', () => {
    expect(tokenLabels([...'$ja$'], [2, 2, 2, 2]).map(([, , phone]) => phone)).toEqual([
      'sil',
      'yy',
      'a',
      'sil',
    ]);
  });
});

describe('a sung line', () => {
  const tokens = [...'$sasa$'];
  const durations = Float32Array.of(8, 4, 10, 4, 60, 8);

  it('holds vowels and leaves consonants and pauses as they are', () => {
    const held = heldVowels(tokens, durations, createRandom(3));
    for (const i of [0, 1, 3, 5]) expect(held[i]).toBe(durations[i]);
    for (const i of [2, 4]) {
      expect(held[i]).toBeGreaterThanOrEqual(Math.round(1.2 * (durations[i] as number)));
      expect(held[i]).toBeLessThanOrEqual(6 * (durations[i] as number));
    }
  });

  it('has a steady note in place of falling speech, with vibrato, and no pitch where there was none', () => {
    const spoken = new Float32Array(188);
    for (let i = 24; i < 44; i++) spoken[i] = 220 - i;
    for (let i = 52; i < 172; i++) spoken[i] = 220 - i / 2;
    const sung = sungPitches(tokens, durations, spoken, createRandom(3));
    expect([...sung.subarray(0, 24), ...sung.subarray(44, 52), ...sung.subarray(172)]).toEqual(
      Array(48).fill(0),
    );
    const semitones = [...sung.subarray(76, 172)].map((hz) => 12 * Math.log2(hz / 220));
    const [least, most] = [Math.min(...semitones), Math.max(...semitones)];
    // Vibrato of ±0.35 semitones around one note; speech fell by 4.5 in that time.
    expect(most - least).toBeGreaterThan(0.5);
    expect(most - least).toBeLessThan(0.75);
  });
});

describe('a network that is cut', () => {
  it('keeps what its outputs need, and takes the inner list in place of what made it', () => {
    const node = (input: string, output: string) => ({ input: [input], output: [output] });
    const graph = {
      node: [
        node('letters', 'times'),
        node('times', 'pitch'),
        node('pitch', 'sound'),
        node('letters', 'other'),
      ],
      input: [{ name: 'letters', type: new Uint8Array() }],
      output: [{ name: 'sound', type: new Uint8Array() }],
    };
    let written: unknown;
    const message = {
      decode: () => structuredClone({ graph }),
      encode: (model: unknown) => {
        written = model;
        return { finish: () => new Uint8Array() };
      },
    };
    const protobuf: ProtobufModule = { parse: () => ({ root: { lookupType: () => message } }) };
    const bare = (list: unknown) => (list as { name: string }[]).map(({ name }) => name);

    cutGraph(protobuf, new Uint8Array(), [{ name: 'times', dimensions: 2 }], null);
    const whole = (written as { graph: typeof graph }).graph;
    expect(whole.node.map(({ output }) => output[0])).toEqual(['pitch', 'sound']);
    expect(bare(whole.input)).toEqual(['times']);

    cutGraph(protobuf, new Uint8Array(), [], [{ name: 'pitch', dimensions: 3 }]);
    const first = (written as { graph: typeof graph }).graph;
    expect(first.node.map(({ output }) => output[0])).toEqual(['times', 'pitch']);
    expect(bare(first.output)).toEqual(['pitch']);
    // TypeProto by ONNX's onnx.proto: tensor_type { elem_type: FLOAT, shape { dim 1, dim 1, dim "n" } }.
    const bytes = [0x0a, 0x11, 8, 1, 0x12, 0x0d, 0x0a, 2, 8, 1, 0x0a, 2, 8, 1, 0x0a, 3, 0x12, 1, 0x6e];
    expect(first.output.map(({ type }) => [...type])).toEqual([bytes]);
  });
});

describe('the voices', () => {
  it('are fifty-four, and no two Japanese ones read the same', () => {
    expect(new Set(NEURAL_VOICES).size).toBe(54);
    const japanese = NEURAL_VOICES.filter((voice) => voice.startsWith('j')).map((voice) =>
      neuralLines(voice),
    );
    expect(japanese.every((lines) => lines.length === 5)).toBe(true);
    expect(new Set(japanese.map(String)).size).toBe(5);
  });
});
