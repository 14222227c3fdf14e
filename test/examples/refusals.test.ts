import { chmodSync, linkSync, mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { makeWav } from './make-wav.js';
import { namesIn, put, run, sing, temporaryDirectory } from './run.js';

let home = '';
let out = '';
beforeEach(() => {
  home = temporaryDirectory();
  out = join(home, 'out');
});

const WAV = makeWav({ tag: 1, bits: 16, channels: [[1, 2, 3, 4]] });
const NAN = makeWav({ tag: 3, bits: 32, channels: [[0, 0, Number.NaN]], extensible: true });

describe('a bad file is refused with exit code 2 and one line that names it', () => {
  const bad: readonly (readonly [string, Uint8Array | null, RegExp])[] = [
    ['missing', null, /bad\.wav: file does not exist$/],
    ['not a WAV', new TextEncoder().encode('not a sound'), /bad\.wav: file is not a WAV file; received/],
    ['empty', new Uint8Array(0), /bad\.wav: file is empty$/],
    ['truncated', WAV.slice(0, WAV.length - 2), /bad\.wav: file is truncated: .* 8 bytes; received 6 bytes$/],
    ['zero samples', makeWav({ tag: 1, bits: 16, channels: [[]] }), /bad\.wav: file holds no samples$/],
    ['NaN', NAN, /bad\.wav: sample 2 of channel 1 is not a finite number; received NaN$/],
  ];
  for (const [name, bytes, line] of bad) {
    test(`${name}, and the good files around it are still done`, () => {
      const path = bytes === null ? join(home, 'bad.wav') : put(home, 'bad.wav', bytes);
      const ran = run(['--out', out, sing(home, 'first.wav'), path, sing(home, 'last.wav')]);
      expect(ran.code).toBe(2);
      expect(ran.errorLines.length).toBe(1);
      expect(ran.errorLines[0]).toMatch(line);
      expect(namesIn(out)).toEqual(
        ['first', 'last'].flatMap((n) => [`${n}.regions.json`, `${n}.svg`, `${n}.tamed.wav`]),
      );
    });
  }

  test('a directory', () => {
    expect(run(['--out', out, home]).err).toMatch(/: file is a directory\n$/);
  });

  test('alone, it leaves no result and no caution about results', () => {
    const ran = run(['--out', out, join(home, 'bad.wav')]);
    expect([ran.code, ran.out, namesIn(out)]).toEqual([2, '', []]);
  });

  test('a fault of the treatment itself costs that file alone', () => {
    const drawTake = (channels: readonly Float32Array[]): string => {
      if (channels.length === 2) throw new RangeError('drawTake: channels\nmust be one');
      return '<svg/>';
    };
    const ran = run(['--out', out, sing(home, 'a.wav', 2), sing(home, 'b.wav')], false, { drawTake });
    expect([ran.code, ran.errorLines.length]).toEqual([2, 1]);
    expect(ran.err).toMatch(/a\.wav: .*drawTake: channels must be one/);
    expect(namesIn(out)).toEqual(['b.regions.json', 'b.svg', 'b.tamed.wav']);
  });

  test('a name with control characters cannot break the line', () => {
    expect(run(['--out', out, join(home, 'a\nb\u001b[2J.wav')]).errorLines.length).toBe(1);
  });
});

describe('an output directory that cannot be used stops the call with exit code 2 and one line', () => {
  test('a file of that name', () => {
    const ran = run(['--out', put(home, 'taken', 'x'), sing(home, 'a.wav')]);
    expect([ran.code, ran.out, ran.errorLines.length]).toEqual([2, '', 1]);
    expect(ran.err).toMatch(/taken: output directory is not a directory$/m);
  });

  test('a file on the way to it', () => {
    put(home, 'taken', 'x');
    const ran = run(['--out', join(home, 'taken', 'deeper'), sing(home, 'a.wav')]);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/output directory leads through something that is not a directory$/m);
  });

  // The superuser may write anywhere, so there is nothing to refuse.
  test.skipIf(process.getuid?.() === 0)('one without the right to write', () => {
    mkdirSync(out);
    chmodSync(out, 0o500);
    const ran = run(['--out', out, sing(home, 'a.wav')]);
    expect([ran.code, ran.errorLines.length]).toEqual([2, 1]);
    expect(ran.err).toMatch(/output directory may not be accessed/);
  });

  test('a result that cannot be put in place leaves nothing half-written', () => {
    mkdirSync(join(out, 'a.tamed.wav'), { recursive: true });
    const ran = run(['--out', out, sing(home, 'a.wav')]);
    expect([ran.code, ran.errorLines.length]).toEqual([2, 1]);
    expect(ran.err).toMatch(/a\.tamed\.wav is a directory/);
    expect(namesIn(out)).toEqual(['a.tamed.wav']);
  });
});

describe('a bad option stops the call with exit code 2 and one line', () => {
  for (const args of [['--loud'], ['--cut', 'x'], ['--kinds', 'vowel'], ['--min-confidence', '-1']]) {
    test(args.join(' '), () => {
      const ran = run([...args, '--out', out, sing(home, 'a.wav')]);
      expect([ran.code, ran.out, ran.errorLines.length]).toEqual([2, '', 1]);
      expect(namesIn(home)).toEqual(['a.wav']);
    });
  }
});

describe('no input is ever written over', () => {
  function refusedAndUnchanged(args: readonly string[], inputs: readonly string[], done: number): void {
    const before = inputs.map((path) => readFileSync(path));
    const ran = run(args);
    expect([ran.code, ran.errorLines.length]).toEqual([2, 1]);
    expect(ran.err).toMatch(/written over the input/);
    expect(ran.out.match(/wrote .*tamed\.wav\n/g)?.length ?? 0).toBe(done);
    for (const [i, path] of inputs.entries()) expect(readFileSync(path).equals(before[i]!)).toBe(true);
  }

  test('not where the result of one has the path of another', () => {
    const inputs = [sing(home, 'a.wav'), sing(home, 'a.tamed.wav')];
    refusedAndUnchanged(['--out', home, ...inputs], inputs, 1);
  });

  test('not where that path is reached through a linked directory', () => {
    const inputs = [sing(home, 'a.wav'), sing(home, 'a.tamed.wav')];
    symlinkSync(home, join(home, 'link'));
    refusedAndUnchanged(['--out', join(home, 'link'), ...inputs], inputs, 1);
  });

  test('not where the result is a link to the input', () => {
    mkdirSync(out);
    const input = sing(home, 'a.wav');
    symlinkSync(input, join(out, 'a.tamed.wav'));
    refusedAndUnchanged(['--out', out, input], [input], 0);
  });

  test('not where the input is a link to where the result would go', () => {
    const real = sing(home, 'a.tamed.wav');
    symlinkSync(real, join(home, 'a.wav'));
    refusedAndUnchanged(['--out', home, join(home, 'a.wav')], [real], 0);
  });

  test('not where the result has a hard link to the input', () => {
    mkdirSync(out);
    const input = sing(home, 'a.wav');
    linkSync(input, join(out, 'a.svg'));
    refusedAndUnchanged(['--out', out, input], [input], 0);
  });

  test('two inputs of one name do not overwrite each other: the second is refused', () => {
    mkdirSync(join(home, 'x'));
    const [first, second] = [sing(home, 'a.wav', 1), sing(join(home, 'x'), 'A.WAV', 2)];
    const ran = run(['--out', out, first, second]);
    expect([ran.code, ran.errorLines.length]).toEqual([2, 1]);
    expect(ran.err).toMatch(/A\.WAV: file has the same name as .*a\.wav, so its results would overwrite/);
    expect(ran.asked).toEqual([{ channels: 1, sampleRateHz: 48000 }]);
  });

  test('a file that only the results of another would create counts as missing', () => {
    const ran = run(['--out', home, sing(home, 'a.wav'), join(home, 'a.tamed.wav')]);
    expect([ran.code, ran.errorLines.length]).toEqual([2, 1]);
    expect(ran.err).toMatch(/a\.tamed\.wav: file does not exist/);
  });

  test('a link at a result that leads elsewhere is replaced, not followed', () => {
    mkdirSync(out);
    const precious = put(home, 'precious.txt', 'keep me');
    symlinkSync(precious, join(out, 'a.tamed.wav'));
    expect(run(['--out', out, sing(home, 'a.wav')]).code).toBe(0);
    expect(readFileSync(precious, 'utf8')).toBe('keep me');
  });
});
