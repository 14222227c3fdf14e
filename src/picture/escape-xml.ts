/**
 * Text made safe for XML element content and for attribute values in either kind of quote.
 *
 * `& < > " '` become character references. What XML 1.0 forbids (control characters but tab and line ends,
 * lone surrogates, U+FFFE, U+FFFF) becomes U+FFFD; tab and line ends become a space, since a label is one line.
 *
 * @param text any string.
 * Source: W3C, Extensible Markup Language (XML) 1.0, fifth edition (2008), sections 2.2 and 2.4.
 */
export function escapeXml(text: string): string {
  let out = '';
  for (const character of text) {
    const code = character.codePointAt(0) as number;
    if (character === '&') out += '&amp;';
    else if (character === '<') out += '&lt;';
    else if (character === '>') out += '&gt;';
    else if (character === '"') out += '&quot;';
    else if (character === "'") out += '&#39;';
    else if (code === 9 || code === 10 || code === 13) out += ' ';
    else if (code < 32 || (code >= 0xd800 && code <= 0xdfff) || code === 0xfffe || code === 0xffff)
      out += '�';
    else out += character;
  }
  return out;
}
