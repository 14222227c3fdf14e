/** One small real job for each entry of the package; what is expected comes from a formula or from the input, never from a run. */
const assert = require('node:assert/strict');
const { START, END, makeClip } = require('./material.cjs');

const CLIP = { sampleRateHz: 48000, lengthSamples: 96000 };
const SIXTH = 10 ** (-6 / 20);

/** Bits of floats: === takes 0 for −0. */
const bits = (samples) => new Uint32Array(samples.buffer, samples.byteOffset, samples.length);

/** What carries no region must be the input's to the bit; the middle of each region must be 6 dB lower. */
function checkRendered(samples, tamed, { regions }) {
  const [before, after] = [bits(samples), bits(tamed)];
  const inside = (n) => regions.some((region) => n >= region.startSample && n < region.endSample);
  let untouched = 0;
  for (let n = 0; n < samples.length; n++) {
    if (inside(n)) continue;
    assert.equal(after[n], before[n], `sample ${n} lies outside the regions`);
    untouched++;
  }
  assert.ok(untouched < samples.length, 'no sample lies in a region');
  for (const { startSample, endSample } of regions) {
    const middle = (startSample + endSample) >> 1;
    assert.equal(tamed[middle], Math.fround(SIXTH * samples[middle]));
  }
}

/** One hiss: sibilants alone, over half of it at least, none more than 50 ms away. How closely they lie is not this check's concern. */
function checkFound(regions) {
  assert.deepEqual([...new Set(regions.map(({ kind }) => kind))], ['sibilant']);
  const covered = regions.reduce(
    (sum, { startSample, endSample }) =>
      sum + Math.max(0, Math.min(END, endSample) - Math.max(START, startSample)),
    0,
  );
  assert.ok(covered > (END - START) / 2, `${covered} samples of the hiss were found`);
  for (const { startSample, endSample } of regions)
    assert.ok(startSample > START - 2400 && endSample < END + 2400, `${startSample} to ${endSample}`);
}

const jobs = {
  '.'({ detectConsonants, fixedCut, placeEdges, renderGain }, { samples }) {
    const found = detectConsonants(samples, { sampleRateHz: 48000 });
    const list = fixedCut(placeEdges(found, samples), { gainDb: -6 });
    checkFound(list.regions);
    checkRendered(samples, renderGain(samples, list), list);
  },
  './signal'({ amplitudeFromDecibels, rmsDbfs }) {
    // A sine of full scale has an RMS of 1/√2; −3.0103 dB.
    const sine = Float32Array.from({ length: 48000 }, (_, n) => Math.sin((2 * Math.PI * n) / 48));
    assert.ok(Math.abs(rmsDbfs(sine) - 20 * Math.log10(Math.SQRT1_2)) < 1e-5);
    assert.equal(amplitudeFromDecibels(-20), 0.1);
  },
  './regions'({ createRegionList, insertRegion, regionAt, totalSamples }) {
    const list = insertRegion(createRegionList(CLIP), { startSample: START, endSample: END });
    assert.equal(totalSamples(list.regions), END - START);
    assert.equal(regionAt(list, START)?.id, 1);
  },
  './features'({ analyse }) {
    // A square wave of amplitude 1 has an RMS of 1: 0 dB.
    const square = Float32Array.from({ length: 4800 }, (_, n) => (n % 8 < 4 ? 1 : -1));
    assert.equal(analyse(square, { sampleRateHz: 48000, features: ['levelDb'] }).columns.levelDb[10], 0);
  },
  './detection'({ createConsonantDetector, detectConsonants }, { samples }) {
    const whole = detectConsonants(samples, { sampleRateHz: 48000 }).regions;
    checkFound(whole);
    const stream = createConsonantDetector({ sampleRateHz: 48000 });
    const pieces = [];
    for (let n = 0; n < samples.length; n += 1000) pieces.push(...stream.push(samples.slice(n, n + 1000)));
    assert.deepEqual([...pieces, ...stream.flush()], whole);
  },
  './simd'({ simdEngine }, { samples, detectConsonants }) {
    const engine = simdEngine();
    // With WebAssembly or without, what is found is the same.
    assert.equal(engine.problem === null, engine.name === 'webassembly');
    const edges = ({ regions }) =>
      regions.map(({ kind, startSample, endSample }) => [kind, startSample, endSample]);
    assert.deepEqual(
      edges(detectConsonants(samples, { sampleRateHz: 48000, engine })),
      edges(detectConsonants(samples, { sampleRateHz: 48000 })),
    );
  },
  './levels'({ measureLevels }, { samples, list }) {
    let sum = 0;
    for (const x of samples.subarray(START, END)) sum += x * x;
    const rmsDb = 10 * Math.log10(sum / (END - START));
    // The table works in doubles as this does; 1e-6 dB leaves room for another order of the sum.
    assert.ok(Math.abs(measureLevels(samples, list).byId.get(1).rmsDbfs - rmsDb) < 1e-6);
  },
  './gain'({ createGainRenderer, fixedCut, renderGain }, { samples, list }) {
    const cut = fixedCut(list, { gainDb: -6 });
    const tamed = renderGain(samples, cut);
    checkRendered(samples, tamed, cut);
    const streamed = samples.slice();
    const renderer = createGainRenderer(cut);
    for (let n = 0; n < streamed.length; n += 128) {
      const block = streamed.subarray(n, n + 128);
      renderer.pushInto(block, block);
    }
    assert.deepEqual(bits(streamed), bits(tamed));
  },
  './takes'({ groupEvents }, { samples, list }) {
    const take = (id, offsetSamples) => ({ id, channels: samples, list, offsetSamples, gainDb: 0 });
    const groups = groupEvents([take('lead', 0), take('high', 960)]);
    assert.deepEqual(
      groups.map(({ members }) => members.map(({ takeId }) => takeId)),
      [['lead', 'high']],
    );
    assert.equal(groups[0].onsetSpreadSeconds, 0.02);
  },
  './forecast'({ runChain }, { samples }) {
    const { channels } = runChain(samples, { stages: [] }, { sampleRateHz: 48000 });
    assert.deepEqual(bits(channels[0]), bits(samples));
  },
  './evaluation'({ errorRates, eventScores }) {
    const at = (startSeconds) => ({ startSeconds, endSeconds: startSeconds + 0.1, label: 's' });
    // One hit, one miss, one false find: precision and recall 1/2, so F = 1/2.
    assert.equal(errorRates(eventScores([at(0), at(1)], [at(0), at(2)])).fMeasure, 0.5);
  },
  './exchange'({ regionsFromJson, regionsToJson }, { list }) {
    const text = regionsToJson(list);
    const back = regionsFromJson(text);
    assert.deepEqual(back, { ok: true, value: list });
    assert.equal(regionsToJson(back.value), text);
    assert.equal(regionsFromJson('{').ok, false);
  },
  './picture'({ drawTake }, { samples, list }) {
    const svg = drawTake(samples, list, { name: 'burst' });
    assert.match(svg, /^<svg[\s\S]*burst[\s\S]*<\/svg>\s*$/);
  },
};

/** Runs every job; `entries` holds each module by its subpath. Gives the number of failures. */
module.exports = function runJobs(entries) {
  const { createRegionList, detectConsonants, insertRegion } = entries['.'];
  const draft = { kind: 'sibilant', startSample: START, endSample: END };
  const list = insertRegion(createRegionList(CLIP), draft);
  const missing = Object.keys(jobs).filter((subpath) => !(subpath in entries));
  for (const subpath of missing)
    console.log(`NOT ok lenition${subpath.slice(1)}: the package has no such entry`);
  let failed = missing.length;
  for (const [subpath, library] of Object.entries(entries)) {
    const name = `lenition${subpath.slice(1)}`;
    const samples = makeClip();
    const before = bits(samples).slice();
    try {
      assert.ok(jobs[subpath], 'there is no job for it in .ci/consumers/job.cjs');
      jobs[subpath](library, { samples, list, detectConsonants });
      assert.deepEqual(bits(samples), before, 'the input was changed');
      console.log(`ok ${name}`);
    } catch (error) {
      failed++;
      console.log(`NOT ok ${name}: ${error.message}`);
    }
  }
  return failed;
};
