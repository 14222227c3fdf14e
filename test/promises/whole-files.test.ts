import { spawnSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { writeWhole } from '../../examples/lib/write-file.js';
import { filesBelow, ROOT } from '../lib/project.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'lenition-whole-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** The unfinished files beside a result. */
const leftovers = (): string[] => readdirSync(folder).filter((name) => name.endsWith('.part'));

function writeAndBeKilled(path: string): void {
  const { signal } = spawnSync(
    process.execPath,
    ['--import', 'tsx', 'test/promises/lib/killed-writer.ts', path],
    {
      cwd: ROOT,
      timeout: 200_000,
    },
  );
  expect(signal).toBe('SIGKILL');
}

describe('a process that is killed while it writes', () => {
  test('leaves no file of the name, or the one that was there, whole', () => {
    const path = join(folder, 'a.tamed.wav');
    writeAndBeKilled(path);
    const [unfinished, ...others] = readdirSync(folder);
    expect(others).toEqual([]);
    expect(unfinished).toMatch(/^\.a\.tamed\.wav\.\d+\.part$/);
    // Otherwise it was killed before it wrote anything.
    expect(statSync(join(folder, unfinished as string)).size).toBe(64 * 65_536);

    writeFileSync(path, 'the result of an earlier run');
    writeAndBeKilled(path);
    expect(readFileSync(path, 'utf8')).toBe('the result of an earlier run');
    expect(leftovers()).toHaveLength(2);
  });

  test('stops no later run from writing, also one of the same process number', () => {
    const path = join(folder, 'a.tamed.wav');
    for (const name of [`.a.tamed.wav.${process.pid}.part`, `.a.tamed.wav.${process.pid}-1.part`])
      writeFileSync(join(folder, name), 'left behind');
    expect(writeWhole(path, [Uint8Array.of(1, 2), Uint8Array.of(3)])).toEqual({ ok: true, value: 3 });
    expect([...readFileSync(path)]).toEqual([1, 2, 3]);
    for (const name of leftovers()) expect(readFileSync(join(folder, name), 'utf8')).toBe('left behind');
    expect(leftovers()).toHaveLength(2);
  });
});

describe('a file that is being written', () => {
  test('has its name only when all of it is there, and the earlier one until then', () => {
    const path = join(folder, 'a.svg');
    const seen: string[] = [];
    const look = (): void => {
      try {
        seen.push(readFileSync(path, 'utf8'));
      } catch {
        seen.push('none');
      }
    };
    function* pieces(text: string): Generator<Uint8Array> {
      look();
      yield Buffer.from(text);
      look();
      yield Buffer.from('.');
      look();
    }
    expect(writeWhole(path, pieces('first')).ok).toBe(true);
    expect(writeWhole(path, pieces('second')).ok).toBe(true);
    look();
    expect(seen).toEqual(['none', 'none', 'none', 'first.', 'first.', 'first.', 'second.']);
    expect(leftovers()).toEqual([]);
  });

  test('is given up without a trace where something fails half-way', () => {
    const path = join(folder, 'a.svg');
    writeFileSync(path, 'earlier');
    const failing = function* (): Generator<Uint8Array> {
      yield Buffer.from('half');
      throw new Error('the sum went wrong');
    };
    const result = writeWhole(path, failing());
    expect(result.ok ? [] : result.problems.map(({ rule }) => rule)).toEqual([
      'cannot be used: the sum went wrong',
    ]);
    mkdirSync(join(folder, 'taken'));
    expect(writeWhole(join(folder, 'taken'), [Buffer.from('x')]).ok).toBe(false);
    expect(readFileSync(path, 'utf8')).toBe('earlier');
    expect(readdirSync(folder).sort()).toEqual(['a.svg', 'taken']);
  });

  test('replaces a link and does not follow it', () => {
    writeFileSync(join(folder, 'original.wav'), 'a recording');
    symlinkSync(join(folder, 'original.wav'), join(folder, 'a.tamed.wav'));
    expect(writeWhole(join(folder, 'a.tamed.wav'), [Buffer.from('tamed')]).ok).toBe(true);
    expect(readFileSync(join(folder, 'original.wav'), 'utf8')).toBe('a recording');
    expect(readFileSync(join(folder, 'a.tamed.wav'), 'utf8')).toBe('tamed');
  });
});

describe('the examples', () => {
  /** What else writes, and how often: stand-ins for recordings, made in a folder of their own; a stream that is renamed at its end. */
  const ALLOWED: Readonly<Record<string, number>> = {
    'examples/lib/write-file.ts': 1,
    'examples/many-files.ts': 1,
    'examples/tame-one-take.ts': 1,
    'examples/stream-a-long-file.ts': 4,
  };

  test('write results through writeWhole alone', () => {
    const found = filesBelow('examples', '.ts')
      .filter(({ path }) => !path.startsWith('examples/browser/'))
      .map(({ path, text }) => {
        const writes = text.match(
          /\b(writeFile(Sync)?|writeSync|writev(Sync)?|appendFile(Sync)?|copyFile(Sync)?|createWriteStream)\(/g,
        );
        return [path, writes?.length ?? 0] as const;
      })
      .filter(([, count]) => count > 0);
    expect(Object.fromEntries(found)).toEqual(ALLOWED);
    const stream = filesBelow('examples', 'stream-a-long-file.ts')[0]!.text;
    expect(stream).toMatch(/openSync\(`\$\{tamedFile\}\.part`, 'wx'\)/);
    expect(stream).toMatch(/renameSync\(`\$\{tamedFile\}\.part`, tamedFile\)/);
  });
});
