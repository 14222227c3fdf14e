import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { HELP, parseTameOptions } from '../../examples/lib/tame-options.js';
import { filesBelow, ROOT } from '../lib/project.js';
import { inlineCommands, type ShellCommand, scriptCall, shellCommands, wordsOf } from './shell-commands.js';

const SCRIPTS = (
  JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { scripts: Record<string, string> }
).scripts;
const pages = ['README.md', 'DEVELOPERS.md', 'CHANGELOG.md']
  .map((path) => ({ path, text: readFileSync(join(ROOT, path), 'utf8') }))
  .concat(filesBelow('docs', '.md').filter(({ path }) => !path.startsWith('docs/site/')))
  .concat(filesBelow('examples/browser', 'README.md'));
const blocks = pages.flatMap(({ path, text }) => shellCommands(path, text));
const inline = pages.flatMap(({ path, text }) => inlineCommands(path, text));
const where = ({ path, line, text }: ShellCommand): string => `${path}:${line}: ${text}`;

describe('the commands in the pages', () => {
  it('are found', () => {
    expect(blocks.length).toBeGreaterThan(15);
    expect(inline.length).toBeGreaterThan(15);
  });

  it('name scripts that package.json has', () => {
    const missing = [...blocks, ...inline].filter((command) => {
      const call = scriptCall(command.text);
      return call !== undefined && SCRIPTS[call.script] === undefined;
    });
    expect(missing.map(where)).toEqual([]);
  });

  it('start files that are there', () => {
    const missing = blocks.filter((command) => {
      const [first, second, file] = wordsOf(command.text);
      return first === 'npx' && second === 'tsx' && !existsSync(join(ROOT, file ?? ''));
    });
    expect(missing.map(where)).toEqual([]);
  });

  it('give `npm start` what it can read', () => {
    const calls = blocks.filter(({ text }) => scriptCall(text)?.script === 'start');
    expect(calls.length).toBeGreaterThan(5);
    const refused = calls.filter(({ text }) => !parseTameOptions(scriptCall(text)?.args ?? []).ok);
    expect(refused.map(where)).toEqual([]);
  });

  it('use options that the help of their script has', () => {
    const unknown = [...blocks, ...inline].flatMap((command) => {
      const call = scriptCall(command.text);
      if (call === undefined || call.script === 'test') return [];
      const options = call.args.filter((word) => word.startsWith('--')).map((word) => word.split('=')[0]);
      const help = options.length === 0 ? '' : helpOf(call.script);
      return options
        .filter((option) => !new RegExp(`(^|[\\s,])${option}(?![\\w-])`, 'm').test(help))
        .map((option) => `${where(command)}: ${option}`);
    });
    expect(unknown).toEqual([]);
  });
});

const helps = new Map([['start', HELP]]);

/** What a script of ours prints for --help. */
function helpOf(script: string): string {
  const known = helps.get(script);
  if (known !== undefined) return known;
  const file = SCRIPTS[script]?.match(/^tsx (\S+\.ts)/)?.[1];
  if (file === undefined)
    throw new Error(`npm run ${script}: no script of ours that could be asked for help`);
  const help = execFileSync(process.execPath, ['--import', 'tsx', file, '--help'], {
    cwd: ROOT,
    encoding: 'utf8',
    timeout: 200_000,
  });
  helps.set(script, help);
  return help;
}

describe('the reading of commands', () => {
  const page =
    'See `npm run a -- --x 1`.\n\n```sh\nnpm ci && npm start   # sings\nnpm run b -- --y "c d"\n```\n';

  it('takes blocks apart, comments away and quotes off', () => {
    expect(shellCommands('p', page).map(({ line, text }) => [line, text])).toEqual([
      [4, 'npm ci'],
      [4, 'npm start'],
      [5, 'npm run b -- --y "c d"'],
    ]);
    expect(scriptCall('npm run b -- --y "c d"')).toEqual({ script: 'b', args: ['--y', 'c d'] });
    expect(scriptCall('npm ci')).toBeUndefined();
  });

  it('finds those in running text, and not those of blocks', () => {
    expect(inlineCommands('p', page)).toEqual([{ path: 'p', line: 1, text: 'npm run a -- --x 1' }]);
  });
});
