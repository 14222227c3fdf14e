const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Bytes of a text in base64 (RFC 4648), which an audio worklet has no function for. */
export function decodeBase64(text: string): Uint8Array {
  const digits = text.replace(/=+$/, '');
  const bytes = new Uint8Array(Math.floor((digits.length * 6) / 8));
  let bits = 0;
  let count = 0;
  let at = 0;
  for (const digit of digits) {
    bits = (bits << 6) | DIGITS.indexOf(digit);
    count += 6;
    if (count >= 8) {
      count -= 8;
      bytes[at++] = (bits >> count) & 255;
    }
  }
  return bytes;
}
