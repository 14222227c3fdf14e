import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { decodeWave } from '../../examples/lib/wave-file.js';
import { regionsFromJson } from '../../src/exchange/regions-from-json.js';
import type { RegionList } from '../../src/regions/region.js';
import { codes, makeWav } from './make-wav.js';
import { FRAMES, namesIn, put, run, sing, temporaryDirectory } from './run.js';

let home = '';
let out = '';
beforeEach(() => {
  home = temporaryDirectory();
  out = join(home, 'made', 'here');
});

function listIn(name: string): RegionList {
  const result = regionsFromJson(readFileSync(join(out, name), 'utf8'));
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

/** First and one past the last frame in which two WAV files differ, and how many frames do. */
function difference(a: string, b: string): { first: number; end: number; count: number } {
  const [left, right] = [a, b].map((path) => decodeWave(readFileSync(path)).channels);
  const frames = Array.from({ length: FRAMES }, (_, i) => i).filter((i) =>
    left?.some((channel, c) => channel[i] !== right?.[c]?.[i]),
  );
  return { first: frames[0] ?? -1, end: (frames.at(-1) ?? -2) + 1, count: frames.length };
}

describe('a run with a chain', () => {
  const CHAIN = {
    format: 'lenition.chain',
    version: 1,
    name: 'bright',
    stages: [{ kind: 'equaliser', filters: [{ kind: 'highShelf', frequencyHz: 3000, gainDb: 4 }] }],
  };

  test('writes the take as heard through it, as recorded and tamed, in floats', () => {
    const file = sing(home, 'verse.wav');
    const chain = put(home, 'chain.json', Buffer.from(JSON.stringify(CHAIN)));
    const ran = run(['--out', out, '--chain', chain, '--hear', file]);
    expect([ran.code, ran.err]).toEqual([0, '']);
    const heard = ['recorded', 'tamed'].map((which) =>
      decodeWave(readFileSync(join(out, `verse.${which}-in-chain.wav`))),
    );
    expect(heard.map(({ depth }) => depth)).toEqual(['32f', '32f']);
    // The same outside the region: an equaliser's memory of it is over long before the end.
    const [recorded, tamed] = heard.map(({ channels }) => channels[0]!);
    expect(recorded!.length).toBe(FRAMES);
    expect(recorded!.slice(0, 900)).toEqual(tamed!.slice(0, 900));
    expect(recorded).not.toEqual(tamed);
  });

  test('says by how much what the chain made loud goes past full scale, and nothing where it does not', () => {
    const file = sing(home, 'verse.wav');
    const cautionsWith = (gainDb: number): { readonly cautions: string[]; readonly peaks: number[] } => {
      const filters = [{ kind: 'lowShelf', frequencyHz: 15000, gainDb }];
      const text = JSON.stringify({ ...CHAIN, stages: [{ kind: 'equaliser', filters }] });
      const ran = run(['--out', out, '--chain', put(home, 'chain.json', Buffer.from(text)), '--hear', file]);
      const peaks = ['recorded', 'tamed'].map((which) =>
        decodeWave(readFileSync(join(out, `verse.${which}-in-chain.wav`))).channels[0]!.reduce(
          (most, sample) => Math.max(most, Math.abs(sample)),
          0,
        ),
      );
      return { cautions: ran.out.split('\n').filter((line) => line.includes('in-chain.wav peaks')), peaks };
    };
    const loud = cautionsWith(24);
    expect(Math.min(...loud.peaks)).toBeGreaterThan(1);
    expect(loud.cautions.map((line) => line.match(/caution: (.*) past full scale/)?.[1])).toEqual(
      ['recorded', 'tamed'].map(
        (which, i) => `verse.${which}-in-chain.wav peaks ${(20 * Math.log10(loud.peaks[i]!)).toFixed(1)} dB`,
      ),
    );
    const soft = cautionsWith(-24);
    expect(Math.max(...soft.peaks)).toBeLessThanOrEqual(1);
    expect(soft.cautions).toEqual([]);
  });

  test('never writes a result over the chain file', () => {
    run(['--out', out, sing(home, 'other.wav')]);
    const chain = put(out, 'verse.regions.json', Buffer.from(JSON.stringify(CHAIN)));
    const ran = run(['--out', out, '--chain', chain, sing(home, 'verse.wav')]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('written over the input');
    expect(readFileSync(chain, 'utf8')).toBe(JSON.stringify(CHAIN));
  });

  test('takes a preset by its name, and draws the forecast', () => {
    const ran = run(['--out', out, '--chain', 'gentle levelling', sing(home, 'verse.wav')]);
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(namesIn(out)).toContain('verse.forecast.svg');
  });

  test('refuses a chain file that breaks a rule, with its place, and writes nothing', () => {
    const file = sing(home, 'verse.wav');
    const broken = { ...CHAIN, stages: [{ kind: 'compressor', thresholdDb: -20, ratio: 0.5 }] };
    const chain = put(home, 'chain.json', Buffer.from(JSON.stringify(broken)));
    const ran = run(['--out', out, '--chain', chain, file]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('ratio');
    expect(namesIn(out)).toEqual([]);
    expect(run(['--out', out, '--chain', join(home, 'none.json'), file]).code).toBe(2);
  });
});

describe('a good run', () => {
  test('gives the treated WAV, the region file and the picture, makes the directory, ends with 0', () => {
    const ran = run(['--out', out, sing(home, 'verse.wav')]);
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(namesIn(out)).toEqual(['verse.regions.json', 'verse.svg', 'verse.tamed.wav']);
    expect(readFileSync(join(out, 'verse.svg'), 'utf8')).toBe('<svg><!-- verse.wav: 2 regions --></svg>');
    for (const name of namesIn(out)) expect(ran.out).toContain(`wrote ${join(out, name)}\n`);
    expect(ran.out).toMatch(/Originals are unchanged\. Listen .* moderate level/);
  });

  test('cuts the sibilant by 6 dB, finds and lists the breath at 0 dB, leaves the input alone', () => {
    const file = sing(home, 'verse.wav', 2);
    const before = readFileSync(file);
    expect(run(['--out', out, file]).code).toBe(0);
    expect(readFileSync(file).equals(before)).toBe(true);
    expect(listIn('verse.regions.json').regions.map((r) => [r.kind, r.gainDb])).toEqual([
      ['sibilant', -6],
      ['breath', 0],
    ]);
    const sibilant = listIn('verse.regions.json').regions[0]!;
    const changed = difference(file, join(out, 'verse.tamed.wav'));
    expect(changed.first).toBeGreaterThanOrEqual(sibilant.startSample);
    expect(changed.end).toBeLessThanOrEqual(sibilant.endSample);
    // All of the 1000 samples but the two fades, each at most a third of the region, must have changed.
    expect(changed.count).toBeGreaterThan(333);
    const [was, is] = [file, join(out, 'verse.tamed.wav')].map((path) => decodeWave(readFileSync(path)));
    for (const c of [0, 1])
      expect(
        Math.abs(is!.channels[c]![1500]! - 10 ** (-6 / 20) * was!.channels[c]![1500]!),
      ).toBeLessThanOrEqual(0.5001);
  });

  test('cuts other kinds and by other amounts when asked', () => {
    run(['--out', out, '--cut', '-3', '--kinds', 'breath', sing(home, 'verse.wav')]);
    expect(listIn('verse.regions.json').regions.map((r) => r.gainDb)).toEqual([0, -3]);
  });

  test('asks for one detection for all channels, with the confidence that was given', () => {
    const ran = run(['--out', out, '--min-confidence', '0.2', sing(home, 'verse.wav', 3)]);
    expect(ran.asked).toEqual([{ channels: 3, sampleRateHz: 48000, minConfidence: 0.2 }]);
    expect(run(['--out', out, sing(home, 'verse.wav')]).asked).toEqual([
      { channels: 1, sampleRateHz: 48000 },
    ]);
  });

  test('prints count, median cut, seconds touched, loudest, uncertain ones, time and ratio', () => {
    const file = put(home, 'tone.wav', makeWav({ tag: 1, bits: 16, channels: [Array(FRAMES).fill(16384)] }));
    const ran = run(['--out', out, file]);
    // 16384 of 32768 is 20·log10(1/2) = −6.02 dB; 1000 of 48000 samples a second is 0.0208 s, and the fades add to it.
    expect(ran.out).toMatch(/\n {2}sibilant +1 +1 +6\.0 dB +0\.02\d +0 +-6\.0 dBFS at 0:00\.021\n/);
    expect(ran.out).toMatch(/\n {2}breath +1 +0 +- +0\.000 +1 +-6\.0 dBFS at 0:00\.063\n/);
    expect(ran.out).toMatch(/\n {2}all +2 +1 +6\.0 dB +0\.02\d +1 +/);
    expect(ran.out).toContain('listen to these first (confidence below 0.9): breath at 0:00.063 (0.40)\n');
    expect(ran.out).toContain('\n  left as they are: breath (--kinds names what is turned down)\n');
    expect(run(['--out', out, '--kinds', 'sibilant,breath', file]).out).not.toContain('left as they are');
    // The clock of the test goes on by 0.01 s a look, and is looked at before and after finding and finishing.
    expect(ran.out).toContain('took 0.02 s for 0:00.100 of audio: 5.0 times faster than it plays\n');
  });

  test('prints what the bandwidth check has to say', () => {
    const bandwidthWarnings = () => [{ rule: 'dull', message: 'nothing above 4 kHz' }];
    expect(run(['--out', out, sing(home, 'a.wav')], false, { bandwidthWarnings }).out).toContain(
      '  caution: nothing above 4 kHz\n',
    );
  });

  test('shows progress only on a terminal, and wipes it', () => {
    const ran = run(['--out', out, sing(home, 'a.wav'), sing(home, 'b.wav')], true);
    expect(ran.err).toContain('[2/2] b.wav: finding');
    expect(ran.err.endsWith('\r\u001b[K')).toBe(true);
    expect(ran.err).not.toContain('\n');
  });

  test('a short file without any find is copied as it is', () => {
    const bytes = makeWav({ tag: 1, bits: 24, channels: [codes(1, 24, 1, 1)] });
    const ran = run(['--out', out, put(home, 'tick.wav', bytes)]);
    expect([ran.code, readFileSync(join(out, 'tick.tamed.wav')).equals(bytes)]).toEqual([0, true]);
    expect(ran.out).toMatch(/\n {2}all +0 +0 +- +0\.000 +0 +-\n/);
  });

  test('--stack holds two copies of one take at 2 dB over the lead, or lets the other give, or leaves it', () => {
    const files = [sing(home, 'a.wav'), sing(home, 'b.wav')];
    const cuts = (...more: string[]): number[] => {
      const ran = run(['--out', out, '--stack', ...more, ...files]);
      expect([ran.code, ran.err]).toEqual([0, '']);
      expect(ran.out).toContain('stack of 2 takes, a.wav leads');
      return ['a', 'b'].map((name) => listIn(`${name}.regions.json`).regions[0]!.gainDb);
    };
    const [lead, other] = cuts();
    expect([lead, other! < lead! - 6]).toEqual([-6, true]);
    // Heard: over the noise, from 1000 to 2000, the sum stands 2 dB over the lead; the search ends within 0.05 dB of that,
    // and rounding to 24 bits is far below.
    const [a, b] = ['a', 'b'].map(
      (name) => decodeWave(readFileSync(join(out, `${name}.tamed.wav`))).channels[0]!,
    );
    const power = (of: (i: number) => number): number =>
      Array.from({ length: 1000 }, (_, i) => of(1000 + i) ** 2).reduce((sum, x) => sum + x, 0);
    const overLeadDb = 10 * Math.log10(power((i) => a![i]! + b![i]!) / power((i) => a![i]!));
    expect(Math.abs(overLeadDb - 2)).toBeLessThan(0.06);
    expect(cuts('--others', 'give')).toEqual([-6, -18]);
    expect(cuts('--others', 'own')).toEqual([-6, -6]);
    expect(namesIn(out)).toContain('a.stack.svg');
    expect(namesIn(out).length).toBe(7);
  });

  test('--stack with an empty take says so in one line and treats the rest by itself', () => {
    const empty = makeWav({ tag: 1, bits: 24, channels: [[]] });
    const ran = run(['--out', out, '--stack', sing(home, 'a.wav'), put(home, 'b.wav', empty)]);
    expect(ran.code).toBe(2);
    expect(ran.errorLines).toHaveLength(1);
    expect(listIn('a.regions.json').regions[0]!.gainDb).toBe(-6);
  });

  test('--stack refuses a take of another sample rate and treats the rest', () => {
    const other = makeWav({ tag: 1, bits: 16, sampleRateHz: 44100, channels: [Array(FRAMES).fill(9)] });
    const files = [sing(home, 'a.wav'), put(home, 'b.wav', other), sing(home, 'c.wav')];
    const ran = run(['--out', out, '--stack', ...files]);
    expect(ran.code).toBe(2);
    expect(ran.errorLines).toHaveLength(1);
    expect(ran.err).toMatch(
      /b\.wav: sample rate must be that of the lead \(48000 Hz\) in a stack; received 44100 Hz/,
    );
    expect(namesIn(out).filter((name) => name.endsWith('.wav'))).toEqual(['a.tamed.wav', 'c.tamed.wav']);
  });

  test('without a file makes the demonstration and treats it', () => {
    const ran = run(['--out', out]);
    expect(ran.code).toBe(0);
    const made = ['demonstration-harmony', 'demonstration-lead'];
    const names = made.flatMap((name) =>
      ['.regions.json', '.svg', '.tamed.wav', '.wav'].map((end) => name + end),
    );
    expect(namesIn(out)).toEqual([...names, 'demonstration-lead.stack.svg'].sort());
    const lead = decodeWave(readFileSync(join(out, 'demonstration-lead.wav')));
    expect([lead.depth, lead.sampleRateHz, lead.channels[0]?.[7]]).toEqual(['24', 48000, 0.25 * 2 ** 23]);
    expect(run(['--out', out]).code).toBe(0);
  });

  test('--help prints the options and writes nothing', () => {
    const ran = run(['--help', '--out', out, 'gone.wav']);
    expect([ran.code, ran.err, namesIn(home)]).toEqual([0, '', []]);
    for (const name of ['--cut', '--kinds', '--min-confidence', '--regions', '--out', '--stack'])
      expect(ran.out).toContain(name);
  });
});

describe('an edited region file', () => {
  function edited(change: (list: { regions: { gainDb: number; bypassed: boolean }[] }) => void): string {
    const list = JSON.parse(readFileSync(join(out, 'verse.regions.json'), 'utf8'));
    change(list);
    return put(home, 'edited.json', JSON.stringify(list));
  }

  test('is applied in place of a detection', () => {
    const file = sing(home, 'verse.wav');
    run(['--out', out, file]);
    const regions = edited((list) => {
      list.regions[0]!.bypassed = true;
      list.regions[1]!.gainDb = -12;
    });
    const ran = run(['--out', out, '--regions', regions, file]);
    expect([ran.code, ran.err, ran.asked]).toEqual([0, '', []]);
    const breath = listIn('verse.regions.json').regions[1]!;
    const changed = difference(file, join(out, 'verse.tamed.wav'));
    expect(changed.first).toBeGreaterThanOrEqual(breath.startSample);
    expect(changed.end).toBeLessThanOrEqual(breath.endSample);
    expect(changed.count).toBeGreaterThan(333);
  });

  test('unedited, gives the same WAV again; edited in place, it is not written over', () => {
    const file = sing(home, 'verse.wav');
    run(['--out', out, file]);
    const regions = join(out, 'verse.regions.json');
    const [wav, text] = [readFileSync(join(out, 'verse.tamed.wav')), `${readFileSync(regions, 'utf8')}\n`];
    put(out, 'verse.regions.json', text);
    const ran = run(['--out', out, '--regions', regions, file]);
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(readFileSync(join(out, 'verse.tamed.wav')).equals(wav)).toBe(true);
    expect(readFileSync(regions, 'utf8')).toBe(text);
    expect(ran.out).not.toContain(`wrote ${regions}`);
  });

  test('of another recording is refused', () => {
    run(['--out', out, sing(home, 'verse.wav')]);
    const other = put(home, 'other.wav', makeWav({ tag: 1, bits: 16, channels: [[1, 2, 3]] }));
    const ran = run(['--out', out, '--regions', join(out, 'verse.regions.json'), other]);
    expect([ran.code, ran.errorLines.length]).toEqual([2, 1]);
    expect(ran.err).toMatch(
      /other\.wav: region file belongs to another recording.*received 48000 Hz and 4800 samples/,
    );
  });

  test('that is missing, broken or breaks a rule is refused in one line with its path', () => {
    const file = sing(home, 'verse.wav');
    run(['--out', out, file]);
    const gone = run(['--out', out, '--regions', join(home, 'gone.json'), file]);
    expect([gone.code, gone.errorLines.length]).toEqual([2, 1]);
    expect(gone.err).toMatch(/gone\.json: region file does not exist/);
    const broken = run(['--out', out, '--regions', put(home, 'b.json', '{"format":\n'), file]);
    expect([broken.code, broken.errorLines.length]).toEqual([2, 1]);
    const wrong = edited((list) => {
      list.regions[1]!.gainDb = 99;
    });
    const ran = run(['--out', out, '--regions', wrong, file]);
    expect([ran.code, ran.errorLines.length]).toEqual([2, 1]);
    expect(ran.err).toMatch(/regions\[1\]\.gainDb.*99/);
  });

  test('with a boost past full scale gives a caution', () => {
    const file = sing(home, 'verse.wav');
    run(['--out', out, file]);
    const ran = run([
      '--out',
      out,
      '--regions',
      edited((list) => {
        list.regions[0]!.gainDb = 12;
      }),
      file,
    ]);
    expect(ran.out).toMatch(/caution: \d+ samples were held at full scale because a region is turned up/);
  });
});
