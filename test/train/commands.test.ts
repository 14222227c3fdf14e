import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WaveFile } from 'wavefile';
import { createRandom } from '../../bench/train/random.js';
import { EVENT_MEASURE_COUNT } from '../../src/detection/event-measures.js';
import type { PackedWeights } from '../../src/detection/packed-weights.js';
import { unpackWeights } from '../../src/detection/packed-weights.js';
import { ROOT } from '../lib/project.js';

type Exported = 'FRAME_WEIGHTS' | 'EVENT_MEANS' | 'EVENT_SPREADS' | 'EVENT_WEIGHTS';

const root = mkdtempSync(join(tmpdir(), 'training-'));
const corpus = join(root, 'corpus');
afterAll(() => rmSync(root, { recursive: true }));

/** "asa" over and over: a buzz with a low spectrum and high noise, by another seed and pitch for every voice. */
beforeAll(() => {
  const sampleRateHz = 16000;
  for (const [i, voice] of ['alba', 'bela', 'cara'].entries()) {
    mkdirSync(join(corpus, voice), { recursive: true });
    const random = createRandom(i);
    const samples = new Float32Array(3 * sampleRateHz);
    let before = 0;
    for (let n = 0; n < samples.length; n++) {
      const noise = random.normal();
      const s = n % 8000 >= 5600;
      samples[n] = s
        ? 0.08 * (noise - before)
        : 0.2 * Math.sin((2 * Math.PI * (150 + 20 * i) * n) / sampleRateHz) ** 9;
      before = noise;
    }
    const file = new WaveFile();
    file.fromScratch(
      1,
      sampleRateHz,
      '16',
      Array.from(samples, (x) => Math.round(32767 * x)),
    );
    writeFileSync(join(corpus, voice, 'asa.wav'), file.toBuffer());
    const labels = Array.from(
      { length: 6 },
      (_, k) => `${k / 2}\t${k / 2 + 0.35}\ta\n${k / 2 + 0.35}\t${(k + 1) / 2}\ts\n`,
    );
    writeFileSync(join(corpus, voice, 'asa.tsv'), labels.join(''));
  }
});

function run(script: string, ...args: string[]) {
  return runOn(corpus, script, ...args);
}

function runOn(voices: string, script: string, ...args: string[]) {
  const command = [
    '--import',
    'tsx',
    `bench/train/${script}`,
    '--corpus',
    voices,
    '--epochs',
    '8',
    '--breaths',
    '1',
    ...args,
  ];
  return spawnSync(process.execPath, command, { encoding: 'utf8', cwd: ROOT });
}

describe('bench/train/train.ts', () => {
  it('writes a module of weights that says where it comes from, the same for the same seed', async () => {
    const [first, second] = ['1', '2'].map((name) => join(root, name, 'weights.ts'));
    const outcome = run('train.ts', '--out', first!);
    expect(outcome.stderr).toContain(`wrote ${first}`);
    expect(outcome.stderr).toContain('model, fold 3: epoch 8 of 8');
    run('train.ts', '--out', second!, '--workers', '1');
    const text = readFileSync(first!, 'utf8');
    expect(readFileSync(second!, 'utf8')).toBe(text);
    expect(text).toContain('--seed 1 --epochs 8 --channels 24');
    expect(text).toContain('bela: 1 clips, 0.1 minutes');
    expect(text).toMatch(
      /^ \* Events of \d+ more, with breaths made out of noise or hard onsets of vowels: 0\.\d minutes$/m,
    );

    const module = (await import(pathToFileURL(first!).href)) as Readonly<Record<Exported, PackedWeights>>;
    // Shapes as src/detection documents them: 28 inputs, 24 channels, four layers of five taps; three times 12 hidden units, joined.
    expect(unpackWeights(module.FRAME_WEIGHTS)).toHaveLength(29 * 24 + 4 * (5 * 24 + 24 * 24 + 24) + 25 * 6);
    expect(unpackWeights(module.EVENT_MEANS)).toHaveLength(EVENT_MEASURE_COUNT);
    expect(unpackWeights(module.EVENT_SPREADS).every((spread) => spread > 0)).toBe(true);
    expect(unpackWeights(module.EVENT_WEIGHTS)).toHaveLength((EVENT_MEASURE_COUNT + 1) * 36 + 37 * 5);
    expect(module).toMatchObject({
      MODEL_SHAPE: { channelCount: 24, kernelFrames: 5, dilations: [1, 2, 4, 8] },
    });
  });

  it('does not hear what is held out', () => {
    const out = join(root, 'held', 'weights.ts');
    const { stderr } = run('train.ts', '--hold-out', 'bela', '--out', out);
    expect(stderr).toContain('wrote');
    expect(readFileSync(out, 'utf8')).toContain('Held out: bela.');
    expect(readFileSync(out, 'utf8')).not.toContain('bela: 1 clips');
  });

  it('teaches made breaths to the network for events alone', async () => {
    const networks = join(root, 'train-networks.json');
    const [one, two] = [1, 2].map((mouths) => {
      const out = join(root, `mouths-${mouths}`, 'weights.ts');
      const kept = ['--networks', networks, '--breaths', `${mouths}`, '--out', out];
      return { out, stderr: run('train.ts', ...kept).stderr };
    });
    expect(one!.stderr).toContain('model, whole: epoch 8 of 8');
    expect(two!.stderr).not.toContain('epoch');
    const modules = await Promise.all([one!, two!].map(({ out }) => import(pathToFileURL(out).href)));
    expect(modules[1].FRAME_WEIGHTS).toEqual(modules[0].FRAME_WEIGHTS);
    expect(modules[1].EVENT_WEIGHTS).not.toEqual(modules[0].EVENT_WEIGHTS);
  });

  it('says what is wrong, fails, and writes nothing', () => {
    const out = join(root, 'none.ts');
    for (const [args, message] of [
      [['--corpus', join(root, 'nowhere')], /^No labelled voices in .*nowhere/],
      [['--folder', 'dora'], /--folder: dora not in/],
      [['--channels', '7'], /--channels: must be a multiple of 2 from 2 on; received 7/],
      [['--hold-out', 'alba,bela'], /two voices are needed/],
    ] as const) {
      const outcome = run('train.ts', ...args, '--out', out);
      expect(outcome.stderr).toMatch(message);
      expect(outcome.status).toBe(1);
    }
    expect(existsSync(out)).toBe(false);
  });
});

describe('bench/train/leave-one-out.ts', () => {
  it('scores every folder by networks that never heard it', () => {
    const json = join(root, 'scores.json');
    const { stdout, stderr } = run('leave-one-out.ts', '--json', json);
    expect(stdout).toContain('strict F1, mean over folders');
    expect(stderr).toContain('without cara: epoch 8 of 8');
    const figures = JSON.parse(readFileSync(json, 'utf8')).figures;
    expect(figures.map(({ folder }: { folder: string }) => folder)).toEqual(['alba', 'bela', 'cara']);
    expect(figures.map((each: { sibilantLabels: number }) => each.sibilantLabels)).toEqual([6, 6, 6]);
  });

  it('scores the folders of the first corpus, and lets the others teach', () => {
    const others = join(root, 'others');
    cpSync(join(corpus, 'alba'), join(others, 'dora'), { recursive: true });
    const json = join(root, 'first.json');
    const { stderr } = run('leave-one-out.ts', '--corpus', others, '--json', json);
    expect(stderr).toContain('without voices that only teach: epoch 8 of 8');
    expect(stderr).not.toContain('without voices that only teach: events');
    const { figures } = JSON.parse(readFileSync(json, 'utf8'));
    expect(figures.map(({ folder }: { folder: string }) => folder)).toEqual(['alba', 'bela', 'cara']);
  });

  it('scores every recording by networks that heard its voice in others', () => {
    const twice = join(root, 'twice');
    for (const voice of ['alba', 'bela']) {
      cpSync(join(corpus, voice), join(twice, voice), { recursive: true });
      for (const kind of ['wav', 'tsv'])
        cpSync(join(corpus, voice, `asa.${kind}`), join(twice, voice, `asb.${kind}`));
    }
    const [json, report] = [join(root, 'recordings.json'), join(root, 'recordings.md')];
    const { stderr } = runOn(
      twice,
      'leave-one-out.ts',
      ...['--by', 'recordings', '--json', json, '--write', report],
    );
    expect(stderr).toContain('without recordings 2: epoch 8 of 8');
    // Made breaths are in five parts; what they teach is nobody's to score.
    expect(stderr).not.toContain('without recordings 3: events');
    const { figures } = JSON.parse(readFileSync(json, 'utf8'));
    expect(figures.map((each: { sibilantLabels: number }) => each.sibilantLabels)).toEqual([12, 12]);
    expect(readFileSync(report, 'utf8')).toMatch(/^# Accuracy on recordings held out of training\n/);
  });

  it('says what can be held out, and trains nothing', () => {
    const { stderr, status } = run('leave-one-out.ts', '--by', 'songs');
    expect(stderr).toBe('--by: must be voices or recordings; received songs\n');
    expect(status).toBe(1);
  });

  it('lists and draws what is not found as it is labelled', () => {
    const [mislabelled, errors] = [join(root, 'mislabelled'), join(root, 'errors')];
    cpSync(corpus, mislabelled, { recursive: true });
    const labels = join(mislabelled, 'cara', 'asa.tsv');
    const vowel = '0\t0.35\ta\n';
    writeFileSync(labels, readFileSync(labels, 'utf8').replace(vowel, '0\t0.2\ts\n0.2\t0.35\ta\n'));
    const json = join(root, 'listed.json');
    runOn(mislabelled, 'leave-one-out.ts', '--errors', errors, '--json', json);
    for (const figures of JSON.parse(readFileSync(json, 'utf8')).figures) {
      const [head, ...rows] = readFileSync(join(errors, `${figures.folder}.tsv`), 'utf8')
        .trim()
        .split('\n');
      expect(head).toMatch(/^clip\twhat\tstart s/);
      const listed = (what: string) => rows.filter((row) => row.split('\t')[1] === what).length;
      expect(listed('miss')).toBe(Math.round((1 - figures.strictRecall) * figures.sibilantLabels));
      expect(listed('no harsh region')).toBe(
        Math.round((1 - figures.unvoicedRecall) * figures.unvoicedLabels),
      );
    }
    expect(readFileSync(join(errors, 'cara.tsv'), 'utf8')).toContain('\nasa\tmiss\t0.000\t0.200\ts\t');
    for (const what of ['miss', 'no_harsh_region'])
      expect(readFileSync(join(errors, `cara-asa-0.000-${what}.svg`), 'utf8')).toMatch(/^<svg/);
  });

  it('says which file holds no networks, and trains nothing', () => {
    const damaged = join(root, 'damaged.json');
    writeFileSync(damaged, '{"a": ');
    const { stderr, status } = run('leave-one-out.ts', '--networks', damaged);
    expect(stderr).toContain(`--networks: ${damaged} holds no networks`);
    expect(stderr).not.toContain('epoch');
    expect(status).toBe(1);
    expect(readFileSync(damaged, 'utf8')).toBe('{"a": ');
  });

  it('takes networks that it kept, for the same voices and settings alone', () => {
    const networks = join(root, 'kept', 'networks.json');
    const [json, again] = [join(root, 'trained.json'), join(root, 'kept.json')];
    const first = run('leave-one-out.ts', '--networks', networks, '--json', json);
    expect(first.stderr).toContain('without cara: epoch 8 of 8');
    const second = run('leave-one-out.ts', '--networks', networks, '--json', again);
    expect(second.stderr).toContain('without cara: ');
    expect(second.stderr).not.toContain('epoch');
    expect(readFileSync(again, 'utf8')).toBe(readFileSync(json, 'utf8'));
    // Made breaths teach events alone: with those of more mouths the networks for frames are the same.
    const breathing = run('leave-one-out.ts', '--networks', networks, '--breaths', '2', '--json', again);
    expect(breathing.stderr).toContain('without voices that only teach: ');
    expect(breathing.stderr).not.toContain('epoch');
    const others = run('leave-one-out.ts', '--networks', networks, '--folder', 'alba', '--folder', 'bela');
    // Without bela there was alba and cara before, and now there is alba alone.
    expect(others.stderr).toContain('without bela: epoch 8 of 8');
  });
});
