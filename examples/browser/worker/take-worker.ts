import { bandwidthWarnings } from '../../../src/detection/bandwidth-warnings.js';
import { preemptiveCut } from '../../../src/forecast/preemptive-cut.js';
import { placeEdges } from '../../../src/gain/place-edges.js';
import { renderGain } from '../../../src/gain/render-gain.js';
import { shortenedFlags } from '../../../src/gain/shortened-flags.js';
import { measureLevels } from '../../../src/levels/measure-levels.js';
import { overCutFlags } from '../../../src/levels/over-cut-flags.js';
import type { LevelTable } from '../../../src/levels/region-level.js';
import type { RegionList } from '../../../src/regions/region.js';
import { integratedLoudness } from '../../../src/signal/loudness.js';
import type { Samples } from '../../../src/signal/samples.js';
import { simdEngine } from '../../../src/simd/simd-engine.js';
import { patchedPieces, treatWav } from '../../lib/treat-wav.js';
import { readWav, type Wav } from '../../lib/wav-bytes.js';
import { builtInBacking, builtInTake } from './built-in.js';
import { type Finding, findInSteps } from './find-in-steps.js';
import type { TakeAnswer, TakeRequest } from './messages.js';

// Finds in two thirds of the time; where the page's policy forbids WebAssembly, it does the same sums in JavaScript.
const engine = simdEngine();
// The take lives here: its bytes, so that a tamed file keeps every other one of them, and its samples.
let wav: Wav | null = null;
let name = '';
let isBuiltIn = false;
let finding: Finding | null = null;
let recordedLufs: number | null = null;
let levels: LevelTable | null = null;

function tell(answer: TakeAnswer, transfer: Transferable[] = []): void {
  postMessage(answer, { transfer });
}

addEventListener('message', (event: MessageEvent<TakeRequest>) => {
  answer(event.data).catch((error: unknown) => {
    const received = error instanceof Error ? error.message : String(error);
    tell({ tell: 'refused', what: event.data.ask, problems: [{ path: '', rule: received, received: '' }] });
  });
});

async function answer(request: TakeRequest): Promise<void> {
  if (request.ask === 'open') return open(request.source);
  if (request.ask === 'stop') return finding?.stop();
  if (wav === null) return;
  const { channels, format } = wav;
  const { sampleRateHz } = format;
  switch (request.ask) {
    case 'samples': {
      const copies = channels.map((channel) => channel.slice() as Float32Array<ArrayBuffer>);
      request.port.postMessage(
        { channels: copies, sampleRateHz },
        copies.map((copy) => copy.buffer),
      );
      return;
    }
    case 'find':
      return find(channels, sampleRateHz, request.minConfidence);
    case 'measure':
      levels = measureLevels(channels, request.list);
      tell({ tell: 'measured', levels });
      return flag(request.list);
    case 'flags':
      return flag(request.list);
    case 'ahead': {
      const { list, chain, kinds, maxCutDb } = request;
      const cut = preemptiveCut(channels, list, chain, { kinds, maxCutDb });
      return tell({ tell: 'decided', from: list, list: cut.list, unreached: cut.unreached.length });
    }
    case 'loudness':
      recordedLufs ??= loudnessOf(channels, sampleRateHz);
      return tell({
        tell: 'loudness',
        recordedLufs,
        tamedLufs: loudnessOf(renderGain(channels, request.list), sampleRateHz),
      });
    case 'backing': {
      if (!isBuiltIn) return;
      const backing = builtInBacking();
      return tell({ tell: 'backing', name: backing.name, samples: backing.samples }, [
        backing.samples.buffer,
      ]);
    }
    case 'tame':
      return tame(wav, request.list);
  }
}

async function open(source: File | 'built-in'): Promise<void> {
  finding?.stop();
  finding = null;
  isBuiltIn = source === 'built-in';
  const opened = source === 'built-in' ? builtInTake() : source;
  const read = readWav(new Uint8Array(await opened.arrayBuffer()));
  // What was open stays open where the new file cannot be read.
  if (!read.ok) return tell({ tell: 'refused', what: `open ${opened.name}`, problems: read.problems });
  wav = read.value;
  name = opened.name;
  recordedLufs = null;
  levels = null;
  const { channels, format, lengthSamples } = wav;
  const { sampleRateHz, channelCount, bitsPerSample, encoding } = format;
  // Ends of a range are snapped in audio of one channel only: several do not cross zero together.
  const mono = channels.length === 1 ? ((channels[0] as Samples).slice() as Float32Array<ArrayBuffer>) : null;
  const words = `${bitsPerSample}-bit${encoding === 'float' ? ' float' : ''}`;
  const take = { name, sampleRateHz, lengthSamples, channelCount, format: words };
  tell({ tell: 'opened', take, mono }, mono === null ? [] : [mono.buffer]);
}

async function find(
  channels: readonly Samples[],
  sampleRateHz: number,
  minConfidence: number,
): Promise<void> {
  finding?.stop();
  const begun = performance.now();
  const mine = findInSteps(channels, { sampleRateHz, minConfidence, engine }, (part) => {
    tell({ tell: 'progress', part });
  });
  finding = mine;
  const { list, stopped } = await mine.result;
  // Another take was opened, or another search begun.
  if (finding !== mine) return;
  finding = null;
  const seconds = (performance.now() - begun) / 1000;
  const placed = placeEdges(list, channels);
  tell({ tell: 'found', list: placed, stopped, seconds });
  levels = measureLevels(channels, placed);
  tell({ tell: 'measured', levels });
  const messages = bandwidthWarnings(channels, { sampleRateHz }).map(({ message }) => message);
  if (messages.length > 0) tell({ tell: 'warnings', messages });
}

function flag(list: RegionList): void {
  if (levels === null) return;
  const flags = [...overCutFlags(list, levels), ...shortenedFlags(list, levels)];
  tell({ tell: 'flags', flags: flags.map(({ id, message }) => ({ id, message })) });
}

function loudnessOf(channels: readonly Samples[], sampleRateHz: number): number {
  // Beyond five channels the standard names no weights: all count alike.
  const weights = channels.length > 5 ? { channelWeights: channels.map(() => 1) } : {};
  return integratedLoudness(channels, { sampleRateHz, ...weights });
}

function tame(take: Wav, list: RegionList): void {
  const { patches, overSamples } = treatWav(take, list);
  const pieces = [...patchedPieces(take.bytes, patches)] as Uint8Array<ArrayBuffer>[];
  tell({ tell: 'tamed', wav: new Blob(pieces, { type: 'audio/wav' }), overSamples });
}
