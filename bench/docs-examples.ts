/** Runs the examples and puts what they print into their pages: all of docs/examples, or the pages that are named. */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../', import.meta.url));
const PAGES = fileURLToPath(new URL('../docs/examples/', import.meta.url));

const named = process.argv.slice(2);
const all = readdirSync(PAGES).flatMap((file) => (file.endsWith('.md') ? [file.slice(0, -3)] : []));
for (const name of named.length > 0 ? named : all) {
  const page = `${PAGES}${name}.md`;
  const before = readFileSync(page, 'utf8');
  const printed = outputOf(`examples/${name}.ts`);
  const after = before.replace(/^```text\n[\s\S]*?^```$/m, () => `\`\`\`text\n${printed}\`\`\``);
  if (after !== before) writeFileSync(page, after);
  process.stdout.write(`${name}: ${after === before ? 'as it was' : 'changed'}\n`);
}

/** What a script prints. */
function outputOf(script: string): string {
  try {
    return execFileSync(process.execPath, ['--import', 'tsx', script], {
      cwd: ROOT,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
  } catch (error) {
    const { status, stdout } = error as { readonly status: number | null; readonly stdout: string };
    // An example that refuses something ends with 2, and says so; any other code is a fault.
    if (status !== 2) throw error;
    return stdout;
  }
}
