import { basename } from 'node:path';
import { regionsToJson } from '../../src/exchange/regions-to-json.js';
import type { Chain } from '../../src/forecast/chain.js';
import { drawForecast } from '../../src/picture/draw-forecast.js';
import type { RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { decideGains } from './decide-gains.js';
import { summarise, UNCERTAIN_BELOW } from './file-summary.js';
import { forecastLines, forecastSibilants } from './forecast-lines.js';
import { clock, formatNotAsked, formatTable, formatTime, formatUncertain } from './format-table.js';
import { inChainFiles } from './in-chain-files.js';
import type { OutputPlan } from './output-plan.js';
import { readWavFile, type Wav } from './read-wav.js';
import { type Result, refuse } from './result.js';
import { sibilanceLines } from './sibilance-lines.js';
import type { TameOptions } from './tame-options.js';
import { patchedPieces, treatWav } from './treat-wav.js';
import { describeFormat } from './wav-format.js';
import { writeWhole } from './write-file.js';

/** The parts of the library that find and draw; passed in, so that a test can put known regions in their place. */
export interface Tools {
  readonly detectConsonants: (
    channels: readonly Samples[],
    options: { readonly sampleRateHz: number; readonly minConfidence?: number },
  ) => RegionList;
  readonly bandwidthWarnings: (
    channels: readonly Samples[],
    options: { readonly sampleRateHz: number },
  ) => readonly { readonly message: string }[];
  readonly drawTake: (
    channels: readonly Samples[],
    list: RegionList,
    options: { readonly name: string; readonly minConfidence: number },
  ) => string;
}

/** What one file needs besides its path. */
export interface Job {
  readonly options: TameOptions;
  /** The edited region list to apply, or undefined: find them. */
  readonly regions: RegionList | undefined;
  /** What the mix will do, or undefined: not asked. */
  readonly chain: Chain | undefined;
  readonly tools: Tools;
  readonly nowSeconds: () => number;
  readonly progress: (stage: string) => void;
}

/** A take that was read and decided, before anything is written. */
export interface LoadedTake {
  readonly file: string;
  readonly plan: OutputPlan;
  readonly wav: Wav;
  readonly list: RegionList;
  /** Time that it took so far, in seconds. */
  readonly tookSeconds: number;
}

/** Treats one file, from WAV to WAV, and gives the lines of its report. Writes nothing before all is worked out. */
export function tameFile(file: string, plan: OutputPlan, job: Job): Result<readonly string[]> {
  const loaded = loadTake(file, plan, job);
  return loaded.ok ? finishTake(loaded.value, job) : loaded;
}

/** Reads a file, finds its regions and decides their gains. */
export function loadTake(file: string, plan: OutputPlan, job: Job): Result<LoadedTake> {
  const start = job.nowSeconds();
  job.progress('reading');
  const read = readWavFile(file);
  if (!read.ok) return read;
  const wav = read.value;
  job.progress('finding');
  const decided =
    job.regions === undefined ? { ok: true as const, value: decide(wav, job) } : fits(wav, job.regions);
  if (!decided.ok) return decided;
  return {
    ok: true,
    value: { file, plan, wav, list: decided.value, tookSeconds: job.nowSeconds() - start },
  };
}

/** Renders, draws and writes a take, and gives the lines of its report. */
export function finishTake(
  { file, plan, wav, list, tookSeconds }: LoadedTake,
  job: Job,
): Result<readonly string[]> {
  const start = job.nowSeconds() - tookSeconds;
  const { channels, format, lengthSamples } = wav;
  const warnings = job.tools.bandwidthWarnings(channels, { sampleRateHz: format.sampleRateHz });

  job.progress('treating');
  const { patches, overSamples } = treatWav(wav, list);
  job.progress('drawing');
  const picture = job.tools.drawTake(channels, list, {
    name: basename(file),
    // The picture and the table call the same finds uncertain.
    minConfidence: UNCERTAIN_BELOW,
  });

  const forecast = job.chain === undefined ? null : forecastSibilants(channels, list, job.chain);
  const forecastPicture =
    forecast === null
      ? ''
      : drawForecast(list, forecast, {
          name: basename(file),
          ...(job.chain?.name === undefined ? {} : { title: job.chain.name }),
        });

  const inChain = inChainFiles(plan.inChainPaths, channels, list, job.chain);

  job.progress('writing');
  const written: string[] = [];
  const outputs: readonly (readonly [string | null, Iterable<Uint8Array>])[] = [
    [plan.wavPath, patchedPieces(wav.bytes, patches)],
    [plan.regionsPath, [Buffer.from(regionsToJson(list))]],
    [plan.picturePath, [Buffer.from(picture)]],
    [plan.forecastPath, [Buffer.from(forecastPicture)]],
    ...inChain.files,
  ];
  for (const [path, pieces] of outputs) {
    if (path === null) continue;
    const result = writeWhole(path, pieces);
    if (!result.ok) return result;
    written.push(path);
  }

  const audioSeconds = lengthSamples / format.sampleRateHz;
  const rows = summarise(list, channels);
  const cautions = warnings.map(({ message }) => message);
  if (overSamples > 0) cautions.push(overLine(overSamples, format.encoding));
  cautions.push(...inChain.cautions);
  const channelWord = format.channelCount === 1 ? 'channel' : 'channels';
  return {
    ok: true,
    value: [
      `  ${describeFormat(format)}, ${format.sampleRateHz} Hz, ${format.channelCount} ${channelWord}, ${clock(audioSeconds)}`,
      ...formatTable(rows),
      // An edited region file says itself what is turned down.
      ...(job.options.regionsFile === undefined ? formatNotAsked(rows, job.options.kinds) : []),
      ...formatUncertain(list),
      ...sibilanceLines(channels, list),
      ...(forecast === null || job.chain === undefined
        ? []
        : forecastLines(channels, list, job.chain, forecast)),
      ...cautions.map((caution) => `  caution: ${caution}`),
      formatTime(job.nowSeconds() - start, audioSeconds),
      ...written.map((path) => `  wrote ${path}`),
    ],
  };
}

/** Finds the regions once for all channels, so that they stay in step, and decides their edges and gains. */
function decide({ channels, format }: Wav, { options, tools, chain }: Job): RegionList {
  const { minConfidence } = options;
  const { sampleRateHz } = format;
  const found = tools.detectConsonants(channels, {
    sampleRateHz,
    ...(minConfidence === undefined ? {} : { minConfidence }),
  });
  return decideGains(found, channels, options, chain);
}

function fits({ format, lengthSamples }: Wav, list: RegionList): Result<RegionList> {
  const rule = 'belongs to another recording: its sampleRateHz and lengthSamples must be those of the WAV';
  const theirs = `${list.sampleRateHz} Hz and ${list.lengthSamples} samples`;
  if (list.sampleRateHz !== format.sampleRateHz || list.lengthSamples !== lengthSamples)
    return refuse('region file', `${rule} (${format.sampleRateHz} Hz and ${lengthSamples} samples)`, theirs);
  return { ok: true, value: list };
}

function overLine(overSamples: number, encoding: 'integer' | 'float'): string {
  const what = encoding === 'integer' ? 'were held at full scale' : 'lie beyond full scale';
  return `${overSamples} samples ${what} because a region is turned up or cut within a band; lower its gain, or cut its whole spectrum`;
}
