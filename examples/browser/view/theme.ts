import { INK, KIND_STYLES, PAPER, SOFT_INK } from '../../../src/picture/kind-style.js';
import type { RegionKind } from '../../../src/regions/region.js';

/** Colours of what is drawn; letters and patterns are the library's in both. */
export interface Theme {
  readonly isDark: boolean;
  readonly paper: string;
  readonly ink: string;
  readonly softInk: string;
  readonly line: string;
  readonly mark: string;
  readonly recorded: string;
  readonly tamed: string;
  readonly kinds: Readonly<Record<RegionKind, string>>;
}

const LIGHT: Theme = {
  isDark: false,
  paper: PAPER,
  ink: INK,
  softInk: SOFT_INK,
  line: '#d9d3c6',
  mark: '#8a5a00',
  recorded: '#bdb6c2',
  tamed: '#3d6670',
  kinds: Object.fromEntries(
    Object.entries(KIND_STYLES).map(([kind, { colour }]) => [kind, colour]),
  ) as Record<RegionKind, string>,
};

/** The same hues, lighter: each at least 4.5:1 against the dark paper. */
const DARK: Theme = {
  isDark: true,
  paper: '#1a1720',
  ink: '#f3efe6',
  softInk: '#b9b2c0',
  line: '#3a3544',
  mark: '#f0b64c',
  recorded: '#56505f',
  tamed: '#86bcc6',
  kinds: {
    sibilant: '#ff8fab',
    fricative: '#8fbfff',
    burst: '#eab365',
    breath: '#6ed3bd',
    click: '#cfa6f7',
    noise: '#b6bfca',
    cymbal: '#d6ca5c',
    custom: '#f3efe6',
  },
};

/** The theme for what the reader's system asks for. */
export function themeFor(isDark: boolean): Theme {
  return isDark ? DARK : LIGHT;
}
