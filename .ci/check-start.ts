/**
 * Proves what `npm start` wrote: `tsx .ci/check-start.ts --out DIR INPUT.wav...`
 *
 * For each input, on every channel and sample by sample: outside regions, and in bypassed and 0 dB ones, the tamed file has the bits of
 * the input; between a region's fades it is gain · x to one step of the format; in fades it never goes beyond the louder of the two
 * gains. All bytes that are no samples are the input's. This reads WAV and JSON by itself and shares no code with what it checks.
 */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

/** The fields of a region that the check looks at. */
export interface CheckedRegion {
  readonly kind: string;
  readonly startSample: number;
  readonly endSample: number;
  readonly gainDb: number;
  readonly bypassed: boolean;
  readonly fadeInSamples: number;
  readonly fadeOutSamples: number;
}

interface RegionFile {
  readonly format: string;
  readonly version: number;
  readonly sampleRateHz: number;
  readonly lengthSamples: number;
  readonly regions: readonly CheckedRegion[];
}

/** What was compared in one file. */
export interface Counts {
  untouched: number;
  between: number;
  fading: number;
}

interface Wav {
  readonly bytes: Buffer;
  readonly sampleRateHz: number;
  readonly channels: number;
  readonly bits: number;
  readonly float: boolean;
  readonly dataStart: number;
  readonly dataEnd: number;
}

const MOST_PICTURE_BYTES = 2_000_000;

/** Compares a tamed file with its input by its region file; throws at the first difference that is not allowed. */
export function checkTamed(input: Buffer, tamed: Buffer, regionsText: string): Counts {
  const a = parseWav(input);
  const list = JSON.parse(regionsText) as RegionFile;
  demand(
    list.format === 'lenition.regions' && list.version === 1,
    'the region file does not name its format',
  );
  const frameBytes = (a.channels * a.bits) / 8;
  const frames = (a.dataEnd - a.dataStart) / frameBytes;
  demand(
    list.sampleRateHz === a.sampleRateHz && list.lengthSamples === frames,
    'the region file is of another clip',
  );
  demand(tamed.length === input.length, `the size went from ${input.length} to ${tamed.length} bytes`);
  demand(
    input.subarray(0, a.dataStart).equals(tamed.subarray(0, a.dataStart)),
    'bytes before the samples differ',
  );
  demand(input.subarray(a.dataEnd).equals(tamed.subarray(a.dataEnd)), 'bytes after the samples differ');

  const same = (from: number, to: number): void => {
    const start = a.dataStart + from * frameBytes;
    const end = a.dataStart + to * frameBytes;
    if (input.subarray(start, end).equals(tamed.subarray(start, end))) return;
    const at = input.subarray(start, end).findIndex((byte, i) => byte !== tamed[start + i]);
    throw new Error(`sample ${from + Math.floor(at / frameBytes)} lies outside active regions and differs`);
  };
  const counts: Counts = { untouched: 0, between: 0, fading: 0 };
  let done = 0;
  for (const [index, region] of list.regions.entries()) {
    const { startSample, endSample, fadeInSamples, fadeOutSamples } = region;
    demand(
      startSample >= done && endSample > startSample && endSample <= frames,
      `region ${index} is out of order`,
    );
    const gain = activeGain(region);
    if (gain === 1) continue;
    same(done, startSample);
    counts.untouched += startSample - done;
    const beside = (other: CheckedRegion | undefined, touches: boolean): number =>
      other === undefined || !touches ? 1 : activeGain(other);
    const previous = list.regions[index - 1];
    const next = list.regions[index + 1];
    const gainBefore = beside(previous, previous?.endSample === startSample);
    const gainAfter = beside(next, next?.startSample === endSample);
    for (let frame = startSample; frame < endSample; frame++) {
      const fading = frame < startSample + fadeInSamples || frame >= endSample - fadeOutSamples;
      const other = frame < startSample + fadeInSamples ? gainBefore : gainAfter;
      for (let c = 0; c < a.channels; c++) {
        const at = a.dataStart + frame * frameBytes + (c * a.bits) / 8;
        const x = sampleAt(input, at, a);
        const y = sampleAt(tamed, at, a);
        const step = a.float ? Math.max(Math.abs(gain * x) * 2 ** -23, 2 ** -149) : 1;
        const right = fading
          ? Math.abs(y) <= Math.max(gain, other) * Math.abs(x) + step && x * y >= 0
          : Math.abs(y - held(gain * x, a)) <= step;
        if (!right)
          throw new Error(
            `sample ${frame}, channel ${c}, in region ${index} (${region.gainDb} dB${fading ? ', fade' : ''}): ${x} became ${y}`,
          );
      }
      if (fading) counts.fading++;
      else counts.between++;
    }
    done = endSample;
  }
  same(done, frames);
  counts.untouched += frames - done;
  return counts;
}

function activeGain(region: CheckedRegion): number {
  return region.bypassed ? 1 : 10 ** (region.gainDb / 20);
}

/** Integers end at full scale; floats do not. */
function held(value: number, { float, bits }: Wav): number {
  return float ? value : Math.min(Math.max(value, -(2 ** (bits - 1))), 2 ** (bits - 1) - 1);
}

function sampleAt(bytes: Buffer, at: number, { float, bits }: Wav): number {
  return float ? bytes.readFloatLE(at) : bytes.readIntLE(at, bits / 8);
}

function parseWav(bytes: Buffer): Wav {
  demand(
    bytes.toString('latin1', 0, 4) === 'RIFF' && bytes.toString('latin1', 8, 12) === 'WAVE',
    'not a WAV file',
  );
  let format: Pick<Wav, 'sampleRateHz' | 'channels' | 'bits' | 'float'> | undefined;
  for (let at = 12; at + 8 <= bytes.length; ) {
    const id = bytes.toString('latin1', at, at + 4);
    const size = bytes.readUInt32LE(at + 4);
    const start = at + 8;
    if (id === 'fmt ') {
      const tag = bytes.readUInt16LE(start);
      format = {
        channels: bytes.readUInt16LE(start + 2),
        sampleRateHz: bytes.readUInt32LE(start + 4),
        bits: bytes.readUInt16LE(start + 14),
        // The extensible form has the true tag at the head of its subformat.
        float: (tag === 0xfffe ? bytes.readUInt16LE(start + 24) : tag) === 3,
      };
    }
    if (id === 'data' && format !== undefined)
      return { bytes, ...format, dataStart: start, dataEnd: start + size };
    at = start + size + (size % 2);
  }
  throw new Error('no format or no data chunk');
}

function demand(right: boolean, otherwise: string): void {
  if (!right) throw new Error(otherwise);
}

function main(): number {
  const { values, positionals } = parseArgs({ options: { out: { type: 'string' } }, allowPositionals: true });
  const out = values.out;
  if (out === undefined || positionals.length === 0) {
    console.error('usage: check-start.ts --out DIR INPUT.wav...');
    return 2;
  }
  let failed = 0;
  let touched = 0;
  let cuts = 0;
  for (const path of positionals) {
    const name = basename(path).replace(/\.wave?$/i, '');
    try {
      const [tamed, regions, picture] = ['tamed.wav', 'regions.json', 'svg'].map((end) =>
        join(out, `${name}.${end}`),
      ) as [string, string, string];
      for (const file of [tamed, regions, picture]) demand(existsSync(file), `${file} is missing`);
      const svg = readFileSync(picture, 'utf8');
      demand(svg.startsWith('<svg') && svg.trimEnd().endsWith('</svg>'), `${picture} is no SVG`);
      demand(statSync(picture).size <= MOST_PICTURE_BYTES, `${picture} is larger than 2 MB`);
      const text = readFileSync(regions, 'utf8');
      const counts = checkTamed(readFileSync(path), readFileSync(tamed), text);
      const all = (JSON.parse(text) as RegionFile).regions;
      cuts += all.filter((region) => activeGain(region) !== 1).length;
      touched += counts.between + counts.fading;
      console.log(
        `ok ${name}: ${all.length} regions, ${counts.untouched} samples untouched, ${counts.between} at the stated gain, ${counts.fading} in fades`,
      );
    } catch (error) {
      failed++;
      console.log(`NOT ok ${name}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  // A run that turns nothing down would pass every comparison.
  if (touched === 0) console.log('NOT ok: no sample of any file was turned down');
  console.log(
    `${positionals.length - failed} files null outside their regions, ${failed} do not; ${cuts} regions turned down`,
  );
  return failed > 0 || touched === 0 ? 1 : 0;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = main();
