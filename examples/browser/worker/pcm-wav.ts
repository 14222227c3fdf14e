/**
 * One channel as the bytes of a 24-bit WAV file (IBM and Microsoft, Multimedia Programming Interface and Data Specifications
 * 1.0, 1991). Samples beyond full scale are held there.
 */
export function pcmWav(samples: Float32Array, sampleRateHz: number): Uint8Array<ArrayBuffer> {
  const dataBytes = 3 * samples.length;
  const bytes = new Uint8Array(44 + dataBytes + (dataBytes % 2));
  const view = new DataView(bytes.buffer);
  const letters = (at: number, text: string): void => {
    for (let i = 0; i < text.length; i++) bytes[at + i] = text.charCodeAt(i);
  };
  letters(0, 'RIFF');
  view.setUint32(4, bytes.length - 8, true);
  letters(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, sampleRateHz, true);
  view.setUint32(28, 3 * sampleRateHz, true);
  view.setUint16(32, 3, true);
  view.setUint16(34, 24, true);
  letters(36, 'data');
  view.setUint32(40, dataBytes, true);
  for (let i = 0; i < samples.length; i++) {
    const code = Math.max(-(2 ** 23), Math.min(2 ** 23 - 1, Math.round(2 ** 23 * (samples[i] as number))));
    view.setUint16(44 + 3 * i, code & 0xffff, true);
    view.setInt8(46 + 3 * i, code >> 16);
  }
  return bytes;
}
