import fc from 'fast-check';

/**
 * Set up before every test file: properties draw the same cases in every run, so that a test that passed yesterday fails today
 * only where something changed. `PROPERTY_SEED=n` draws others: `.ci/repeat-suite` counts it up, and `npm run fuzz` draws anew.
 */
const { PROPERTY_SEED } = typeof process === 'object' ? process.env : {};
fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(PROPERTY_SEED ?? 1) });
