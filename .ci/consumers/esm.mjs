// An ES module that imports every entry of the installed package.
import { readFileSync } from 'node:fs';
import runJobs from './job.cjs';

const manifest = readFileSync(new URL(import.meta.resolve('lenition/package.json')), 'utf8');
const subpaths = Object.keys(JSON.parse(manifest).exports).filter((subpath) => !subpath.endsWith('.json'));
const entries = {};
for (const subpath of subpaths) entries[subpath] = await import(`lenition${subpath.slice(1)}`);
process.exitCode = runJobs(entries) === 0 ? 0 : 1;
