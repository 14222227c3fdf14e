const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/**
 * Bytes as base64 text, with padding.
 *
 * Each 3 bytes become 4 letters of 6 bits. Written here because the library uses no platform object.
 *
 * @param bytes any length; empty gives the empty string.
 * Source: S. Josefsson, The Base16, Base32, and Base64 Data Encodings, RFC 4648 (2006), section 4.
 */
export function base64(bytes: Uint8Array): string {
  const parts: string[] = [];
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const b0 = bytes[i] as number;
    const b1 = bytes[i + 1];
    const b2 = bytes[i + 2];
    const bits = (b0 << 16) | ((b1 ?? 0) << 8) | (b2 ?? 0);
    text += ALPHABET.charAt(bits >> 18) + ALPHABET.charAt((bits >> 12) & 63);
    text += b1 === undefined ? '=' : ALPHABET.charAt((bits >> 6) & 63);
    text += b2 === undefined ? '=' : ALPHABET.charAt(bits & 63);
    // One very long concatenation would make a deep rope; joined parts do not.
    if (text.length >= 8192) {
      parts.push(text);
      text = '';
    }
  }
  parts.push(text);
  return parts.join('');
}
