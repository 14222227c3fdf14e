import { cpSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { ROOT, runOrThrow } from './run.mjs';

/** The oldest compiler whose users are served, the last of the fives, and those after it; each is a name of its own in the folder. */
const TYPESCRIPT = { 5.4: '5.4.5', 5.9: '5.9.3', '6.0': '6.0.3', '7.0': '7.0.2' };

export const TYPESCRIPT_VERSIONS = Object.keys(TYPESCRIPT).sort();

/** Puts the packed package, as a user gets it, and the consumers into an empty folder. */
export async function install(folder) {
  await runOrThrow(
    'npm',
    ['pack', '--silent', '--ignore-scripts', '--pack-destination', folder],
    fileURLToPath(ROOT),
  );
  const tarballs = readdirSync(folder).filter((file) => file.endsWith('.tgz'));
  if (tarballs.length !== 1) throw new Error(`npm pack left ${tarballs.length} tarballs in ${folder}`);
  const compilers = Object.entries(TYPESCRIPT).map(
    ([name, version]) => `typescript-${name}@npm:typescript@${version}`,
  );
  const packages = [`./${tarballs[0]}`, 'wavefile@11.0.0', ...compilers];
  const options = ['--no-audit', '--no-fund', '--prefer-offline', '--save-exact'];
  process.stdout.write(await runOrThrow('npm', ['install', ...options, ...packages], folder));
  cpSync(new URL('.ci/consumers/', ROOT), folder, { recursive: true });
  return [];
}
