// A CommonJS script that requires every entry of the installed package.
const runJobs = require('./job.cjs');

const { exports: all } = require('lenition/package.json');
const subpaths = Object.keys(all).filter((subpath) => !subpath.endsWith('.json'));
const entries = Object.fromEntries(
  subpaths.map((subpath) => [subpath, require(`lenition${subpath.slice(1)}`)]),
);
process.exitCode = runJobs(entries) === 0 ? 0 : 1;
