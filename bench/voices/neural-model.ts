import { cutGraph, type InnerList } from './cut-graph.js';
import { neuralPackages, type Tensor } from './neural-packages.js';

/** Samples per second of what it says. */
export const NEURAL_RATE_HZ = 24_000;
/** One unit of duration. */
export const UNIT_SECONDS = 0.025;
/** Two pitches a unit. */
export const PITCHES_PER_UNIT = 2;

const STYLE_NUMBERS = 256;
const DURATIONS: InnerList = { name: '/encoder/Clip_output_0', dimensions: 2 };
const PITCHES: InnerList = { name: '/decoder/decoder/Unsqueeze_output_0', dimensions: 3 };
// One thread and the same order of sums give the same samples again.
const SESSION = { intraOpNumThreads: 1, interOpNumThreads: 1, logSeverityLevel: 3 };

/** A line of tokens, and the voice that is to say it. */
export interface NeuralLine {
  readonly tokens: readonly string[];
  readonly style: Float32Array;
}

/** A synthesiser of three steps, so that durations and pitches can be changed between them. */
export interface NeuralModel {
  /** Tokens of a line written in phones, a pause before and after; letters that it does not know are left out. */
  line(phones: string, voice: string): NeuralLine;
  durations(line: NeuralLine, speed: number): Promise<Float32Array>;
  /** Pitch in hertz, PITCHES_PER_UNIT a unit, near 0 where there is no voice. */
  pitches(line: NeuralLine, durations: Float32Array): Promise<Float32Array>;
  samples(line: NeuralLine, durations: Float32Array, pitches: Float32Array): Promise<Float32Array>;
}

/** Loads the network from a folder: see neural-packages.ts. */
export async function neuralModel(folder: string): Promise<NeuralModel> {
  const { runtime, protobuf, read } = neuralPackages(folder);
  const network = read('kokoro-quantized.onnx');
  const letters = JSON.parse(read('tokenizer.json').toString('utf8')).model.vocab as Record<string, number>;
  const start = async (inputs: readonly InnerList[], outputs: readonly InnerList[] | null) =>
    runtime.InferenceSession.create(cutGraph(protobuf, network, inputs, outputs), SESSION);
  const timing = await start([], [DURATIONS]);
  const melody = await start([DURATIONS], [PITCHES]);
  const sound = await start([DURATIONS, PITCHES], null);

  const floats = (data: Float32Array, ...shape: number[]): Tensor =>
    new runtime.Tensor('float32', data, shape);
  const given = ({ tokens, style }: NeuralLine) => ({
    input_ids: new runtime.Tensor(
      'int64',
      BigInt64Array.from(tokens.map((token) => BigInt(letters[token] as number))),
      [1, tokens.length],
    ),
    style: floats(style, 1, STYLE_NUMBERS),
  });
  const timed = (durations: Float32Array) => ({ [DURATIONS.name]: floats(durations, 1, durations.length) });
  const result = (found: Record<string, Tensor>, name: string): Float32Array =>
    Float32Array.from((found[name] as Tensor).data);

  return {
    line(phones, voice) {
      const known = [...phones].filter((letter) => letter in letters);
      const bytes = read(`voices/${voice}.bin`);
      const styles = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4);
      // A voice has a style for each length of line.
      const style = styles.slice(known.length * STYLE_NUMBERS, (known.length + 1) * STYLE_NUMBERS);
      return { tokens: ['$', ...known, '$'], style };
    },
    durations: async (line, speed) =>
      result(await timing.run({ ...given(line), speed: floats(Float32Array.of(speed), 1) }), DURATIONS.name),
    pitches: async (line, durations) =>
      result(await melody.run({ ...given(line), ...timed(durations) }), PITCHES.name),
    samples: async (line, durations, pitches) =>
      result(
        await sound.run({
          ...given(line),
          ...timed(durations),
          [PITCHES.name]: floats(pitches, 1, 1, pitches.length),
        }),
        'waveform',
      ),
  };
}
