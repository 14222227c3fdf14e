/**
 * A WAV writer and reader for these tests alone, so that the page's own are not checked by themselves. Layout: IBM and
 * Microsoft, "Multimedia Programming Interface and Data Specifications 1.0", 1991, RIFF and the WAVE form (from memory).
 */

/** A chunk as it stands in the file. */
export interface OwnChunk {
  readonly id: string;
  readonly body: Buffer;
}

/** Whole-number samples of one file: `codes[channel][frame]`. */
export interface OwnWav {
  readonly sampleRateHz: number;
  readonly bits: number;
  readonly codes: readonly Int32Array[];
  /** Every chunk in the file's order, the samples' too. */
  readonly chunks: readonly OwnChunk[];
}

/** Writes samples of ±1 as 16- or 24-bit codes, with chunks before and after those of the samples. */
export function writeOwnWav(
  channels: readonly Float32Array[],
  options: {
    readonly sampleRateHz: number;
    readonly bits: 16 | 24;
    readonly before?: readonly OwnChunk[];
    readonly after?: readonly OwnChunk[];
  },
): Buffer {
  const { sampleRateHz, bits, before = [], after = [] } = options;
  const bytes = bits / 8;
  const full = 2 ** (bits - 1);
  const frames = channels[0]!.length;
  const format = Buffer.alloc(16);
  format.writeUInt16LE(1, 0);
  format.writeUInt16LE(channels.length, 2);
  format.writeUInt32LE(sampleRateHz, 4);
  format.writeUInt32LE(sampleRateHz * channels.length * bytes, 8);
  format.writeUInt16LE(channels.length * bytes, 12);
  format.writeUInt16LE(bits, 14);
  const data = Buffer.alloc(frames * channels.length * bytes);
  for (let i = 0, at = 0; i < frames; i++)
    for (const samples of channels) {
      const code = Math.max(-full, Math.min(full - 1, Math.round(full * samples[i]!)));
      data.writeIntLE(code, at, bytes);
      at += bytes;
    }
  const body = [{ id: 'fmt ', body: format }, ...before, { id: 'data', body: data }, ...after].map(
    chunkBytes,
  );
  const size = body.reduce((sum, { length }) => sum + length, 4);
  const head = Buffer.from('RIFF....WAVE', 'latin1');
  head.writeUInt32LE(size, 4);
  return Buffer.concat([head, ...body]);
}

function chunkBytes({ id, body }: OwnChunk): Buffer {
  const head = Buffer.from(`${id}....`, 'latin1');
  head.writeUInt32LE(body.length, 4);
  // A chunk of odd length is followed by one byte of padding, which its length does not count.
  return Buffer.concat([head, body, Buffer.alloc(body.length % 2)]);
}

/** Reads a file of whole-number samples; throws where it is none. */
export function readOwnWav(file: Buffer): OwnWav {
  if (file.toString('latin1', 0, 4) !== 'RIFF' || file.toString('latin1', 8, 12) !== 'WAVE')
    throw new Error('no RIFF WAVE');
  if (file.readUInt32LE(4) !== file.length - 8) throw new Error('the size in the head is wrong');
  const chunks: OwnChunk[] = [];
  for (let at = 12; at < file.length; ) {
    const size = file.readUInt32LE(at + 4);
    chunks.push({ id: file.toString('latin1', at, at + 4), body: file.subarray(at + 8, at + 8 + size) });
    at += 8 + size + (size % 2);
  }
  const format = chunks.find(({ id }) => id === 'fmt ')!.body;
  if (format.readUInt16LE(0) !== 1) throw new Error('no whole-number samples');
  const channelCount = format.readUInt16LE(2);
  const bits = format.readUInt16LE(14);
  const bytes = bits / 8;
  const data = chunks.find(({ id }) => id === 'data')!.body;
  const frames = data.length / (bytes * channelCount);
  const codes = Array.from({ length: channelCount }, (_, c) =>
    Int32Array.from({ length: frames }, (_, i) => data.readIntLE((i * channelCount + c) * bytes, bytes)),
  );
  return { sampleRateHz: format.readUInt32LE(4), bits, codes, chunks };
}
