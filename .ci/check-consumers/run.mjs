import { spawn } from 'node:child_process';

/** Runs a program; gives its exit code and what it wrote, both streams as they came. */
export function run(command, args, folder) {
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] });
    let output = '';
    for (const stream of [child.stdout, child.stderr])
      stream.setEncoding('utf8').on('data', (text) => {
        output += text;
      });
    child.on('error', (error) => resolve({ code: -1, output: `${output}${error.message}\n` }));
    child.on('close', (code) => resolve({ code: code ?? -1, output }));
  });
}

/** Runs a program that has to succeed; gives what it wrote. */
export async function runOrThrow(command, args, folder) {
  const { code, output } = await run(command, args, folder);
  if (code !== 0) throw new Error(`${[command, ...args].join(' ')} ended with ${code}\n${output}`);
  return output;
}

/** The folder of package.json. */
export const ROOT = new URL('../..', import.meta.url);
