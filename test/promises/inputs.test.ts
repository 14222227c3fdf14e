import { createRequire } from 'node:module';
import { join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { describe, expect, it } from 'vitest';
import { docBlocks, runnable } from '../docs/example-blocks.js';
import { filesBelow, publicFolders, ROOT } from '../lib/project.js';
import { snapshotOf } from './lib/argument-snapshot.js';

type Module = Readonly<Record<string, unknown>>;
type Call = (...values: unknown[]) => unknown;

/** Arguments, by place, that a function is there to write to; all others must stay as they are. */
const WRITTEN_TO: Readonly<Record<string, readonly number[]>> = {
  // out and the filter's memory.
  filterBlockInto: [0, 3],
};
const writtenTo = (name: string): readonly number[] => WRITTEN_TO[name] ?? (name.endsWith('Into') ? [0] : []);

const AsyncFunction = (async () => {}).constructor as new (
  ...parts: string[]
) => (...values: unknown[]) => Promise<void>;
const QUIET = { log() {}, info() {}, warn() {}, error() {} };

const folders = new Map<string, Module>();
for (const folder of publicFolders())
  folders.set(folder, (await import(/* @vite-ignore */ join(ROOT, `src/${folder}/index.ts`))) as Module);
const names = new Map([...folders.values()].flatMap((folder) => Object.entries(folder)));
const functions = [...names].filter(([, value]) => typeof value === 'function').map(([name]) => name);

/** How often each function was called, and what changed an argument. */
const calls = new Map<string, number>();
const changes: string[] = [];

/** A function that compares its arguments before and after. */
function watched(name: string, call: Call): Call {
  return (...values) => {
    calls.set(name, (calls.get(name) ?? 0) + 1);
    const before = values.map((value) => snapshotOf(value));
    const result = call(...values);
    values.forEach((value, i) => {
      const written = writtenTo(name).some((place) => value === values[place]);
      if (!written && !isDeepStrictEqual(snapshotOf(value), before[i]))
        changes.push(`${name}, argument ${i + 1}`);
    });
    return watchPush(name, result);
  };
}

/** A stream takes its blocks by push: those too must stay. */
function watchPush(name: string, result: unknown): unknown {
  if (typeof result !== 'object' || result === null || !('push' in result) || Array.isArray(result))
    return result;
  const stream = result as { push: Call };
  const push = watched(`${name}().push`, stream.push.bind(stream));
  return new Proxy(stream, { get: (target, key) => (key === 'push' ? push : Reflect.get(target, key)) });
}

const library = Object.fromEntries(
  [...names].map(([name, value]) => [
    name,
    typeof value === 'function' ? watched(name, value as Call) : value,
  ]),
);

describe('the arguments of every public function', () => {
  it('are as they were after the calls of its examples', async () => {
    const requireInstalled = createRequire(import.meta.url);
    for (const { path, text } of filesBelow('src', '.ts')) {
      const own = (await import(/* @vite-ignore */ join(ROOT, path))) as Module;
      for (const block of docBlocks({ path, text })) {
        const require = (from: string): unknown =>
          from.startsWith('lenition') ? { ...own, ...library } : requireInstalled(from);
        const { javascript } = runnable(block);
        await new AsyncFunction('require', 'exports', 'check', 'console', javascript)(
          require,
          {},
          () => {},
          QUIET,
        );
      }
    }
    expect(changes).toEqual([]);
    // The examples are complete: test/docs/examples.test.ts asks for one for each function.
    expect(functions.length).toBeGreaterThan(100);
    expect(functions.filter((name) => !calls.has(name))).toEqual([]);
  });

  it('are told apart from arguments that were changed', () => {
    const list = { regions: [{ gainDb: 0 }], samples: Float32Array.of(1, -0) };
    const before = snapshotOf(list);
    expect(isDeepStrictEqual(snapshotOf(list), before)).toBe(true);
    list.samples[1] = 0;
    expect(isDeepStrictEqual(snapshotOf(list), before)).toBe(false);
    list.samples[1] = -0;
    list.regions[0]!.gainDb = -6;
    expect(isDeepStrictEqual(snapshotOf(list), before)).toBe(false);
  });
});
