/** A line that a reader is told to type. */
export interface ShellCommand {
  readonly path: string;
  /** Line of the file, from 1. */
  readonly line: number;
  readonly text: string;
}

/** The commands in the shell blocks of a Markdown file, without comments and with `&&` taken apart. */
export function shellCommands(path: string, text: string): readonly ShellCommand[] {
  return [...text.matchAll(/^```(?:sh|bash|shell)[^\S\n]*\n([\s\S]*?)^```[^\S\n]*$/gm)].flatMap((match) => {
    const first = text.slice(0, match.index).split('\n').length + 1;
    return (match[1] as string).split('\n').flatMap((line, index) =>
      line
        .replace(/(^|\s)#.*$/, '')
        .split('&&')
        .map((part) => ({ path, line: first + index, text: part.trim() }))
        .filter((command) => command.text !== ''),
    );
  });
}

/** The commands of npm in running text, between backquotes. */
export function inlineCommands(path: string, text: string): readonly ShellCommand[] {
  const prose = text.replace(/^```[\s\S]*?^```[^\S\n]*$/gm, (block) => block.replace(/[^\n]/g, ' '));
  return [...prose.matchAll(/`(npm (?:start|test|run)\b[^`\n]*)`/g)].map((match) => ({
    path,
    line: prose.slice(0, match.index).split('\n').length,
    text: match[1] as string,
  }));
}

/** The words of a command; quoted ones lose their quotes. */
export function wordsOf(command: string): readonly string[] {
  return [...command.matchAll(/"([^"]*)"|'([^']*)'|(\S+)/g)].map(([, a, b, c]) => a ?? b ?? c ?? '');
}

/** The script of package.json that a command starts, and what it passes on; undefined for other commands. */
export function scriptCall(
  command: string,
): { readonly script: string; readonly args: readonly string[] } | undefined {
  const words = wordsOf(command);
  if (words[0] !== 'npm') return undefined;
  const isRun = words[1] === 'run' || words[1] === 'run-script';
  const named = words.slice(1).filter((word) => !/^-(s|-silent)$/.test(word));
  const script = isRun ? named[1] : named[0];
  if (script === undefined || (!isRun && script !== 'start' && script !== 'test')) return undefined;
  const dashes = words.indexOf('--');
  return { script, args: dashes < 0 ? [] : words.slice(dashes + 1) };
}
