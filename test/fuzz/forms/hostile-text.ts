import type { Random } from '../lib/random-tools.js';

/** Numbers as no reader likes them: not finite, not exact, not whole, too long, in other alphabets. */
const NUMBERS = [
  'NaN',
  'Infinity',
  '-Infinity',
  '-0',
  '-1',
  '0',
  '0.5',
  '4294967296',
  '2147483648',
  '9007199254740991',
  '9007199254740992',
  '9007199254740993',
  '-9007199254740993',
  '1e21',
  '1e308',
  '1e999',
  '-1e999',
  '1e-400',
  '0x10',
  '00',
  '1.',
  '.5',
  '+1',
  '1_000',
  '1,5',
  '\u0663',
  '\uFF11',
  '',
  'null',
  '"7"',
  '9'.repeat(400),
  `0.${'3'.repeat(900)}`,
];

const TEXTS = [
  '',
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  'then',
  '\uD800',
  '\\ud800',
  '\uDC00\uD800',
  '\u0000',
  '\\u0000',
  '\uFEFF',
  '\u2028',
  '\u202E',
  '-->',
  '--',
  '&amp;&lt;',
  '<b',
  '</c>',
  '=cmd()',
  "'",
  '"',
  '""',
  '\\',
  '\\x',
  '\\u12',
  'a\tb',
  'a\r\nb',
  '\u00E9\u0301',
  '\u{1F600}',
  'sibilant',
  'Sibilant',
  'true',
  'undefined',
  '[object Object]',
  'x'.repeat(2000),
];

const MARKS = [
  '',
  '{',
  '}',
  '[',
  ']',
  ',',
  ',,',
  ':',
  '"',
  '\t',
  '\n',
  '\r',
  '\r\n',
  '\r\r\n',
  '\n\n',
  '\0',
  '\uFEFF',
  '\u0085',
  '\u2028',
  ' ',
  ';',
  '#',
  '-->',
  '\\',
  '//',
  '/*',
];

const MEMBERS = [
  '"__proto__":{"polluted":true},',
  '"__proto__":null,',
  '"constructor":{"prototype":{"polluted":true}},',
  '"prototype":{"polluted":true},',
  '"toString":1,',
  '"hasOwnProperty":1,',
  '"regions":[],',
  '"id":1,',
  '"length":4294967295,',
  '"toJSON":0,',
  '"":0,',
];

/** What a text is made of: quoted parts, numbers, words, line ends, single units. */
const TOKEN = /"(?:[^"\\]|\\.)*"|-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?|[A-Za-z_$][\w$.]*|\r\n|[\s\S]/g;

/** A sound text with a few of its parts exchanged for hostile ones. */
export function swapped(text: string, random: Random): string {
  const tokens = text.match(TOKEN) ?? [];
  for (let hits = 1 + random.below(random.oneIn(2) ? 1 : 4); hits > 0 && tokens.length > 0; hits--) {
    const at = random.below(tokens.length);
    const token = tokens[at]!;
    const way = random.below(12);
    if (way === 0) tokens[at] = '';
    else if (way === 1) tokens[at] = token + token;
    else if (way === 2) tokens[at] = tokens[random.below(tokens.length)]!;
    else if (way === 3) tokens[at] = nested(token, 1 + random.below(random.oneIn(20) ? 2000 : 40), random);
    else if (token === '{') tokens[at] = `{${random.pick(MEMBERS)}`;
    else tokens[at] = exchanged(token, random);
  }
  return tokens.join('');
}

function exchanged(token: string, random: Random): string {
  if (token.startsWith('"')) return random.oneIn(4) ? random.pick(TEXTS) : `"${random.pick(TEXTS)}"`;
  // Half of the numbers stay near what was there, so that some texts are still taken.
  if (/^-?\d/.test(token))
    return random.oneIn(2) ? random.pick(NUMBERS) : String(Number(token) + random.below(5) - 2);
  if (/^[A-Za-z_$]/.test(token)) return random.oneIn(3) ? random.pick(NUMBERS) : random.pick(TEXTS);
  return random.pick(MARKS);
}

function nested(inner: string, depth: number, random: Random): string {
  if (random.oneIn(2)) return '['.repeat(depth) + inner + ']'.repeat(depth);
  return random.oneIn(2) ? `${'{"a":'.repeat(depth)}1${'}'.repeat(depth)}` : '['.repeat(depth);
}

/** Lines doubled, dropped, exchanged, joined, or ended in other ways. */
export function shuffled(text: string, random: Random): string {
  const lines = text.split(/\r\n|\n|\r/);
  for (let hits = 1 + random.below(4); hits > 0; hits--) {
    const at = random.below(lines.length);
    const way = random.below(6);
    if (way === 0) lines.splice(at, 1);
    else if (way === 1) lines.splice(at, 0, lines[random.below(lines.length)] ?? '');
    else if (way === 2) lines[at] = random.pick(lines) ?? '';
    else if (way === 3) lines[at] = `${lines[at]}${random.pick(TEXTS)}`;
    else if (way === 4) lines[at] = `${random.pick(MARKS)}${lines[at]}`;
    else lines.splice(at, 0, random.pick(TEXTS));
  }
  const end = random.pick(['\n', '\n', '\r\n', '\r', '\n\r', '\u2028']);
  return random.oneIn(4)
    ? lines.map((line) => line + random.pick(['\n', '\r\n', '\r'])).join('')
    : lines.join(end);
}

/** Texts so large or so deep that a careless reader runs out of time, stack or memory; rare, since they are slow to make. */
export function enormous(text: string, random: Random): string {
  const lines = text.split('\n');
  const way = random.below(8);
  if (way === 0) return '['.repeat(100_000);
  if (way === 1) return `${'{"a":'.repeat(100_000)}1${'}'.repeat(100_000)}`;
  if (way === 2)
    return text.replace(/\d+/, (digits) => `${'['.repeat(100_000)}${digits}${']'.repeat(100_000)}`);
  if (way === 3) return `${lines[0]}\n${`${lines.at(-2) ?? lines[0]}\n`.repeat(1000)}`;
  if (way === 4) return text.replace(/"[^"]*"/, `"${'\\u0000'.repeat(20_000)}"`);
  if (way === 5) return text + random.pick(TEXTS).repeat(2000).slice(0, 300_000);
  if (way === 6) return random.pick(MARKS).repeat(100_000);
  return `${text}\n${'x'.repeat(200_000)}${random.pick(MARKS)}`;
}
