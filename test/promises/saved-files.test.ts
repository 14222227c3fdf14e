import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as exchange from '../../src/exchange/index.js';
import { FILED_LIST } from '../exchange/text-form-checks.js';
import { FILED_CHAIN, FILED_HISTORY } from './lib/filed-values.js';

/**
 * For each kind of file that states a version: files of every version as the library of its time wrote them, and the values that they
 * hold, written out by hand. A kept file is never made anew: what is written otherwise needs a new version and a file beside it.
 */
const KINDS: Readonly<
  Record<
    string,
    {
      readonly version: number;
      read(text: string): unknown;
      readonly files: readonly (readonly [string, unknown])[];
    }
  >
> = {
  REGION_FORMAT: {
    version: exchange.REGION_FORMAT_VERSION,
    read: exchange.regionsFromJson,
    files: [['version-1-as-written.regions', FILED_LIST]],
  },
  REGION_TABLE_FORMAT: {
    version: exchange.REGION_TABLE_FORMAT_VERSION,
    read: exchange.regionsFromTable,
    files: [['version-1.tsv', FILED_LIST]],
  },
  REGION_WEBVTT_FORMAT: {
    version: exchange.REGION_WEBVTT_FORMAT_VERSION,
    read: (text) => exchange.regionsFromWebVtt(text),
    files: [['version-1-text.vtt', FILED_LIST]],
  },
  HISTORY_FORMAT: {
    version: exchange.HISTORY_FORMAT_VERSION,
    read: exchange.historyFromJson,
    files: [['version-1.history', FILED_HISTORY]],
  },
  CHAIN_FORMAT: {
    version: exchange.CHAIN_FORMAT_VERSION,
    read: exchange.chainFromJson,
    files: [['version-1.chain', FILED_CHAIN]],
  },
};
const folder = new URL('../exchange/files/', import.meta.url);

describe('every kind of file that the library saves', () => {
  it('is kept as version 1 wrote it, and read', () => {
    for (const [kind, { read, files }] of Object.entries(KINDS))
      for (const [name, value] of files) {
        const text = readFileSync(new URL(name, folder), 'utf8');
        expect(read(text), kind).toStrictEqual({ ok: true, value });
      }
  });

  it('is looked at here, in every version that it had', () => {
    const formats = Object.keys(exchange).filter((name) => `${name}_VERSION` in exchange);
    expect(Object.keys(KINDS).sort()).toEqual(formats.sort());
    for (const [kind, { version, files }] of Object.entries(KINDS)) {
      // One file a version at least, with the number of its version in the name.
      for (let n = 1; n <= version; n++)
        expect(
          files.some(
            ([name]) => new RegExp(`^version-${n}\\b`).test(name) && existsSync(new URL(name, folder)),
          ),
          `${kind}, version ${n}`,
        ).toBe(true);
    }
  });
});
