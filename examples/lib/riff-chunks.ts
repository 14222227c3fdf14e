/** A chunk of a RIFF file: its four-letter name and where its content lies. */
export interface Chunk {
  readonly id: string;
  readonly startByte: number;
  /** Length by the chunk's own header; the file may hold less. */
  readonly sizeBytes: number;
}

/** Four bytes as a name; what cannot be printed shows as a question mark. */
export function fourLetters(bytes: Uint8Array, startByte: number): string {
  let text = '';
  for (const code of bytes.subarray(startByte, startByte + 4))
    text += code >= 32 && code < 127 ? String.fromCharCode(code) : '?';
  return text;
}

/**
 * The chunks of a RIFF file in order, from byte 12 on. Chunks of odd length are followed by a pad byte
 * (IBM and Microsoft, Multimedia Programming Interface and Data Specifications 1.0, 1991). The walk ends where less
 * than a chunk header is left; the last chunk given may reach past the end of the file.
 */
export function* riffChunks(bytes: Uint8Array): Generator<Chunk> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 12;
  while (at + 8 <= bytes.length) {
    const sizeBytes = view.getUint32(at + 4, true);
    yield { id: fourLetters(bytes, at), startByte: at + 8, sizeBytes };
    at += 8 + sizeBytes + (sizeBytes % 2);
  }
}
